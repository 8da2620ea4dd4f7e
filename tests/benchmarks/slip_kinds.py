"""The faults of the benchmark: each takes right sheets and gives wrong ones, with the truth about every one of them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tests.benchmarks.slip_changes import miscopied, misworked, one_of
from tests.benchmarks.slip_sheets import (
    AT,
    CATEGORIES,
    CELLS,
    CIRCUMFERENCES,
    DIFFERENCES,
    INCH,
    LISTS,
    POINTS,
    ROWS,
    SIDES,
    Flags,
    Ints,
    Rng,
    Sheets,
    carried_into,
    counted,
    with_erased,
    work_out,
)

OFFSETS = tuple(offset for offset in range(-16, 17) if offset)


@dataclass(frozen=True)
class Faulty:
    """Wrong sheets; which cells of each are at fault (sheets, CELLS); each one's true net; which really are wrong."""

    sheets: Sheets
    wrong: Flags
    net: Ints
    kept: Flags

    def take(self, places: Ints | Flags) -> "Faulty":
        """Some of them."""
        return Faulty(self.sheets.take(places), self.wrong[places], self.net[places], self.kept[places])

    def names(self) -> list[list[str]]:
        """The cells at fault of each sheet."""
        return [[CELLS[place] for place in np.flatnonzero(row)] for row in self.wrong]


@dataclass(frozen=True)
class Kind:
    """A kind of fault. `cells` are those it can befall where it is one cell, copied or carried."""

    name: str
    make: Callable[[Sheets, Rng], Faulty]
    categories: Sequence[str] = CATEGORIES
    family: str = ""
    cells: tuple[str, ...] = ()


def faulty(truth: Sheets, sheets: Sheets, wrong: Flags, kept: Flags | None = None) -> Faulty:
    """Wrong sheets beside the right ones they were made of; one that is the same, or less than nothing, is not kept."""
    changed = (sheets.values != truth.values).any(axis=1) | sheets.erased.any(axis=1)
    good = changed & (sheets.values >= 0).all(axis=1)
    return Faulty(sheets, wrong, truth.of("net").copy(), good if kept is None else good & kept)


def among(truth: Sheets, cells: Sequence[str], rng: Rng) -> tuple[Ints, Flags]:
    """A cell (place in CELLS) drawn for each sheet among `cells`, and whether the sheet has one of them at all.

    A point or a difference must be written on the sheet; so must an abnormal total that counts for nothing without.
    """
    places = np.array([AT[cell] for cell in cells])
    written = truth.values[:, places] > 0
    for nth, cell in enumerate(cells):
        if cell in DIFFERENCES:
            written[:, nth] = ~truth.empty[:, DIFFERENCES.index(cell)]
        elif cell == "diff_total":
            written[:, nth] = True
    there = np.asarray(written.any(axis=1), dtype=np.bool_)
    return places[one_of(written, rng)], there


def copied(truth: Sheets, cells: Ints, changed: Callable[[Ints], Ints], rng: Rng) -> Faulty:
    """One cell of each sheet (place in CELLS) written wrong; where it is a list, one abnormal point of it."""
    sheets, every = truth.copy(), np.arange(len(truth))
    before = sheets.values[every, cells]
    listed = np.isin(cells, [AT[cell] for cell in LISTS])
    side = (cells == AT["abnormal_l"]).astype(np.int64)
    point = one_of(sheets.listed[every, side] > 0, rng)
    old = np.where(listed, sheets.listed[every, side, point], before)
    new = changed(old)
    sheets.listed[every[listed], side[listed], point[listed]] = new[listed]
    sheets.values[every, cells] = before + new - old
    is_there = (new > 0) | ~listed  # a point of nothing is no longer listed
    return faulty(truth, sheets, _flags(truth, cells), is_there)


def carried(truth: Sheets, cells: Ints, off: Ints) -> Faulty:
    """One figure of each sheet off by so much, and every figure that is worked out from it."""
    sheets = truth.copy()
    sheets.values[:] += off[:, None] * carried_into(truth.category)[cells]
    return faulty(truth, sheets, _flags(truth, cells), off != 0)


def least_at(cells: Ints) -> Ints:
    """The least that a person writes in each cell (place in CELLS): a point is an inch or more."""
    points = [AT[cell] for cell in (*measured(POINTS), *LISTS)]
    return np.where(np.isin(cells, points), INCH, 0)


def harmless(made: Faulty) -> Flags:
    """Which sheets agree with themselves all the same: an inside spread beyond the cap, two equal columns exchanged."""
    worked = made.sheets.copy()
    work_out(worked)
    agrees = (worked.values == made.sheets.values).all(axis=1) & ~made.sheets.erased.any(axis=1)
    return np.asarray(agrees & (counted(made.sheets) == made.sheets.points).all(axis=1), dtype=np.bool_)


def misworked_at(truth: Sheets, cells: Ints, rng: Rng) -> Ints:
    """For each sheet by how much its figure (place in CELLS) is worked out wrong."""
    off = np.zeros(len(truth), dtype=np.int64)
    for place in np.unique(cells).tolist():
        those = np.flatnonzero(cells == place)
        off[those] = misworked(truth.take(those), CELLS[place], rng)
    return off


