"""How many sheets make a habit, and whose sheets are read in it."""

import numpy as np
import pytest

from warehouse.audit.habits import Groups, Habits, Telling, habits_of
from warehouse.audit.readings import FIRST, SECOND, UNDECIDED


def _habits(*groups: tuple[int, int, int, int], named: tuple[bool, ...] = ()) -> Habits:
    """Groups of sheets that tell: (first, firmly second, second but not firmly, nothing)."""
    first, second, firm, group = [], [], [], []
    for place, (firsts, seconds, weak, silent) in enumerate(groups):
        kinds = [(1, 0, 1)] * firsts + [(0, 1, 1)] * seconds + [(0, 1, 0)] * weak + [(0, 0, 0)] * silent
        first += [kind[0] for kind in kinds]
        second += [kind[1] for kind in kinds]
        firm += [kind[2] for kind in kinds]
        group += [place] * len(kinds)
    told = [np.array(flags, dtype=np.bool_)[:, None] for flags in (first, second, firm, [0] * len(first))]
    return habits_of(Telling(*told), Groups(np.array(group), np.array(named or [True] * len(groups))))


@pytest.mark.parametrize(
    ("telling", "habit"),
    [
        ((4, 0, 0, 9), UNDECIDED),
        ((5, 0, 0, 9), FIRST),
        ((0, 5, 0, 9), SECOND),
        ((0, 2, 3, 9), SECOND),
        ((499, 1, 0, 9), UNDECIDED),
        ((500, 1, 0, 9), FIRST),
        ((9, 0, 1, 9), UNDECIDED),
        ((10, 0, 1, 9), FIRST),
        ((5, 5, 0, 9), UNDECIDED),
    ],
)
def test_how_many_sheets_make_a_habit(telling: tuple[int, int, int, int], habit: int) -> None:
    found = _habits(telling)
    assert set(found.habit[:, 0].tolist()) == {habit}
    assert set(found.narrow[:, 0].tolist()) == {True}


def test_what_is_counted() -> None:
    found = _habits((500, 1, 0, 9))
    assert (found.alike[0, 0], found.unlike[0, 0], found.rounded[0, 0]) == (500, 1, 0)


def _last(found: Habits) -> tuple[int, int, bool]:
    return int(found.habit[-1, 0]), int(found.alike[-1, 0]), bool(found.narrow[-1, 0])


def test_each_measurer_has_a_habit_of_their_own() -> None:
    found = _habits((9, 0, 0, 1), (0, 9, 0, 1))
    assert (found.habit[0, 0], found.habit[-1, 0]) == (FIRST, SECOND)


def test_a_measurer_who_does_not_tell_is_read_as_two_others_are() -> None:
    assert _last(_habits((9, 0, 0, 0), (6, 0, 0, 0), (0, 0, 0, 3))) == (FIRST, 15, False)
    assert _last(_habits((9, 0, 0, 0), (6, 0, 0, 0), (4, 0, 0, 3))) == (FIRST, 19, False)


def test_but_not_as_one_other_is() -> None:
    assert _last(_habits((99, 0, 0, 0), (0, 0, 0, 3)))[0] == UNDECIDED


def test_nor_as_two_others_are_who_write_differently() -> None:
    assert _last(_habits((9, 0, 0, 0), (0, 9, 0, 0), (0, 0, 0, 3)))[0] == UNDECIDED


def test_nor_where_one_sheet_of_theirs_tells_otherwise() -> None:
    assert _last(_habits((999, 0, 0, 0), (999, 0, 0, 0), (0, 1, 0, 3)))[0] == UNDECIDED


def test_sheets_without_a_measurer_are_a_group_only_where_no_sheet_has_one() -> None:
    assert _last(_habits((9, 0, 0, 1), named=(False,))) == (FIRST, 9, False)
    assert _last(_habits((9, 0, 0, 1), (0, 9, 0, 1), named=(True, False)))[0] == UNDECIDED
