"""Models of one series or table, held to the books' own examples."""

import math

import numpy as np
import pytest

from tests.warehouse.trends.nc_sids import both_periods
from warehouse.trends.arrays import Floats
from warehouse.trends.rate_models import effort_exponent, fit_rates, negative_binomial, trend_sensitivity

# Damage to ships by waves: type, built, period, months of service, incidents (McCullagh & Nelder 1989, Generalized
# Linear Models, sec. 6.3.2), the cells with service.
SHIPS = (
    ("A", 60, 60, 127, 0), ("A", 60, 75, 63, 0), ("A", 65, 60, 1095, 3), ("A", 65, 75, 1095, 4),
    ("A", 70, 60, 1512, 6), ("A", 70, 75, 3353, 18), ("A", 75, 75, 2244, 11), ("B", 60, 60, 44882, 39),
    ("B", 60, 75, 17176, 29), ("B", 65, 60, 28609, 58), ("B", 65, 75, 20370, 53), ("B", 70, 60, 7064, 12),
    ("B", 70, 75, 13099, 44), ("B", 75, 75, 7117, 18), ("C", 60, 60, 1179, 1), ("C", 60, 75, 552, 1),
    ("C", 65, 60, 781, 0), ("C", 65, 75, 676, 1), ("C", 70, 60, 783, 6), ("C", 70, 75, 1948, 2),
    ("C", 75, 75, 274, 1), ("D", 60, 60, 251, 0), ("D", 60, 75, 105, 0), ("D", 65, 60, 288, 0), ("D", 65, 75, 192, 0),
    ("D", 70, 60, 349, 2), ("D", 70, 75, 1208, 11), ("D", 75, 75, 2051, 4), ("E", 60, 60, 45, 0),
    ("E", 65, 60, 789, 7), ("E", 65, 75, 437, 7), ("E", 70, 60, 1157, 5), ("E", 70, 75, 2161, 12),
    ("E", 75, 75, 542, 1),
)  # fmt: skip
YEARS = np.arange(1990, 2020)


def ship_design() -> Floats:
    """Constant, types B to E, built 65, 70, 75, period 75."""
    return np.array([
        [1, *(kind == k for k in "BCDE"), *(built == b for b in (65, 70, 75)), period == 75]
        for kind, built, period, _, _ in SHIPS
    ], dtype=np.float64)  # fmt: skip


def sids_design() -> Floats:
    later = both_periods()["later"].to_numpy()
    return np.column_stack([np.ones(200), later])


def test_the_ships_have_their_published_fit() -> None:
    # R 4.2 glm, whose errors and dispersion are those of the step before the last; the book prints a deviance of 38.7
    # and a dispersion of 1.69 (from memory).
    service, incidents = [s[3] for s in SHIPS], [s[4] for s in SHIPS]
    assert (len(SHIPS), sum(incidents), sum(service)) == (34, 356, 163574)
    found = fit_rates(incidents, ship_design(), service)
    assert (found.deviance, found.df) == pytest.approx((38.695, 25), abs=5e-4)
    assert found.phi == pytest.approx(1.69103, rel=2e-5)
    assert found.params[[1, 5, 6, 7, 8]] == pytest.approx([-0.543344, 0.697140, 0.818427, 0.453427, 0.384467], abs=5e-7)
    assert (found.se_poisson[8], found.se_quasi[8]) == pytest.approx((0.118272, 0.153800), rel=2e-5)
    assert found.se_cluster is None


def test_the_two_periods_of_carolina_have_their_published_fit() -> None:
    # R 4.2 glm, the same by statsmodels 0.15; errors are those of the step before the last, so the last place differs.
    rows = both_periods()
    found = fit_rates(rows["count"], sids_design(), rows["effort"], groups=rows["place"])
    assert found.params[1] == pytest.approx(-0.0211177, abs=5e-8)
    assert (found.se_poisson[1], found.se_quasi[1]) == pytest.approx((0.0519166, 0.0731521), rel=2e-5)
    assert found.se_cluster is not None
    assert found.se_cluster[1] == pytest.approx(0.0681400, abs=1e-6)
    assert (found.deviance, found.df, found.phi) == pytest.approx((371.198, 198, 1.985), abs=5e-4)


def test_the_error_of_two_periods_is_that_of_a_log_ratio() -> None:
    # Closed form: the variance of the log of two Poisson counts' ratio is 1/n1 + 1/n2.
    rows = both_periods()
    expected = math.sqrt(sum(1 / n for n in rows.group_by("later").sum()["count"]))
    assert fit_rates(rows["count"], sids_design(), rows["effort"]).se_poisson[1] == pytest.approx(expected, rel=1e-9)


