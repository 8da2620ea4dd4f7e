"""How a block of open cells is decided from the figures that agree in each way, and from the habit of its group."""

import numpy as np
import pytest

from warehouse.audit.reading_choice import FIGURES, GIVEN, HABIT, MAJORITY, NO_BASIS, choose
from warehouse.audit.readings import FIRST, SECOND, UNDECIDED, Tally, all_ways

ALL_WAYS = [[1, 1], [1, 2], [2, 1], [2, 2]]


def _tally(agree: list[int], touched: int, blocks: int = 1) -> Tally:
    return Tally(
        all_ways(blocks),
        np.array([agree], dtype=np.int16),
        np.array([touched], dtype=np.int16),
        np.ones((1, blocks), dtype=np.bool_),
    )


def _chosen(tally: Tally, *habit: int) -> list[tuple[int, int]]:
    known = np.array([habit], dtype=np.uint8) if habit else None
    choice = choose(tally, known)
    return list(zip(choice.reading[0].tolist(), choice.basis[0].tolist(), strict=True))


def test_the_ways_of_two_blocks() -> None:
    assert all_ways(2).tolist() == ALL_WAYS
    assert all_ways(0).shape == (1, 0)


ASKED = (UNDECIDED, NO_BASIS)


@pytest.mark.parametrize(
    ("agree", "touched", "habit", "expected"),
    [
        ([6, 1], 6, 0, (FIRST, FIGURES)),
        ([1, 6], 6, 0, (SECOND, FIGURES)),
        ([6, 6], 6, 0, ASKED),  # both ways agree
        ([0, 0], 0, 0, ASKED),  # nothing stated
        ([6, 6], 6, SECOND, (SECOND, HABIT)),
        ([0, 0], 0, SECOND, (SECOND, HABIT)),
        ([15, 3], 16, 0, (FIRST, MAJORITY)),  # one slip
        ([15, 8], 16, 0, (FIRST, MAJORITY)),
        ([15, 9], 16, 0, ASKED),  # one slip can do as much
        ([8, 2], 16, 0, ASKED),  # too much is wrong
        ([15, 12], 16, FIRST, (FIRST, HABIT)),
        ([12, 12], 16, FIRST, (FIRST, HABIT)),
        ([11, 12], 16, FIRST, ASKED),  # the figures speak against the habit
        ([15, 3], 16, SECOND, ASKED),  # and are not believed alone
        ([16, 9], 16, SECOND, (FIRST, FIGURES)),  # more than one slip can do
        ([16, 10], 16, SECOND, ASKED),
    ],
)
def test_one_block(agree: list[int], touched: int, habit: int, expected: tuple[int, int]) -> None:
    assert _chosen(_tally(agree, touched), habit) == [expected]


def test_the_only_way_in_which_all_agree_may_be_mixed() -> None:
    assert _chosen(_tally([7, 12, 3, 5], 12, 2)) == [(FIRST, FIGURES), (SECOND, FIGURES)]


def test_a_block_that_all_agreeing_ways_share_is_decided_alone() -> None:
    assert _chosen(_tally([12, 12, 3, 5], 12, 2)) == [(FIRST, FIGURES), ASKED]


def test_the_habit_of_one_block_lets_the_figures_decide_the_other() -> None:
    fully_ambiguous = _tally([12, 4, 4, 12], 12, 2)
    assert _chosen(fully_ambiguous) == [ASKED, ASKED]
    assert _chosen(fully_ambiguous, UNDECIDED, SECOND) == [(SECOND, GIVEN), (SECOND, HABIT)]


def test_habits_that_only_together_disagree_with_the_figures_decide_nothing() -> None:
    assert _chosen(_tally([12, 4, 4, 12], 12, 2), FIRST, SECOND) == [ASKED, ASKED]


def test_only_figures_that_all_agree_confirm() -> None:
    tallies = [_tally([6, 6], 6), _tally([5, 4], 6), _tally([0, 0], 0)]
    habit = np.array([[FIRST]], dtype=np.uint8)
    assert [choose(tally, habit).confirmed.tolist() for tally in tallies] == [[True], [False], [False]]


def test_a_sheet_without_open_cells_is_confirmed_by_its_figures() -> None:
    assert choose(_tally([3], 3, 0)).confirmed.tolist() == [True]
    assert choose(_tally([2], 3, 0)).confirmed.tolist() == [False]


def test_what_would_agree_if_blocks_were_read_otherwise() -> None:
    choice = choose(_tally([7, 12, 3, 5], 12, 2))
    assert choice.agreeing.tolist() == [12]
    others = [choice.otherwise(np.array([flags])).tolist() for flags in ([True, False], [False, True], [True, True])]
    assert others == [[5], [7], [3]]