def exhaustive(kind: Kind, truth: Sheets, rng: Rng) -> Faulty:
    """A copied or carried kind on every cell it can befall, by every offset, on every sheet."""
    cells = np.array([AT[cell] for cell in kind.cells])
    sheet, cell, offset = (part.ravel() for part in np.meshgrid(range(len(truth)), cells, OFFSETS, indexing="ij"))
    there = truth.values[sheet, cell] > 0
    for row, name in enumerate(DIFFERENCES):
        there = np.where(cell == AT[name], ~truth.empty[sheet, row], there)
    sheet, cell, offset = sheet[there], cell[there], offset[there]
    base = truth.take(sheet)
    made = carried(base, cell, offset) if kind.family == "carried" else copied(base, cell, lambda v: v + offset, rng)
    return made.take(made.kept)


def _flags(truth: Sheets, cells: Ints) -> Flags:
    flags: Flags = np.arange(len(CELLS))[None, :] == cells[:, None]
    return flags


def _copied(name: str, cells: Sequence[str]) -> Kind:
    def make(truth: Sheets, rng: Rng) -> Faulty:
        drawn, there = among(truth, cells, rng)
        made = copied(truth, drawn, lambda values: miscopied(values, least_at(drawn), rng), rng)
        return replace(made, kept=made.kept & there)

    return Kind(f"copied: {name}", make, family="copied", cells=tuple(cells))


def _carried(name: str, cells: Sequence[str]) -> Kind:
    def make(truth: Sheets, rng: Rng) -> Faulty:
        drawn, there = among(truth, cells, rng)
        made = carried(truth, drawn, misworked_at(truth, drawn, rng))
        return replace(made, kept=made.kept & there)

    return Kind(f"carried: {name}", make, family="carried", cells=tuple(cells))


def measured(rows: Sequence[str]) -> tuple[str, ...]:
    """The cells of both sides of some rows."""
    return tuple(f"{row}_{side}" for row in rows for side in SIDES)


COPIED: Mapping[str, Sequence[str]] = {
    "beam": measured(["beam"]), "point": measured(POINTS), "circumference": measured(CIRCUMFERENCES),
    "difference": DIFFERENCES, "side total": ("right_total", "left_total"), "spread credit": ("spread_credit",),
    "inside spread": ("inside_spread",), "difference total": ("diff_total",), "abnormal total": ("abnormal_total",),
    "an abnormal point": LISTS, "deductions": ("deductions",), "gross": ("gross",), "net": ("net",),
}  # fmt: skip
CARRIED: Mapping[str, Sequence[str]] = {
    "difference": DIFFERENCES, "side total": ("right_total", "left_total"), "difference total": ("diff_total",),
    "abnormal total": ("abnormal_total",), "deductions": ("deductions",), "gross": ("gross",), "net": ("net",),
}  # fmt: skip
ANY_COPIED = tuple(cell for cells in COPIED.values() for cell in cells)
ANY_CARRIED = tuple(cell for cells in CARRIED.values() for cell in cells)


def _two(name: str, families: tuple[str, str]) -> Kind:
    """Two faults in two cells; carried ones first, in the order a sheet is worked out."""

    def make(truth: Sheets, rng: Rng) -> Faulty:
        draws = [among(truth, ANY_CARRIED if family == "carried" else ANY_COPIED, rng) for family in families]
        first, second = draws[0][0], draws[1][0]
        if families == ("carried", "carried"):
            first, second = np.minimum(first, second), np.maximum(first, second)
        made = [_one(truth, families[0], first, rng)]
        made.append(_one(made[0].sheets, families[1], second, rng))
        kept = made[0].kept & made[1].kept & draws[0][1] & draws[1][1] & (first != second)
        return faulty(truth, made[1].sheets, made[0].wrong | made[1].wrong, kept)

    return Kind(f"two: {name}", make, family="two")


def _one(truth: Sheets, family: str, cells: Ints, rng: Rng) -> Faulty:
    if family == "carried":
        return carried(truth, cells, misworked_at(truth, cells, rng))
    return copied(truth, cells, lambda values: miscopied(values, least_at(cells), rng), rng)


def _erased(truth: Sheets, rng: Rng) -> Faulty:
    cells, _ = among(truth, ("inside_spread", *measured(ROWS)), rng)
    wrong = _flags(truth, cells)
    return faulty(truth, with_erased(truth, wrong), wrong)


# As slips fall on a sheet: any of its cells is as likely as another. Which of the abnormal points or their total is
# wrong no sheet can tell, so they stand apart, above.
LISTED = (*LISTS, "abnormal_total")
ONE_CELL = (
    *(_copied(name, cells) for name, cells in COPIED.items()),
    *(_carried(name, cells) for name, cells in CARRIED.items()),
    _copied("any cell but abnormal points", [cell for cell in ANY_COPIED if cell not in LISTS]),
    _carried("any step but their total", [cell for cell in ANY_CARRIED if cell not in LISTED]),
)
ERASED = (Kind("erased: a measure", _erased, family="erased"),)
TWO = (
    _two("copied, copied", ("copied", "copied")),
    _two("carried, copied", ("carried", "copied")),
    _two("carried, carried", ("carried", "carried")),
)
