"""Choose how each block of a sheet's open cells is read: by its own figures, by the habit of its group, or not at all.

The rules, in this order; the most cautious one that fits is taken, and what none decides is asked:

* FIGURES: in some way every figure touched agrees, and all such ways read the block alike.
* HABIT: the group's habit (`habits`) holds, unless the sheet's own figures speak against it: another reading leaves
  fewer figures that disagree.
* GIVEN: every figure touched agrees, and only in ways that read the other blocks in the habit of the group.
* MAJORITY: no way makes all figures agree (a slip somewhere), but at least three quarters of them agree, and more
  than ONE_SLIP more than in any way that reads the block otherwise.

A sheet whose figures decide against its group's habit is believed only if more than ONE_SLIP of them would disagree
in the habit: one slip can make so many disagree, and those of another reading agree by accident.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from warehouse.audit.readings import FIRST, SECOND, UNDECIDED, Counts, Flags, Marks, Tally

NO_BASIS, FIGURES, HABIT, GIVEN, MAJORITY = range(5)
ONE_SLIP = 6  # a wrong measure: its difference, its side's total, and the four figures that follow from these


@dataclass(frozen=True)
class Choice:
    """`reading` and `basis` of each block of each sheet (n, b); `place` (n) is the way taken, in `tally.ways`
    (undecided blocks as they agree best); `confirmed` (n): every block is decided and every figure touched agrees."""

    tally: Tally
    reading: Marks
    basis: Marks
    place: NDArray[np.int64]
    confirmed: Flags

    @property
    def agreeing(self) -> Counts:
        """(n) The stated figures that agree in the way taken."""
        return self.agreeing_at(self.place)

    def agreeing_at(self, place: NDArray[np.int64]) -> Counts:
        """(n) The stated figures that agree in the way at `place`."""
        agree: Counts = np.take_along_axis(self.tally.agree, place[:, None], axis=1)[:, 0]
        return agree

    def otherwise(self, blocks: Flags) -> Counts:
        """(n) The stated figures that agree when the blocks flagged (n, b) are read the other way."""
        weights = 2 ** np.arange(blocks.shape[1])[::-1]
        return self.agreeing_at(self.place ^ (blocks.astype(np.int64) @ weights))


def choose(tally: Tally, habit: Marks | None = None) -> Choice:
    """Decide every block of every sheet; `habit` (n, b) is the reading that the sheet's group is known for, or 0."""
    known = (
        np.zeros(tally.has.shape, dtype=np.uint8) if habit is None else np.where(tally.has, habit, 0).astype(np.uint8)
    )
    followed, allowed = _following(tally, known)
    complete = (tally.touched > 0)[:, None] & (tally.agree == tally.touched[:, None])
    whole = (complete & allowed).any(axis=1)
    top = tally.agree.max(axis=1)
    near = allowed & (tally.agree >= (top - ONE_SLIP)[:, None])
    candidates = np.where(whole[:, None], complete & allowed, near)
    reading = np.where(tally.has, _common(candidates, tally.ways), UNDECIDED).astype(np.uint8)
    own = whole[:, None] & (_common(complete, tally.ways) == reading)
    most = (4 * top >= 3 * tally.touched) & (tally.touched > 0)
    rules = [(own, FIGURES), (followed, HABIT), (np.broadcast_to(whole[:, None], own.shape), GIVEN)]
    basis = np.select(
        [holds for holds, _ in rules], [name for _, name in rules], np.where(most, MAJORITY, NO_BASIS)[:, None]
    )
    kept = (reading != UNDECIDED) & (basis != NO_BASIS) & ~_doubtful(tally, known, reading, whole)
    reading, basis = np.where(kept, reading, UNDECIDED), np.where(kept, basis, NO_BASIS)
    place = np.where(candidates, tally.agree, -1).argmax(axis=1)
    confirmed = whole & ((reading != UNDECIDED) | ~tally.has).all(axis=1)
    return Choice(tally, reading.astype(np.uint8), basis.astype(np.uint8), place, confirmed)


def _following(tally: Tally, known: Marks) -> tuple[Flags, Flags]:
    """Blocks (n, b) in which the habit is followed, and the ways (n, 2**b) that follow it there."""
    followed = np.zeros(known.shape, dtype=np.bool_)
    for block in range(known.shape[1]):
        first, second = tally.best(block, FIRST), tally.best(block, SECOND)
        follows_first, follows_second = known[:, block] == FIRST, known[:, block] == SECOND
        followed[:, block] = (follows_first & (first >= second)) | (follows_second & (second >= first))
    allowed = _ways_with(tally.ways, known, followed)
    # each block's habit may be borne out while all of them together are not
    together = np.where(allowed, tally.agree, -1).max(axis=1) == tally.agree.max(axis=1)
    return followed & together[:, None], allowed | ~together[:, None]


def _ways_with(ways: Marks, known: Marks, followed: Flags) -> Flags:
    allowed = np.ones((known.shape[0], len(ways)), dtype=np.bool_)
    for block in range(ways.shape[1]):
        allowed &= ~followed[:, block, None] | (ways[None, :, block] == known[:, block, None])
    return allowed


def _common(candidates: Flags, ways: Marks) -> Marks:
    """The reading of each block (n, b) that all candidate ways share; UNDECIDED where they differ."""
    shared = np.zeros((candidates.shape[0], ways.shape[1]), dtype=np.uint8)
    for block in range(ways.shape[1]):
        first = candidates[:, ways[:, block] == FIRST].any(axis=1)
        second = candidates[:, ways[:, block] == SECOND].any(axis=1)
        shared[:, block] = np.select([first & ~second, second & ~first], [FIRST, SECOND], UNDECIDED)
    return shared


def _doubtful(tally: Tally, known: Marks, reading: Marks, whole: Flags) -> Flags:
    """Blocks (n, b) decided against the habit by too few figures, or by a majority only."""
    doubtful = np.zeros(known.shape, dtype=np.bool_)
    for block in range(known.shape[1]):
        of_habit = np.where(known[:, block] == FIRST, tally.best(block, FIRST), tally.best(block, SECOND))
        against = (known[:, block] != UNDECIDED) & (reading[:, block] != known[:, block])
        doubtful[:, block] = against & (~whole | (tally.touched - of_habit <= ONE_SLIP))
    return doubtful
