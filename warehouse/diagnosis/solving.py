"""Put a slip right on many sheets at once: solve the value from its check, and write it into the grid."""

from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

from warehouse.checks import followers
from warehouse.diagnosis.grid import Grid, Ints
from warehouse.diagnosis.residuals import Residuals
from warehouse.diagnosis.slips import Route, Slip

Columns = npt.NDArray[np.int64]


def put_right(grid: Grid, found: Residuals, slips: Sequence[Slip], chosen: Columns) -> None:
    """Write the right values of slip `chosen[n]` into column n of the grid (-1: leave it), from its residuals."""
    for place, columns in _by_slip(chosen):
        slip = slips[place]
        if slip.route is not None:
            _solve(grid, found, slip, slip.route, columns)
        elif slip.kind == "shifted":
            _move(grid, slip.cells, (*slip.cells[1:], slip.cells[0]), columns)
        else:
            _move(grid, slip.cells, slip.cells[::-1], columns)


def _by_slip(chosen: Columns) -> Iterator[tuple[int, Columns]]:
    order = np.argsort(chosen, kind="stable")
    places, starts = np.unique(chosen[order], return_index=True)
    for place, columns in zip(places.tolist(), np.split(order, starts[1:]), strict=True):
        if place >= 0:
            yield place, columns


def _move(grid: Grid, to: tuple[int, ...], source: tuple[int, ...], columns: Columns) -> None:
    cells = np.array(to)[:, None], columns[None, :]
    grid.values[cells] = grid.values[np.array(source)[:, None], columns[None, :]]


def _solve(grid: Grid, found: Residuals, slip: Slip, route: Route, columns: Columns) -> None:
    (cell,) = slip.cells
    before = grid.values[cell, columns]
    after = _value(grid, found, cell, route, columns)
    grid.values[cell, columns] = after
    if slip.kind == "carried":
        layout = grid.layout
        for figure, sign in followers(layout.category, layout.cells[cell]).items():
            row = layout.place[figure]
            grid.values[row, columns] += np.where(grid.known[row, columns], sign * (after - before), 0)


def _value(grid: Grid, found: Residuals, cell: int, route: Route, columns: Columns) -> Ints:
    off = found.off[route.at, columns]
    value: Ints
    if route.form == "own":
        value = found.worked[route.at, columns]
    elif route.form == "sum":
        value = grid.values[cell, columns] + route.sign * off
    elif route.form == "shorter":
        other = grid.values[_other_side(grid, cell, route), columns]
        value = (grid.values[cell, columns] - found.worked[route.source, columns] + route.sign * off + other) // 2
    else:
        value = found.worked[route.source, columns] + route.sign * off
        if route.form == "difference":
            value = grid.values[_other_side(grid, cell, route), columns] + route.side * value
    return value


def _other_side(grid: Grid, cell: int, route: Route) -> int:
    check = grid.layout.checks[route.source]
    return next(grid.layout.place[name] for name, _ in check.inputs if grid.layout.place[name] != cell)
