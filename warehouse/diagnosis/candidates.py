"""Which slips, one or two, could explain a sheet: those whose checks are the broken ones, and no others."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from warehouse.diagnosis.grid import Layout
from warehouse.diagnosis.slips import Situation, Slip, slips_of

NO_SLIP = -1
MOST_PAIRS = 3_000  # a sheet that states so little that more would fit is told nothing by any of them
PAIRED = ("copied", "carried", "swapped", "unread")
Places = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Sets:
    """The slips of a situation with their sets of checks as arrays, for comparing every slip with every other."""

    slips: tuple[Slip, ...]
    touches: Places
    surely: Places
    unread: Places  # bit n: the n-th unread cell is solved by this slip

    @property
    def size(self) -> int:
        """How many slips."""
        return len(self.slips)


@lru_cache(maxsize=1024)
def sets_of(layout: Layout, situation: Situation) -> Sets:
    """The sets of every slip of a situation."""
    slips = slips_of(layout, situation)
    solved = [sum(1 << n for n, cell in enumerate(situation.unread) if cell in slip.cells) for slip in slips]
    arrays = [[slip.touches for slip in slips], [slip.surely for slip in slips], solved]
    return Sets(slips, *(np.array(values, dtype=np.int64) for values in arrays))


def singles(sets: Sets, broken: int, unread: int) -> Places:
    """Places in `sets.slips` of those that alone break just these checks and solve every unread cell (bits)."""
    fits = (broken & ~sets.touches == 0) & (sets.surely & ~broken == 0) & (sets.unread == unread)
    return np.flatnonzero(fits)


def pairs(sets: Sets, broken: int, unread: int) -> Places:
    """Ordered pairs, shape (pairs, 2): the first is solved first, from a check that the second leaves alone."""
    usable = np.array([slip.kind in PAIRED for slip in sets.slips])
    helps = usable & ((sets.touches & broken != 0) | (sets.unread != 0))
    some = np.flatnonzero(helps)
    touches, surely, solved = sets.touches[some], sets.surely[some], sets.unread[some]
    together = touches[:, None] | touches[None, :]
    fits = broken & ~together == 0
    # a check that a slip cannot but break and that holds all the same must be mended by the other
    fits &= surely[:, None] & ~broken & ~touches[None, :] == 0
    fits &= surely[None, :] & ~broken & ~touches[:, None] == 0
    fits &= (solved[:, None] | solved[None, :]) == unread
    fits &= (solved[:, None] & solved[None, :]) == 0
    found = np.argwhere(np.triu(fits, 1))
    return _ordered([sets.slips[place] for place in some], some, found)


def _ordered(slips: Sequence[Slip], places: Places, found: Places) -> Places:
    """Each pair once for each way to solve it, the slip with a check of its own first."""
    ordered = []
    for one, two in found.tolist():
        if slips[one].cells == slips[two].cells:
            continue
        if _solvable_before(slips[one], slips[two]):
            ordered.append((places[one], places[two]))
        elif _solvable_before(slips[two], slips[one]):
            ordered.append((places[two], places[one]))
    return np.array(ordered[:MOST_PAIRS], dtype=np.int64).reshape(-1, 2)


def _solvable_before(first: Slip, second: Slip) -> bool:
    return first.route is None or not second.touches >> first.route.at & 1
