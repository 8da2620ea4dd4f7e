"""Mann and Kendall's test and Theil and Sen's slope, held to published examples and to other programs."""

import math

import numpy as np
import pymannkendall
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import kendalltau, theilslopes
from statsmodels.datasets import nile

from warehouse.trends.arrays import Floats
from warehouse.trends.rank_trend import MINIMUM_SEASONS, enough, hamed_rao, mann_kendall, two_sided

# USEPA 2009, Statistical Analysis of Groundwater Monitoring Data, Unified Guidance, EPA 530/R-09-007, Ex. 17-6, p.
# 17-33: sulfate in ppm by date, year.month as printed.
SULFATE = np.array((
    (89.6, 480), (89.8, 450), (90.1, 490), (90.3, 520), (90.6, 485), (90.8, 510), (91.1, 510), (91.3, 530), (91.6, 510),
    (91.8, 560), (92.1, 560), (92.6, 540), (93.1, 590), (93.6, 550), (94.1, 600), (94.6, 700), (95.1, 570), (95.6, 610),
    (95.8, 650), (96.1, 620), (96.3, 830), (96.6, 720), (96.8, 590),
)).T  # fmt: skip
# Precipitation on the Great Lakes 1900-86, US Department of Commerce, as PrecipGL of R's Kendall 2.2.1.
PRECIPITATION = (
    31.69, 29.77, 31.7, 33.06, 31.31, 32.72, 31.18, 29.9, 29.17, 31.48, 28.11, 32.61, 31.31, 30.96, 28.4, 30.68,
    33.67, 28.65, 30.62, 30.21, 28.79, 30.92, 30.92, 28.13, 30.51, 27.63, 34.8, 32.1, 33.86, 32.33, 25.69, 30.6,
    32.85, 30.31, 27.71, 30.34, 29.14, 33.41, 33.51, 29.9, 32.69, 32.34, 35.01, 33.05, 31.15, 36.36, 29.83, 33.7,
    29.81, 32.41, 35.9, 37.45, 30.39, 31.15, 35.75, 31.14, 30.06, 32.4, 28.44, 36.38, 31.73, 31.27, 28.51, 26.01,
    31.27, 35.57, 30.85, 33.35, 35.82, 31.78, 34.25, 31.43, 35.97, 33.87, 28.94, 34.62, 31.06, 38.84, 32.25, 35.86,
    32.93, 32.69, 34.39, 33.97, 32.15, 40.16, 36.32,
)  # fmt: skip


def nile_flow() -> tuple[Floats, Floats]:
    """The yearly flow of the Nile at Aswan 1871-1970 (Cobb 1978, Biometrika 65:243-251)."""
    data = nile.load_pandas().data
    return data["year"].to_numpy(), data["volume"].to_numpy()


