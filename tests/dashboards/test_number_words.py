import math

import pytest

from dashboards.number_words import (
    chance,
    change_a_year,
    interval,
    limits,
    named,
    p_text,
    percent_text,
    rate,
    share,
    signed,
)


@pytest.mark.parametrize(
    ("percent", "words"),
    [(3.66, "3.7 % more"), (-1.2, "1.2 % fewer"), (-0.04, "0.0 % more"), (5000.0, "over 1,000 % more"), (math.inf, "over 1,000 % more")],
)  # fmt: skip
def test_a_change_a_year(percent: float, words: str) -> None:
    assert change_a_year(percent) == words


@pytest.mark.parametrize(
    ("lower", "upper", "words"),
    [
        (2.2, 5.2, "2.2 to 5.2 % more"), (-5.8, -2.4, "5.8 to 2.4 % fewer"), (-1.2, 2.9, "1.2 % fewer to 2.9 % more"),
        (3.0, math.inf, "3.0 % more to over 1,000 % more"),
    ],
)  # fmt: skip
def test_an_interval_says_where_it_holds_no_change(lower: float, upper: float, words: str) -> None:
    assert interval(lower, upper) == words


def test_a_limit_that_is_none_is_said_in_words() -> None:
    assert limits(0.027, 0.198) == "95 % interval +0.03 to +0.20"
    assert limits(-math.inf, math.inf) == "the seasons are too few for an interval"


def test_nothing_has_no_sign() -> None:
    assert [signed(value) for value in (0.108, -0.05, -0.001, 0.0)] == ["+0.11", "-0.05", "0.00", "0.00"]


@pytest.mark.parametrize(
    ("p", "words"), [(0.0346, "0.035"), (0.6, "0.60"), (1.0, "1.00"), (0.0009, "<0.001"), (None, "-")]
)
def test_p_in_a_cell(p: float | None, words: str) -> None:
    assert p_text(p) == words


def test_p_in_a_sentence() -> None:
    assert [chance(0.0346), chance(0.0001)] == ["p = 0.035", "p below 0.001"]


def test_a_cell_without_a_trend_is_a_dash() -> None:
    row = {"percent": 5.66, "percent_lower": -0.01, "percent_upper": 2e6}
    assert percent_text(row) == "+5.7 (0.0 to >1000)"
    assert percent_text(dict.fromkeys(row)) == "-"


def test_figures_have_as_many_digits_as_tell_something() -> None:
    assert [rate(value) for value in (0.0, 0.0312, 1.914, 52.34, 1204.3, None)] == [
        "0.00", "0.031", "1.91", "52.3", "1,204", "-",
    ]  # fmt: skip
    assert [share(value) for value in (0.0, 0.079, 0.25, None)] == ["0 %", "7.9 %", "25 %", "-"]


def test_a_long_list_of_names_is_cut() -> None:
    assert [named(["A"]), named(["A", "B"]), named(["A", "B", "C"]), named(list("ABCDE"), most=2)] == [
        "A", "A and B", "A, B and C", "A, B and 3 more",
    ]  # fmt: skip
