"""What a book sees of a normal population: the closed forms, and what a raised minimum makes of a decline.

Expected values are closed form unless a source is named: scipy 1.17.1 `truncnorm` gives the same means and variances.
"""

import numpy as np
import pytest
from scipy.stats import norm, truncnorm

from warehouse.trends.arrays import Floats
from warehouse.trends.tails import exceedance_gain, mean_above, mean_gain, mean_gain_of_share, share_above

SD = 15.0
YEARS = np.arange(20.0)
RAISED = np.select([YEARS < 7, YEARS < 14], [125.0, 130.0], 135.0)


def slope(values: Floats) -> float:
    return float(np.polyfit(YEARS, values, 1)[0])


def above(cuts: Floats, drift: float) -> Floats:
    return mean_above(cuts, 110 + drift * YEARS, SD)


@pytest.mark.parametrize(("alpha", "expected"), [(0, 0.363), (1, 0.199), (1.645, 0.138), (2, 0.114)])
def test_the_part_of_a_change_that_the_mean_of_entries_shows(alpha: float, expected: float) -> None:
    assert mean_gain(alpha) == pytest.approx(expected, abs=5e-4)
    assert mean_gain(alpha) == pytest.approx(truncnorm.var(alpha, np.inf))


@pytest.mark.parametrize(
    ("share", "expected"), [(0.5, 1 - 2 / np.pi), (norm.sf(2), mean_gain(2)), (norm.sf(-2), mean_gain(-2))]
)
def test_the_part_by_the_share_above_the_cut(share: float, expected: float) -> None:
    assert mean_gain_of_share(share) == pytest.approx(expected)


def test_the_gain_of_the_rate_of_exceedance() -> None:
    """10.2 in a hundred for an inch, at a cut one standard deviation of 15 inches above the mean."""
    assert exceedance_gain(1) / SD == pytest.approx(0.102, abs=5e-4)


def test_gains_far_out_keep_their_digits() -> None:
    """Mills's ratio far out is 1 / alpha (1 - 1 / alpha^2 ...): the hazard is alpha + 1 / alpha - 2 / alpha^3 ..."""
    assert exceedance_gain(40.0) == pytest.approx(40 + 1 / 40 - 2 / 40**3, rel=1e-8)
    assert exceedance_gain([-40.0, 0.0]) == pytest.approx([0, np.sqrt(2 / np.pi)])


@pytest.mark.parametrize(("mean", "expected"), [(110, 0.1434), (100.5, 0.0826)])
def test_the_share_above_a_second_cut(mean: float, expected: float) -> None:
    assert share_above(125, 140, mean, SD) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize(("cut", "expected"), [(125, 132.8770), (130, 136.9720), (135, 141.2230)])
def test_the_mean_of_entries(cut: float, expected: float) -> None:
    """The R package truncnorm gives the same at 125."""
    assert mean_above(cut, 110, SD) == pytest.approx(expected, abs=5e-5)


def test_the_variance_of_entries() -> None:
    assert mean_gain(1) * SD**2 == pytest.approx(44.7970, abs=5e-5)  # R truncnorm


@pytest.mark.parametrize(
    ("drift", "cuts", "expected"),
    [(0, RAISED, 0.5487), (-0.5, RAISED, 0.4946), (0.5, 125.0, 0.1207), (-0.5, 125.0, -0.0832)],
)
def test_a_raised_minimum_makes_a_trend_of_its_own(drift: float, cuts: Floats, expected: float) -> None:
    """Least-squares slope of the mean of entries, inches a year: with a raised minimum it has the wrong sign."""
    assert slope(above(cuts, drift)) == pytest.approx(expected, abs=5e-5)


def test_at_the_common_minimum_the_trend_of_the_mean_is_small_and_right() -> None:
    assert slope(above(np.full(20, 135.0), 0)) == pytest.approx(0, abs=1e-12)
    assert slope(above(np.full(20, 135.0), -0.5)) == pytest.approx(-0.0579, abs=5e-5)


@pytest.mark.parametrize(
    ("drift", "cut", "expected"), [(0, 135, 0), (-0.5, 135, -7.56), (0.5, 125, 4.36), (-0.5, 125, -5.78)]
)
def test_the_trend_of_counts_above_a_common_minimum(drift: float, cut: float, expected: float) -> None:
    """In hundredths a year, from the least-squares slope of the logarithm of the share above the cut."""
    share = share_above(-np.inf, cut, 110 + drift * YEARS, SD)
    assert 100 * np.expm1(slope(np.log(share))) == pytest.approx(expected, abs=5e-3)
