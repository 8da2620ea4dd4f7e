"""Whether a proposed value is one that the species grows and the sheet's other lines allow."""

import numpy as np
import numpy.typing as npt

from warehouse.categories import Category
from warehouse.checks import ABNORMAL
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
