"""What the other sheets of a file tell about the habit of the one who wrote a sheet.

A sheet tells a habit by its own figures, where they alone decide how a block of its cells is read, or by a spelling
that has only one meaning ("8.7", "8.25").
"""

from dataclasses import dataclass

import numpy as np
import polars as pl

from loaders.notation.habits import ONLY_DECIMAL, ONLY_UNITS, ROUNDED
from loaders.open_cells import Blocks, OpenCells, block_of, flags_of
from warehouse.audit.habits import ENOUGH, Groups, Habits, Numbers, Telling, habits_of
from warehouse.audit.reading_choice import FIGURES, ONE_SLIP, Choice
from warehouse.audit.readings import FIRST, SECOND, UNDECIDED, Flags, Marks


@dataclass(frozen=True)
class Evidence:
    """For each unsure sheet and block (n, b): the `habit` to read it in (0: none), how many *other* sheets of its
    group tell so (`alike`) or otherwise (`unlike`), whether the group is `narrow` (this measurer's sheets), and
    whether a rounded decimal is `unusual`, for the group writes decimals out in full."""

    habit: Marks
    alike: Numbers
    unlike: Numbers
    narrow: Flags
    unusual: Flags

    @classmethod
    def none(cls, shape: tuple[int, int]) -> "Evidence":
        """No habit is known of any sheet (n, b)."""
        nothing, never = np.zeros(shape, dtype=np.int64), np.zeros(shape, dtype=np.bool_)
        return cls(nothing.astype(np.uint8), nothing, nothing, never, never)


def evidence(opened: OpenCells, rows: pl.Series, blocks: Blocks, own: Choice, measurers: pl.Series | None) -> Evidence:
    """The evidence for the sheets at `rows`, whose open cells in `blocks` their own figures decide as in `own`.

    `opened` and `measurers` (text; None: the file does not tell) are of all the category's sheets.
    """
    places = rows.to_numpy()
    spelled = _spelled(opened, blocks)
    rounded = _rounded(opened.take(rows), blocks)
    telling = _with_figures(spelled, places, own, rounded)
    groups = _groups(measurers, opened.states.height)
    return _for_unsure(habits_of(telling, groups).at(places), telling.at(places), spelled.at(places))


def _for_unsure(found: Habits, telling: Telling, spelled: Telling) -> Evidence:
    """A sheet with a spelling that most of its group do not write is another's hand, and not read in their habit."""
    is_first = found.habit == FIRST
    firsts, seconds = np.where(is_first, found.alike, found.unlike), np.where(is_first, found.unlike, found.alike)
    contradicts = (spelled.second & (firsts > seconds)) | (spelled.first & (seconds > firsts))
    other_hand = np.logical_or.reduce(contradicts, axis=1, keepdims=True)
    habit = np.where(other_hand, UNDECIDED, found.habit).astype(np.uint8)
    alike = found.alike - np.where(is_first, telling.first, telling.second)
    unusual = (found.habit == SECOND) & (found.rounded < ENOUGH)
    return Evidence(habit, alike, found.unlike, found.narrow, unusual)


def _spelled(opened: OpenCells, blocks: Blocks) -> Telling:
    height = opened.states.height
    first, second, rounded = (np.zeros((height, len(blocks.names)), dtype=np.bool_) for _ in range(3))
    for place, block in enumerate(blocks.names):
        for name in opened.traits.columns:
            if block_of(name) == block:
                first[:, place] |= opened.trait(name, ONLY_UNITS).to_numpy()
                second[:, place] |= opened.trait(name, ONLY_DECIMAL).to_numpy()
                both = ONLY_DECIMAL | ROUNDED
                rounded[:, place] |= ((opened.traits[name] & both) == both).to_numpy()
    return Telling(first, second, first | second, rounded)


def _rounded(cells: OpenCells, blocks: Blocks) -> Flags:
    """The blocks in which an open cell is a rounded decimal, if it is a decimal."""
    rounded = np.zeros((cells.states.height, len(blocks.names)), dtype=np.bool_)
    for place, columns in enumerate(blocks.cells):
        for name, flags in columns.items():
            rounded[:, place] |= (flags & cells.trait(name, ROUNDED)).to_numpy()
    return rounded


def _with_figures(spelled: Telling, places: Numbers, own: Choice, rounded: Flags) -> Telling:
    decided = own.basis == FIGURES
    first, second = decided & (own.reading == FIRST), decided & (own.reading == SECOND)
    firm = np.zeros_like(decided)
    needed = np.minimum(own.tally.touched, ONE_SLIP + 1)
    for block in range(decided.shape[1]):
        is_first = own.reading[:, block] == FIRST
        other = np.where(is_first, own.tally.best(block, SECOND), own.tally.best(block, FIRST))
        firm[:, block] = decided[:, block] & (own.tally.touched - other >= needed)
    parts = (
        (spelled.first, first),
        (spelled.second, second),
        (spelled.firm, firm),
        (spelled.rounded, second & rounded),
    )
    return Telling(*(_or_at(flags, places, more) for flags, more in parts))


def _or_at(flags: Flags, places: Numbers, more: Flags) -> Flags:
    joined = flags.copy()
    joined[places] |= more
    return joined


def _groups(measurers: pl.Series | None, height: int) -> Groups:
    """Sheets by measurer, as written but for case and blanks; those without one are a group that is nobody's."""
    if measurers is None:
        return Groups(np.zeros(height, dtype=np.int64), np.array([False]))
    names = measurers.str.strip_chars().str.to_lowercase().replace("", None)
    known = names.unique(maintain_order=True)
    places = pl.int_range(len(known), eager=True)
    group = pl.DataFrame({"name": names}).join(
        pl.DataFrame({"name": known, "group": places}), on="name", how="left", nulls_equal=True, maintain_order="left"
    )
    return Groups(group["group"].to_numpy(), flags_of([known.is_not_null()], len(known))[:, 0])