def test_the_two_periods_of_carolina_have_their_negative_binomial() -> None:
    # R 4.2 glm.nb (theta 9.20637), the same by statsmodels 0.15.
    rows = both_periods()
    found = negative_binomial(rows["count"], sids_design(), rows["effort"])
    assert found is not None
    assert found.params[1] == pytest.approx(-0.0230579, abs=2e-6)
    assert (found.alpha, 1 / found.alpha) == pytest.approx((0.108621, 9.20637), rel=2e-5)
    assert found.likelihood == pytest.approx(-476.9675, abs=5e-5)


def test_dispersion_under_1_does_not_narrow_the_errors() -> None:
    found = fit_rates([10] * 12, np.ones((12, 1)), [1.0] * 12)
    assert found.phi == pytest.approx(0, abs=1e-12)
    assert found.se_quasi[0] == found.se_poisson[0] == pytest.approx(1 / math.sqrt(120))  # closed form


@pytest.mark.parametrize(
    ("count", "told"), [([10] * 12, False), ([8, 12] * 6, False), ([6, 14] * 6, True), ([2, 18] * 6, True)]
)
def test_counts_have_an_alpha_where_their_variance_is_above_their_mean(count: list[int], told: bool) -> None:
    # Closed form: about a mean of 10 the variances are 0, 4, 16 and 64.
    found = negative_binomial(count, np.ones((12, 1)), [1.0] * 12)
    assert (found is not None) == told
    assert found is None or found.alpha > 0.01


def test_the_power_of_effort_is_found_exactly() -> None:
    # Closed form: counts that are the square of effort, and grow by no year.
    effort = np.array([3.0, 7, 2, 9, 4, 8, 5, 6, 3, 9])
    estimate, lower, upper = effort_exponent(YEARS[:10], effort**2, effort)
    assert estimate == pytest.approx(2, abs=1e-9)
    assert lower < 2 < upper


def test_the_power_of_effort_that_matters_is_1() -> None:
    random = np.random.default_rng(8)
    effort = 10 ** random.uniform(1, 3, 30)
    _, lower, upper = effort_exponent(YEARS, random.poisson(effort * np.exp(0.03 * (YEARS - 2005))), effort)
    assert lower < 1 < upper < 1.1
    _, lower, upper = effort_exponent(YEARS, random.poisson(200, 30), effort)
    assert lower < 0 < upper < 0.1


FLAT = (
    ([4, 5, 6, 3, 4], [2.0] * 5), ([4, 5, 6, 3, 4], [math.exp(k) for k in range(5)]), ([0] * 5, [1.0, 3, 2, 5, 4]),
    ([0, 0, 7, 0, 1], [1.0, 3, 2, 5, 4]), ([4, 5, 6], [1.0, 3, 2]),
)  # fmt: skip


@pytest.mark.parametrize(("count", "effort"), FLAT)
def test_effort_that_cannot_be_told_from_year_has_no_power(count: list[int], effort: list[float]) -> None:
    assert all(math.isnan(figure) for figure in effort_exponent(YEARS[: len(count)], count, effort))


def test_the_negative_binomial_finds_the_trend_that_is_there() -> None:
    random = np.random.default_rng(3)
    effort = random.uniform(100, 900, 30)
    mean = effort * np.exp(0.05 * (YEARS - 2005)) / 10
    found = trend_sensitivity(YEARS, random.negative_binomial(4, 4 / (4 + mean)), effort)
    assert found is not None
    assert found.lower < 100 * math.expm1(0.05) < found.upper
    assert found.lower < found.percent < found.upper < found.lower + 8
    assert 0.1 < found.alpha < 0.6


@pytest.mark.parametrize("count", [[0] * 30, [0] * 29 + [8], [6] * 30])
def test_a_series_that_cannot_scatter_has_no_sensitivity(count: list[int]) -> None:
    assert trend_sensitivity(YEARS, count, np.ones(30)) is None


@pytest.mark.parametrize("unit", [1.0, 1e-6, 1e6])
def test_the_unit_of_effort_does_not_move_the_sensitivity(unit: float) -> None:
    draw = np.random.default_rng(4)
    years, effort = np.arange(2006, 2026), draw.uniform(800, 1200, 20)
    counts = draw.poisson(draw.gamma(5, effort * 0.004))
    plain, scaled = trend_sensitivity(years, counts, effort), trend_sensitivity(years, counts, effort * unit)
    assert plain is not None
    assert scaled is not None
    assert (scaled.percent, scaled.alpha) == pytest.approx((plain.percent, plain.alpha), rel=1e-4)
