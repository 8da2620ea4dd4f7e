"""Exact intervals of counts and of the ratio of two rates."""

import dataclasses
import math

import numpy as np
import pytest
from scipy.stats import poisson
from statsmodels.stats.rates import test_poisson_2indep as compare_rates

from warehouse.trends.counts import garwood, rate_ratio

# Garwood 1936, Biometrika 28:437-442; the figures by R 4.2 poisson.test (3 and the last row: scipy 1.17).
GARWOOD = (
    (0, 0.95, 0.0, 3.688879), (1, 0.95, 0.025318, 5.571643), (2, 0.95, 0.242209, 7.224688),
    (3, 0.95, 0.618672, 8.767273), (5, 0.95, 1.623486, 11.668332), (10, 0.95, 4.795389, 18.390356),
    (20, 0.95, 12.216520, 30.888378), (50, 0.95, 37.110964, 65.918767), (100, 0.95, 81.363991, 121.626794),
    (10, 0.99, 3.716922, 21.397827),
)  # fmt: skip


@pytest.mark.parametrize(("count", "level", "lower", "upper"), GARWOOD)
def test_a_count_has_its_published_interval(count: int, level: float, lower: float, upper: float) -> None:
    found = garwood([count], level)
    assert (found[0][0], found[1][0]) == pytest.approx((lower, upper), abs=5e-7)


def test_no_entries_leave_room_for_3_689() -> None:
    # Help of R's epitools, pois.exact: upper limit at a count of 0.
    assert garwood(0)[1] == pytest.approx(3.689, abs=5e-4)


def test_each_limit_leaves_its_tail_outside() -> None:
    counts = np.arange(1, 60)
    lower, upper = garwood(counts, 0.9)
    assert poisson.sf(counts - 1, lower) == pytest.approx(np.full(59, 0.05))
    assert poisson.cdf(counts, upper) == pytest.approx(np.full(59, 0.05))


def test_byars_approximation_is_within_a_fifth_of_a_per_cent_from_ten_on() -> None:
    # Public Health Data Science, Technical Guide: Confidence Intervals (2018): "within 0.2 % of the exact value for
    # numerators of 10 or more"; its formula, which gives 4.78745 to 18.39146 at 10 (closed form).
    counts, z = np.arange(10, 500), 1.959963985
    byar = [n * (1 - 1 / (9 * n) + sign * z / (3 * np.sqrt(n))) ** 3 for n, sign in ((counts, -1), (counts + 1, 1))]
    assert (byar[0][0], byar[1][0]) == pytest.approx((4.78745, 18.39146), abs=5e-6)
    for exact, near in zip(garwood(counts), byar, strict=True):
        assert np.abs(near / exact - 1).max() < 0.002


def test_an_unknown_count_has_an_unknown_interval() -> None:
    assert np.isnan(garwood([np.nan, 2])[0]).tolist() == [True, False]


def test_a_negative_count_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^a count cannot be negative: -2$"):
        garwood([3, -2])


def test_two_rates_compare_as_in_the_help_of_r() -> None:
    # R 4.2 help of poisson.test: 11 cases in 800 against 21 in 3011.
    found = rate_ratio(11, 800, 21, 3011)
    assert found.ratio == pytest.approx(1.971488, abs=5e-7)
    assert found.p == pytest.approx(0.07966863, abs=5e-9)
    assert (found.lower, found.upper) == pytest.approx((0.8584264, 4.2772659), abs=5e-8)


@pytest.mark.parametrize("counts", [(0, 7), (7, 0), (3, 9), (40, 41), (1, 1)])
def test_the_p_of_two_rates_is_that_of_another_program(counts: tuple[int, int]) -> None:
    with np.errstate(divide="ignore"):  # the other program divides by the second count on the way
        other = compare_rates(counts[0], 12.5, counts[1], 20.0, method="exact-cond")
    assert rate_ratio(counts[0], 12.5, counts[1], 20.0).p == pytest.approx(other.pvalue)


def test_the_ratio_turned_round_has_its_limits_turned_round() -> None:
    there, back = rate_ratio(4, 10, 9, 12), rate_ratio(9, 12, 4, 10)
    assert (there.ratio, there.lower, there.upper) == pytest.approx((1 / back.ratio, 1 / back.upper, 1 / back.lower))
    assert there.p == pytest.approx(back.p)


def test_no_entries_on_one_side_leave_one_limit_open() -> None:
    # Closed form: with 0 of 3 the chance has the upper limit 1 - 0.025^(1/3).
    odds = 1 / 0.025 ** (1 / 3) - 1
    assert dataclasses.astuple(rate_ratio(0, 1, 3, 1)) == pytest.approx((0, 0, odds, 0.25))
    assert dataclasses.astuple(rate_ratio(3, 1, 0, 1)) == pytest.approx((math.inf, 1 / odds, math.inf, 0.25))


def test_no_entries_on_either_side_tell_nothing() -> None:
    found = rate_ratio(0, 2, 0, 5)
    assert math.isnan(found.ratio)
    assert (found.lower, found.upper, found.p) == (0.0, math.inf, 1.0)


def test_two_rates_need_two_efforts() -> None:
    with pytest.raises(ValueError, match=r"^two rates need two efforts above 0: 2 and 0$"):
        rate_ratio(1, 2, 1, 0)
