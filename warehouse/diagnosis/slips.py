"""The slips people make on a sheet, as data: what each changes, which checks it touches, how its value is solved.

Two kinds must be told apart. A cell is *copied* wrong after the sheet was worked out right: every check the cell
stands in breaks. A step is *carried*: worked out wrong, with all that follows taken from it: one check breaks.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Literal

from warehouse.checks import measured_cells
from warehouse.diagnosis.grid import Layout

BOXES = (("diff_total", "deductions"), ("gross", "net"))  # neighbours on the sheet
Kind = Literal["copied", "carried", "swapped", "exchanged", "shifted", "unread"]


@dataclass(frozen=True)
class Route:
    """How a cell's right value follows from a check.

    "own": what the figure's own check makes it; "sum": off by what check `at` is off, with `sign`; "difference": the
    other side plus (`side` 1) or less (-1) the length check `at` asks for; "credit": the credit check `at` asks for;
    "shorter": the side both is added and makes a difference that is taken off, so that twice the shorter side counts.
    `source` is the difference or credit check that the cell stands in.
    """

    form: Literal["own", "sum", "difference", "credit", "shorter"]
    at: int
    sign: int = 1
    source: int = 0
    side: int = 1


@dataclass(frozen=True)
class Slip:
    """One slip. `cells` are rows of the grid; `route` is None where nothing is to be solved.

    `touches`: checks it may break, `surely`: checks it cannot but break, both as bits.
    """

    kind: Kind
    cells: tuple[int, ...]
    touches: int
    surely: int
    route: Route | None = None


@dataclass(frozen=True)
class Situation:
    """What tells which slips a sheet allows: the figures it states and the checks that could be tried (bits), and
    the cells that could not be read."""

    stated: int
    tried: int
    unread: tuple[int, ...] = ()


@dataclass(frozen=True)
class _Reached:
    at: int
    sign: int
    form: Literal["sum", "difference", "credit"]
    source: int


@lru_cache(maxsize=4096)
def slips_of(layout: Layout, situation: Situation) -> tuple[Slip, ...]:
    """Every single slip that a sheet in this situation allows; a cell has one for each way to solve its value."""
    measured = [layout.place[cell] for cell in measured_cells(layout.category)]
    figures = [layout.place[check.figure] for n, check in enumerate(layout.checks) if situation.stated >> n & 1]
    return (
        *_carried(layout, situation),
        *(slip for cell in (*measured, *figures) for slip in _copied(layout, situation, cell)),
        *_swapped(layout, situation),
        *_exchanged(layout, situation),
        *_shifted(layout, situation),
    )


def _carried(layout: Layout, situation: Situation) -> Iterator[Slip]:
    for n, check in enumerate(layout.checks):
        if situation.tried >> n & 1:
            yield Slip("carried", (layout.place[check.figure],), 1 << n, 1 << n, Route("own", n))


def _copied(layout: Layout, situation: Situation, cell: int) -> Iterator[Slip]:
    reached = list(_reach(layout, situation, layout.cells[cell]))
    own = layout.bit.get(layout.cells[cell], 0) & situation.tried
    touches, surely = own, own
    for each in reached:
        touches |= 1 << each.at
        alone = sum(other.at == each.at for other in reached) == 1
        surely |= (1 << each.at) if alone and each.form == "sum" else 0
    is_unread = cell in situation.unread
    if own and touches == own and not is_unread:
        return  # nothing rests on it: the same as a step worked out wrong
    kind: Kind = "unread" if is_unread else "copied"
    for route in _routes(reached, own):
        yield Slip(kind, (cell,), touches, 0 if is_unread else surely, route)


def _routes(reached: list[_Reached], own: int) -> Iterator[Route]:
    if own:
        yield Route("own", own.bit_length() - 1)
    for each in sorted(reached, key=lambda one: one.form != "sum"):
        others = [one for one in reached if one.at == each.at and one is not each and one.source >= 0]
        if each.source < 0 or (others and each.form != "difference"):
            continue  # a cap, or told of with the difference below
        if others:
            if [(one.form, one.sign) for one in others] == [("sum", -each.sign)]:
                yield Route("shorter", each.at, -each.sign, each.source)
        elif each.form == "difference":
            yield Route("difference", each.at, each.sign, each.source, 1)
            yield Route("difference", each.at, each.sign, each.source, -1)
        else:
            yield Route(each.form, each.at, each.sign, each.source)


def _reach(layout: Layout, situation: Situation, cell: str) -> tuple[_Reached, ...]:
    """The checks a change of the cell arrives at, through figures that the sheet does not state."""
    return _reached(layout, situation.stated, situation.tried, cell)


@lru_cache(maxsize=65_536)
def _reached(layout: Layout, stated: int, tried: int, cell: str) -> tuple[_Reached, ...]:
    found = []
    for n, check in enumerate(layout.checks):
        for name, sign in check.inputs:
            if name != cell:
                continue
            is_cap = check.form == "credit" and name != check.inputs[0][0]
            source = -1 if is_cap else n
            if tried >> n & 1:
                found.append(_Reached(n, sign, check.form, source))
            elif not stated >> n & 1:
                for beyond in _reached(layout, stated, tried, check.figure):
                    form = beyond.form if check.form == "sum" else check.form
                    found.append(_Reached(beyond.at, sign * beyond.sign, form, source))
    return tuple(found)


def _through(layout: Layout, situation: Situation, cells: tuple[int, ...]) -> int:
    return _bits(each.at for cell in cells for each in _reach(layout, situation, layout.cells[cell]))


def _bits(places: Iterable[int]) -> int:
    bits = 0
    for place in places:
        bits |= 1 << place
    return bits


def _pair_cells(layout: Layout) -> list[tuple[int, int]]:
    return [(layout.place[line.columns[0]], layout.place[line.columns[1]]) for line in layout.category.pairs]


def _swapped(layout: Layout, situation: Situation) -> Iterator[Slip]:
    """Right and left of one row, or the two side totals: the differences do not notice."""
    pairs = _pair_cells(layout)
    totals = [(layout.place["right_total"], layout.place["left_total"])] if pairs else []
    for cells in (*pairs, *totals):
        if not set(cells) & set(situation.unread):
            yield Slip("swapped", cells, _through(layout, situation, cells) | _own(layout, situation, cells), 0)


def _own(layout: Layout, situation: Situation, cells: tuple[int, ...]) -> int:
    return sum(layout.bit.get(layout.cells[cell], 0) & situation.tried for cell in cells)


def _exchanged(layout: Layout, situation: Situation) -> Iterator[Slip]:
    """Two values of one column written in each other's row; totals only in a neighbour's box."""
    pairs = _pair_cells(layout)
    columns = [[pair[side] for pair in pairs] for side in (0, 1)]
    columns.append([layout.place[line.difference] for line in layout.category.pairs])
    for cells in (two for column in columns for two in combinations(column, 2)):
        bits = [_row_bits(layout, situation, cell) for cell in cells]
        if all(bits) and not set(cells) & set(situation.unread):
            yield Slip("exchanged", cells, bits[0] | bits[1], 0)
    for names in BOXES:
        if all(situation.stated & layout.bit.get(name, 0) for name in names):
            cells = (layout.place[names[0]], layout.place[names[1]])
            touched = _own(layout, situation, cells) | _through(layout, situation, cells)
            yield Slip("exchanged", cells, touched, 0)


def _row_bits(layout: Layout, situation: Situation, cell: int) -> int:
    """The checks that notice which row a value stands in: a difference or a cap, not the sum of the column."""
    through = [each for each in _reach(layout, situation, layout.cells[cell]) if each.form != "sum"]
    return _own(layout, situation, (cell,)) | _bits(each.at for each in through)


def _shifted(layout: Layout, situation: Situation) -> Iterator[Slip]:
    """The points of one side from some row on, written one row too far: up or down again."""
    points = layout.category.of_kind("point")
    for side in range(2):
        cells = [layout.place[line.columns[side]] for line in points]
        for first, last in combinations(range(len(cells)), 2):
            run = tuple(cells[first : last + 1])
            if last - first < 2 or set(run) & set(situation.unread):
                continue  # two rows are an exchange
            touched = 0
            for cell in run:
                touched |= _row_bits(layout, situation, cell)
            yield Slip("shifted", run, touched, 0)  # towards the first row
            yield Slip("shifted", run[::-1], touched, 0)
