"""The habit of a group of sheets: how the sheets that tell are written, and whether that is enough to go by.

A group is one measurer's sheets in one file. It has a habit in a block of cells where

* at least ENOUGH of its sheets tell the same reading,
* of the sheets that tell the other, those that do so firmly are at most one in NEGLIGIBLE, and all together at most
  one in FEW: a slip can make one or two figures agree by accident.

The sheets of a measurer with fewer telling sheets are read in the habit of the whole file, if none of them tells
otherwise and at least two measurers of the file have that habit: one writer's habit says nothing about the next. A
file without measurers is one group.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from warehouse.audit.readings import FIRST, SECOND, UNDECIDED, Flags, Marks

ENOUGH = 5
NEGLIGIBLE = 500
FEW = 10

Numbers = NDArray[np.int64]


@dataclass(frozen=True)
class Telling:
    """What each of n sheets tells about each of b blocks, every array (n, b): that digits count units (`first`), or
    decimals (`second`); whether it tells it firmly; and whether its decimals are rounded to few places."""

    first: Flags
    second: Flags
    firm: Flags
    rounded: Flags

    def at(self, places: Numbers) -> "Telling":
        """The same for some sheets only."""
        return Telling(self.first[places], self.second[places], self.firm[places], self.rounded[places])


@dataclass(frozen=True)
class Groups:
    """`of` (n) is the group of each sheet, from 0; `named` (one flag a group): it is one measurer's."""

    of: Numbers
    named: Flags

    def count(self, flags: Flags) -> Numbers:
        """The sheets flagged (n, b) in each group (groups, b)."""
        groups = len(self.named)
        counts = [np.bincount(self.of[flags[:, block]], minlength=groups) for block in range(flags.shape[1])]
        return np.array(counts, dtype=np.int64).reshape(flags.shape[1], groups).T


@dataclass(frozen=True)
class Habits:
    """Of the group of each sheet (n, b): its `habit` (FIRST, SECOND or 0), how many sheets tell that habit
    (`alike`) or the other (`unlike`), how many write `rounded` decimals, and whether it is one measurer's (`narrow`)."""

    habit: Marks
    alike: Numbers
    unlike: Numbers
    rounded: Numbers
    narrow: Flags

    def at(self, places: Numbers) -> "Habits":
        """The same for some sheets only, or spread from groups to sheets."""
        counts = (self.alike[places], self.unlike[places], self.rounded[places])
        return Habits(self.habit[places], *counts, self.narrow[places])


def habits_of(telling: Telling, groups: Groups) -> Habits:
    """The habit of each sheet's group, by the rule above."""
    first, second = groups.count(telling.first), groups.count(telling.second)
    firm_first, firm_second = groups.count(telling.first & telling.firm), groups.count(telling.second & telling.firm)
    rounded = groups.count(telling.rounded)
    alone = len(groups.named) == 1
    own = _habit(first, second, firm_first, firm_second)
    own = np.where(groups.named[:, None] | alone, own, UNDECIDED)
    whole = _habit(*(numbers.sum(axis=0) for numbers in (first, second, firm_first, firm_second)))
    shared = ((own == whole) & (whole != UNDECIDED)).sum(axis=0) >= 2
    otherwise = np.where(whole == FIRST, second, first)
    few = (first + second < ENOUGH) | ~groups.named[:, None]
    lent = (own == UNDECIDED) & few & (otherwise == 0) & shared & (not alone)
    first, second, rounded = (np.where(lent, numbers.sum(axis=0), numbers) for numbers in (first, second, rounded))
    habit = np.where(lent, whole, own).astype(np.uint8)
    alike, unlike = np.where(habit == FIRST, first, second), np.where(habit == FIRST, second, first)
    narrow = groups.named[:, None] & ~lent
    return Habits(habit, alike, unlike, rounded, narrow).at(groups.of)


def _habit(first: Numbers, second: Numbers, firm_first: Numbers, firm_second: Numbers) -> Marks:
    counts_units = (first >= ENOUGH) & (firm_second * NEGLIGIBLE <= first) & (second * FEW <= first)
    decimal = (second >= ENOUGH) & (firm_first * NEGLIGIBLE <= second) & (first * FEW <= second)
    return np.select([counts_units, decimal], [FIRST, SECOND], UNDECIDED).astype(np.uint8)