def order_with(n: int, s: int) -> list[int]:
    """An order of 0..n-1 whose S is s: each place takes the highest left over, as long as falls are wanted."""
    falls, left, order = (n * (n - 1) // 2 - s) // 2, list(range(n)), []
    while left:
        taken = min(falls, len(left) - 1)
        order.append(left.pop(taken))
        falls -= taken
    return order


def test_the_sulfate_of_the_guidance_has_its_published_trend() -> None:
    # Figures: help of R's EnvStats 3.1.0, kendallTrendTest, on the same example.
    found = mann_kendall(*SULFATE)
    assert (found.seasons, found.s, found.variance, found.exact) == (23, 194, 1428, False)
    assert found.z == pytest.approx(5.107322, abs=5e-7)
    assert found.p == pytest.approx(3.267574e-07, rel=1e-6)
    assert (found.tau_a, found.slope) == pytest.approx((0.7667984, 26.66667), rel=5e-7)
    assert found.intercept == pytest.approx(-1909.3333, abs=5e-5)
    assert (found.lower, found.upper) == pytest.approx((20.0, 35.71182), abs=5e-6)


def test_the_rain_on_the_great_lakes_has_its_trend() -> None:
    found = mann_kendall(np.arange(1900, 1987), PRECIPITATION)
    # pymannkendall 1.4.3.
    assert (found.seasons, found.s) == (87, 989)
    assert (found.variance, found.z, found.p) == pytest.approx((74398.33, 3.622224, 0.000292081), rel=2e-6)
    # scipy 1.17, theilslopes, whose limits stand at whole ranks.
    assert found.slope == pytest.approx(0.04)
    assert (found.lower, found.upper) == pytest.approx((0.019524, 0.062174), abs=5e-5)


def test_the_nile_has_its_trend_with_and_without_serial_correlation() -> None:
    found = mann_kendall(*nile_flow())
    # pymannkendall 1.4.3; limits by scipy 1.17, theilslopes, at whole ranks.
    assert (found.s, found.slope) == pytest.approx((-1387, -2.6))
    assert (found.variance, found.z) == pytest.approx((112728.33, -4.128067), rel=2e-7)
    assert (found.lower, found.upper) == pytest.approx((-3.6279, -1.4286), abs=2e-4)
    variance, p = hamed_rao(*nile_flow())
    assert variance == pytest.approx(241565.36, abs=5e-3)
    assert p == pytest.approx(0.004803, abs=5e-7)


# Gilbert 1987, Statistical Methods for Environmental Pollution Monitoring, table A18 (from memory: .036, .031),
# one-sided chances of S or more; the further places are counted out. Four and five seasons: closed form, 1/n! of one
# order.
@pytest.mark.parametrize(("n", "s", "tail"), [(10, 21, 0.03628), (8, 16, 0.03051), (5, 10, 1 / 120), (4, 6, 1 / 24)])
def test_the_tail_of_few_seasons_is_counted_out(n: int, s: int, tail: float) -> None:
    found = mann_kendall(np.arange(n), order_with(n, s))
    assert (found.s, found.exact) == (s, True)
    assert found.p == pytest.approx(2 * tail, abs=1e-5)


def test_one_outsize_head_does_not_move_the_slope() -> None:
    # Helsel, Hirsch, Ryberg, Archfield & Gilroy 2020, USGS TM 4-A3, ch. 10 (from memory).
    found = mann_kendall(range(1, 8), [1, 2, 3, 4, 5, 16, 7])
    assert (found.slope, found.intercept) == (1, 0)


@pytest.mark.parametrize("seed", range(8))
def test_tied_seasons_are_tested_as_by_another_program(seed: int) -> None:
    random = np.random.default_rng(seed)
    y = random.integers(0, 6, 30) + np.arange(30) // (3 + seed)
    other, found = pymannkendall.original_test(y), mann_kendall(np.arange(30), y)
    theirs = (other.s, other.var_s, other.z, other.Tau, other.slope)
    assert (found.s, found.variance, found.z, found.tau_a, found.slope) == pytest.approx(theirs)
    assert found.p == pytest.approx(other.p, abs=1e-12)


@pytest.mark.parametrize("seed", range(8))
def test_serial_correlation_is_allowed_for_as_by_another_program(seed: int) -> None:
    random = np.random.default_rng(seed)
    y = np.cumsum(random.normal(0, 1, 40)) + random.normal(0, 1, 40)
    other = pymannkendall.hamed_rao_modification_test(y)
    assert hamed_rao(np.arange(40), y) == pytest.approx((other.var_s, other.p))


@pytest.mark.parametrize("seed", range(5))
def test_ties_in_years_too_are_tested_as_by_another_program(seed: int) -> None:
    random = np.random.default_rng(seed)
    x, y = random.integers(0, 8, 40), random.integers(0, 5, 40)
    found = mann_kendall(x, y)
    assert two_sided(found.s / math.sqrt(found.variance)) == pytest.approx(kendalltau(x, y, method="asymptotic").pvalue)
    assert found.slope == theilslopes(y, x).slope


@settings(deadline=None, max_examples=60)
@given(st.lists(st.integers(-1000, 1000), min_size=8, max_size=20), st.integers(-99, 99), st.integers(-9, 9))
def test_a_line_added_moves_the_slope_by_its_own(values: list[int], up: int, along: int) -> None:
    x, y = np.arange(2000, 2000 + len(values)), np.array(values)
    one, other = mann_kendall(x, y), mann_kendall(x, y + up + along * x)
    assert other.slope == pytest.approx(one.slope + along)
    assert mann_kendall(x + 7, y + up).slope == one.slope
    assert one.lower <= one.slope <= one.upper


@settings(deadline=None, max_examples=60)
@given(st.lists(st.integers(0, 9), min_size=2, max_size=20))
def test_backwards_is_the_other_way_and_order_of_rows_is_nothing(values: list[int]) -> None:
    x, y = np.arange(len(values)), np.array(values)
    there, back = mann_kendall(x, y), mann_kendall(-x, y)
    assert (back.s, back.p, back.slope) == (-there.s, there.p, -there.slope)
    assert mann_kendall(x[::-1], y[::-1]) == there


def test_a_gap_of_years_counts_as_years() -> None:
    # Closed form: the line 2x - 3990 over years with gaps.
    years = np.array([2000, 2001, 2005, 2006, 2007, 2012, 2020, 2021])
    found = mann_kendall(years, 2 * years - 3990)
    assert (found.slope, found.lower, found.upper, found.intercept, found.tau_a) == (2, 2, 2, -3990, 1)


def test_a_season_without_a_figure_is_left_out() -> None:
    assert mann_kendall([1, 2, 3, 4, math.nan], [5, math.nan, 7, 6, 1]) == mann_kendall([1, 3, 4], [5, 7, 6])


@pytest.mark.parametrize("y", [[], [1.0], [3.0] * 9])
def test_where_nothing_varies_no_trend_is_seen(y: list[float]) -> None:
    found = mann_kendall(np.arange(len(y)), y)
    assert (found.s, found.variance, found.z, found.p) == (0, 0, 0, 1)
    assert hamed_rao(np.arange(len(y)), y) == (0, 1)
    assert math.isnan(found.slope) == (len(y) < 2)


def test_years_all_the_same_have_no_slope() -> None:
    found = mann_kendall([2000] * 9, range(9))
    assert (found.s, found.variance, found.p) == (0, 0, 1)
    assert math.isnan(found.slope)


def test_four_seasons_have_no_limits() -> None:
    # Closed form: of 6 slopes the ranks (6 - 1.96*sqrt(26/3))/2 and up are 0.1 and 6.9, beyond the first and the last.
    found = mann_kendall(range(4), [1, 3, 2, 5])
    assert (found.lower, found.upper) == (-math.inf, math.inf)


def test_eight_seasons_are_enough() -> None:
    assert [enough(MINIMUM_SEASONS - 1), enough(8)] == [False, True]
