"""Whether a proposed value is one that the species grows and the sheet's other lines allow."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from warehouse.categories import Category
from warehouse.checks import ABNORMAL, measured_cells
from warehouse.diagnosis.grid import Flags, Grid, Ints

NO_LIMIT = np.iinfo(np.int32).max


def plausible(before: Grid, after: Grid, greatest: Ints) -> Flags:
    """Sheets none of whose changed values is out of bounds. `greatest`: the recorded greatest spread, 0 for none."""
    layout = before.layout
    least, shortest, most = (row[:, None] for row in _limits(layout.category, layout.cells))
    values = after.values
    right = (values >= least) & (values <= most) & ((values == 0) | (values >= shortest))
    right |= ~after.known | (values == before.values)
    fits: Flags = right.all(axis=0)
    for line in layout.category.lines:
        if line.use == "credited":
            spread = values[layout.place[line.name]]
            grown = spread != before.values[layout.place[line.name]]
            fits &= ~(grown & (greatest > 0) & (spread > greatest))
    return fits


@dataclass(frozen=True)
class OneOf:
    """Cells that say one of two lengths: `first` and `second`, shape (measured cells, sheets), -1 where any is allowed."""

    first: Ints
    second: Ints

    def allows(self, after: Grid, sheets: npt.NDArray[np.int64]) -> Flags:
        """Columns of `after` (of these sheets) whose solved cells are what was written, one way or the other."""
        values = after.values[: len(self.first)]
        first, second = self.first[:, sheets], self.second[:, sheets]
        fits: Flags = ((first < 0) | (values == first) | (values == second)).all(axis=0)
        return fits


@dataclass(frozen=True)
class Limits:
    """What the sheets themselves allow: `greatest`, the recorded greatest spread (0 for none), and undecided cells."""

    greatest: Ints
    undecided: OneOf

    def allow(self, before: Grid, after: Grid, sheets: npt.NDArray[np.int64]) -> Flags:
        """Columns (of these sheets) whose changed values are all ones that may be."""
        fits: Flags = plausible(before, after, self.greatest[sheets]) & self.undecided.allows(after, sheets)
        return fits


def one_of(
    readings: tuple[pl.DataFrame, pl.DataFrame] | None, grid: Grid, rows: pl.Series, unread: npt.NDArray[np.int64]
) -> OneOf:
    """The two lengths of each unread cell, from frames of readings (null: sure) as high as the sheets' frame."""
    names = measured_cells(grid.layout.category)
    shape = (len(names), len(rows))
    first, second = (np.full(shape, -1, dtype=np.int32) for _ in range(2))
    if readings is not None:
        is_unread = (np.arange(len(names))[:, None, None] == unread[None]).any(axis=1)
        for place, name in enumerate(names):
            if name in readings[0].columns:
                for array, frame in zip((first, second), readings, strict=True):
                    values = frame[name].gather(rows).fill_null(-1).to_numpy()
                    array[place] = np.where(is_unread[place], values, -1)
    return OneOf(first, np.where(second < 0, first, second))


def _limits(category: Category, cells: tuple[str, ...]) -> tuple[Ints, Ints, Ints]:
    """Per cell: the least value, the shortest that is not nothing, the most."""
    point = category.units(category.point_least) if category.point_least else 0
    limits = dict.fromkeys(cells, (0, 0, NO_LIMIT))
    for line in category.lines:
        least, most = (category.units(text) if text else None for text in (line.least, line.most))
        shortest = point if line.kind == "point" else 0
        for cell in line.columns:
            floor = max(least or 0, 1) if line.needed else least or 0
            limits[cell] = (floor, shortest, most if most is not None else NO_LIMIT)
    abnormal_most = category.units(category.abnormal_most) if category.abnormal_most else NO_LIMIT
    limits |= dict.fromkeys((*ABNORMAL, "abnormal_total"), (0, point, abnormal_most))
    rows: list[npt.NDArray[np.int32]] = [
        np.array([limits[cell][n] for cell in cells], dtype=np.int32) for n in range(3)
    ]
    return rows[0], rows[1], rows[2]
