"""Find every explanation of many sheets: slips that fit their broken checks, put right, and held against every check."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from warehouse.checks import measured_cells
from warehouse.diagnosis.candidates import MOST_PAIRS, NO_SLIP, Places, Sets, pairs, sets_of, singles
from warehouse.diagnosis.grid import Flags, Grid, Ints
from warehouse.diagnosis.plausible import Limits
from warehouse.diagnosis.residuals import as_bits, residuals
from warehouse.diagnosis.slips import Situation, Slip
from warehouse.diagnosis.solving import put_right

MOST_UNREAD = 2  # as many as two slips can solve; a sheet that lacks more is not diagnosed by its measures
AT_ONCE = 60_000  # candidates that are held against the checks together: their grid stays in the fast memory


@dataclass(frozen=True)
class Found:
    """Explanations that hold: `sheet` (column of the grid asked about), `slips` (places in `known`, shape (n, 2),
    -1 for none), `after` (the cells put right, shape (cells, n)), `net` (-1 where it still is not known), and the
    sheets for which too many would fit.
    """

    sheet: Places
    slips: Places
    after: Ints
    net: Ints
    known: tuple[Slip, ...]
    cut: Places


@dataclass(frozen=True)
class _Pattern:
    """Sheets alike in what they state, what could be tried, what is broken and what could not be read."""

    sheets: Places
    sets: Sets
    broken: int
    unread: int


def with_unread_filled(grid: Grid) -> tuple[Grid, Places]:
    """The grid with up to two unread measures of a sheet taken as known (0), and which they are.

    Returns the grid and an array (2, sheets) of cells, -1 for none: such a cell must be solved.
    """
    measured = len(measured_cells(grid.layout.category))
    missing = ~grid.known[:measured]
    count = missing.sum(axis=0)
    missing &= (count <= MOST_UNREAD)[None, :]
    cells = np.full((MOST_UNREAD, grid.values.shape[1]), NO_SLIP, dtype=np.int64)
    cell, sheet = np.nonzero(missing)
    nth = np.cumsum(missing, axis=0)[cell, sheet] - 1
    cells[nth, sheet] = cell
    known = grid.known.copy()
    known[:measured] |= missing
    return Grid(grid.layout, grid.values, known, grid.listed), cells


def search(grid: Grid, unread: Places, limits: Limits) -> Found:
    """Explanations of every sheet of the grid: of one slip, or where none of one holds, of two."""
    register = _Register()
    patterns = list(_patterns(grid, unread))
    alone = _held(grid, limits, register, [(p, _alone(p.sets, p.broken, p.unread)) for p in patterns])
    explained = np.zeros(grid.values.shape[1], dtype=bool)
    explained[alone[0]] = True
    left = [replace(p, sheets=p.sheets[~explained[p.sheets]]) for p in patterns]
    in_pairs = [(p, pairs(p.sets, p.broken, p.unread)) for p in left if len(p.sheets)]
    both = _held(grid, limits, register, in_pairs)
    cut = [p.sheets for p, chosen in in_pairs if len(chosen) >= MOST_PAIRS]
    sheet = np.concatenate([alone[0], both[0]])
    slips = np.concatenate([alone[1], both[1]], axis=1)
    after = np.concatenate([alone[2], both[2]], axis=1)
    return Found(sheet, slips.T, after[:-1], after[-1], tuple(register.slips), _joined(cut))


def _joined(parts: list[Places]) -> Places:
    return np.concatenate([np.zeros(0, dtype=np.int64), *parts])


class _Register:
    """Numbers the slips of all situations, so that a candidate is two numbers."""

    def __init__(self) -> None:
        self.slips: list[Slip] = []
        self._numbers: dict[int, tuple[Sets, Places]] = {}  # the set is kept, so that no other gets its identity

    def numbers(self, sets: Sets) -> Places:
        """The number of each slip of `sets`; slot -1 (the last) is the number of no slip."""
        if id(sets) not in self._numbers:
            first = len(self.slips)
            self.slips += sets.slips
            self._numbers[id(sets)] = sets, np.append(np.arange(first, first + sets.size), NO_SLIP)
        return self._numbers[id(sets)][1]


def _patterns(grid: Grid, unread: Places) -> Iterator[_Pattern]:
    found = residuals(grid)
    first = len(measured_cells(grid.layout.category))
    keys = np.stack([as_bits(grid.known[first:]), as_bits(found.tried), found.broken, *unread])
    alike, member = np.unique(keys, axis=1, return_inverse=True)
    order = np.argsort(member, kind="stable")
    ends = np.cumsum(np.bincount(member))[:-1]
    for key, sheets in zip(alike.T.tolist(), np.split(order, ends), strict=True):
        stated, tried, broken, *cells = key
        lost = tuple(cell for cell in cells if cell != NO_SLIP)
        if broken or lost:
            sets = sets_of(grid.layout, Situation(stated, tried, lost))
            yield _Pattern(sheets, sets, broken, (1 << len(lost)) - 1)


def _alone(sets: Sets, broken: int, unread: int) -> Places:
    places = singles(sets, broken, unread)
    return np.stack([places, np.full_like(places, NO_SLIP)], axis=1)


def _candidates(fitting: list[tuple[_Pattern, Places]], register: _Register) -> Iterator[tuple[Places, Places]]:
    """Blocks of (sheets, slips of shape (2, n)), each no larger than AT_ONCE unless one pattern is."""
    sheets: list[Places] = []
    slips: list[Places] = []
    size = 0
    for pattern, chosen in fitting:
        if not len(chosen):
            continue
        numbered = register.numbers(pattern.sets)[chosen]
        step = max(1, AT_ONCE // len(chosen))
        for start in range(0, len(pattern.sheets), step):
            some = pattern.sheets[start : start + step]
            sheets.append(np.repeat(some, len(chosen)))
            slips.append(np.tile(numbered, (len(some), 1)).T)
            size += len(some) * len(chosen)
            if size >= AT_ONCE:
                yield np.concatenate(sheets), np.concatenate(slips, axis=1)
                sheets, slips, size = [], [], 0
    if size:
        yield np.concatenate(sheets), np.concatenate(slips, axis=1)


def _held(
    grid: Grid, limits: Limits, register: _Register, fitting: list[tuple[_Pattern, Places]]
) -> tuple[Places, Places, Ints]:
    """The candidates after which every check holds: sheets, slips (2, n), cells put right and the net (cells + 1, n)."""
    parts: list[tuple[Places, Places, Ints]] = []
    for sheets, slips in _candidates(fitting, register):
        trial = grid.take(sheets)
        put_right(trial, residuals(trial), register.slips, slips[0])
        if (slips[1] != NO_SLIP).any():
            put_right(trial, residuals(trial), register.slips, slips[1])
        before = grid.take(sheets)
        found = residuals(trial)
        holds = found.broken == 0
        holds &= limits.allow(before, trial, sheets)
        holds &= ~_any_value_would_do(trial, register.slips, slips)
        holds &= _each_changes(before, trial, register.slips, slips)
        net = np.where(found.usable[-1], found.used[-1], -1)
        parts.append((sheets[holds], slips[:, holds], np.vstack([trial.values, net])[:, holds]))
    cells = len(grid.layout.cells) + 1
    nothing = (np.zeros(0, np.int64), np.zeros((2, 0), np.int64), np.zeros((cells, 0), np.int32))
    sheets, slips, after = (
        np.concatenate([one, *others], axis=-1) for one, *others in zip(nothing, *parts, strict=True)
    )
    return sheets, slips, after


def _any_value_would_do(after: Grid, known: list[Slip], slips: Places) -> Flags:
    """An unread spread at its cap, or an unread side that only a net could tell and that is not the shorter one."""
    loose = np.zeros(after.values.shape[1], dtype=bool)
    for place in np.unique(slips).tolist():
        slip = known[place]
        if place == NO_SLIP or slip.kind != "unread" or slip.route is None:
            continue
        columns = np.flatnonzero((slips == place).any(axis=0))
        value = after.values[slip.cells[0], columns]
        check = after.layout.checks[slip.route.source]
        if slip.route.form == "credit":
            caps = [after.layout.place[cell] for cell, _ in check.inputs[1:]]
            loose[columns] |= (value >= after.values[caps][:, columns].max(axis=0)) if caps else False
        elif slip.route.form == "shorter":
            other = next(
                after.layout.place[cell] for cell, _ in check.inputs if after.layout.place[cell] != slip.cells[0]
            )
            loose[columns] |= value >= after.values[other, columns]
    return loose


def _each_changes(before: Grid, after: Grid, known: list[Slip], slips: Places) -> Flags:
    """A slip that changes nothing explains nothing; an unread cell may well be nothing."""
    cells = len(before.layout.cells)
    solved = np.array([slip.cells[0] for slip in known] + [cells], dtype=np.int64)
    unread = np.array([slip.kind == "unread" for slip in known] + [True])
    changed = np.vstack([before.values != after.values, np.ones((1, after.values.shape[1]), dtype=bool)])
    column = np.arange(after.values.shape[1])
    first, second = (changed[solved[each], column] | unread[each] for each in slips)
    both: Flags = first & second
    return both
