"""Chain ladder, Mack's error and the over-dispersed Poisson model.

Sources: triangles as in `published_triangles`; figures from chainladder 0.10.1, statsmodels 0.15.0 and the papers
named.
"""

import numpy as np
import pytest

from tests.warehouse.trends.poisson_glm import fitted
from tests.warehouse.trends.published_triangles import RAA, TAYLOR_ASHE, Floats, triangle
from warehouse.trends.completeness import chain_ladder, development, mack_error, over_dispersed_poisson

# chainladder 0.10.1 and Mack 1993, ASTIN Bull. 23:213-225
FACTORS = [3.4906, 1.7473, 1.4574, 1.1739, 1.1038, 1.0863, 1.0539, 1.0766, 1.0177]
OUTSTANDING = [0, 94634, 469511, 709638, 984889, 1419459, 2177641, 3920301, 4278972, 4625811]
COMPLETENESS = [0.0692, 0.2416, 0.4222, 0.6153, 0.7223, 0.7973, 0.8661, 0.9127, 0.9826, 1]  # closed form
LATE_STARTERS = triangle("0 0 5 9 10\n0 0 3 8\n0 0 6\n0 0\n0")


def filling(seed: int, seasons: int = 9, ages: int = 6) -> Floats:
    """Counts of seasons that fill up alike, clumped (three by three), with an age at which nothing arrives."""
    source = np.random.default_rng(seed)
    shares = np.array([0.3, 0.3, 0.0, 0.2, 0.15, 0.05][:ages])
    arrivals = 3 * source.poisson(source.uniform(20, 60, seasons)[:, None] * shares)
    counts = arrivals.cumsum(axis=1).astype(np.float64)
    return np.where(np.add.outer(np.arange(seasons), np.arange(ages)) < seasons, counts, np.nan)


def test_factors_and_completeness_of_taylor_and_ashe() -> None:
    assert development(TAYLOR_ASHE) == pytest.approx(FACTORS, abs=5e-5)
    assert chain_ladder(TAYLOR_ASHE).completeness == pytest.approx(COMPLETENESS, abs=5e-5)


def test_what_is_outstanding_of_taylor_and_ashe() -> None:
    found = chain_ladder(TAYLOR_ASHE)
    assert found.outstanding == pytest.approx(OUTSTANDING, abs=0.5)
    assert found.total == pytest.approx(18_680_856, abs=0.5)
    assert found.latest + found.outstanding == pytest.approx(found.ultimate)


def test_what_is_outstanding_of_the_raa() -> None:
    assert chain_ladder(RAA).total == pytest.approx(52_135, abs=0.5)  # chainladder 0.10.1


@pytest.mark.parametrize(("rows", "expected"), [(TAYLOR_ASHE, 2_447_095), (RAA, 26_909)])
def test_the_error_of_mack(rows: Floats, expected: float) -> None:
    """chainladder 0.10.1 with sigma_interpolation="mack"; the first in Mack 1993, both published (from memory)."""
    assert mack_error(rows) == pytest.approx(expected, abs=0.5)


def test_the_poisson_model_of_taylor_and_ashe() -> None:
    """statsmodels 0.15.0; England & Verrall 2002 report 52,601 and 2,945,659 (from memory)."""
    found = over_dispersed_poisson(TAYLOR_ASHE)
    assert found.phi == pytest.approx(52_601, abs=0.5)
    assert found.total_error == pytest.approx(2_945_646, abs=0.5)
    assert found.outstanding == pytest.approx(OUTSTANDING, abs=0.5)


@pytest.mark.parametrize("rows", [TAYLOR_ASHE, filling(1), filling(2), filling(3, 12), filling(4, 6)])
def test_the_closed_form_is_the_iterated_fit(rows: Floats) -> None:
    found, expected = over_dispersed_poisson(rows), fitted(rows)
    assert found.phi == pytest.approx(expected.phi, rel=1e-8)
    assert found.outstanding == pytest.approx(expected.outstanding, rel=1e-8)
    assert found.prediction_error == pytest.approx(expected.prediction_error, rel=1e-6)
    assert found.total_error == pytest.approx(expected.total_error, rel=1e-6)


def test_a_season_with_nothing_yet_leaves_the_others_as_they_are() -> None:
    rows = filling(5)
    with_empty = rows.copy()
    with_empty[-2, :2] = 0.0
    found, expected = over_dispersed_poisson(with_empty), fitted(with_empty)
    assert found.outstanding[-2] == found.prediction_error[-2] == 0
    assert found.prediction_error == pytest.approx(expected.prediction_error, rel=1e-6)


def test_counts_less_spread_than_poisson_are_taken_as_poisson() -> None:
    even = np.add.outer(np.zeros(5), np.array([40.0, 60, 70, 76, 80]))
    even[np.add.outer(np.arange(5), np.arange(5)) > 4] = np.nan
    assert over_dispersed_poisson(even).phi == 1


def test_before_the_first_possible_delay_nothing_is_told() -> None:
    found = chain_ladder(LATE_STARTERS)
    assert found.factors == pytest.approx([np.nan, np.nan, 17 / 8, 10 / 9], nan_ok=True)  # closed form
    assert found.completeness == pytest.approx([0, 0, 8 / 17 * 0.9, 0.9, 1])
    assert found.outstanding == pytest.approx([0, 8 / 9, 6 / (8 / 17 * 0.9) - 6, np.nan, np.nan], nan_ok=True)


def test_before_the_first_possible_delay_the_model_tells_what_it_can() -> None:
    found, expected = over_dispersed_poisson(LATE_STARTERS), fitted(LATE_STARTERS[:3])
    assert found.phi == 1 > expected.phi
    assert found.prediction_error[:3] == pytest.approx(expected.prediction_error / np.sqrt(expected.phi), rel=1e-6)
    assert np.isnan(found.prediction_error[3:]).all()
    assert np.isnan(found.total_error)


def test_a_book_without_any_entry_has_no_factors() -> None:
    found = chain_ladder(np.where(np.tri(4)[::-1] > 0, 0.0, np.nan))
    assert np.isnan(found.factors).all()
    assert np.isnan(found.outstanding[1:]).all()


def test_no_season_has_nothing_outstanding() -> None:
    assert chain_ladder(np.zeros((0, 0))).total == 0
    assert over_dispersed_poisson(np.zeros((0, 4))).total_error == 0


def test_factors_of_the_newest_seasons_only() -> None:
    rows = triangle("10 40 44\n10 20 22\n30 60\n5")[:, :3]
    assert development(rows, newest=1) == pytest.approx([2, 1.1])
    assert development(rows, newest=2) == pytest.approx([80 / 40, 66 / 60])
    assert development(rows) == pytest.approx([120 / 50, 66 / 60])


def test_the_newest_seasons_as_a_triangle_without_its_upper_left() -> None:
    blanked = TAYLOR_ASHE.copy()
    blanked[np.add.outer(np.arange(10), np.arange(10)) < 6] = np.nan  # three steps of every season stay
    found, expected = over_dispersed_poisson(TAYLOR_ASHE, newest=3), over_dispersed_poisson(blanked)
    assert development(TAYLOR_ASHE, newest=3) == pytest.approx(development(blanked))
    assert (found.phi, found.total_error) == pytest.approx((expected.phi, expected.total_error))


def test_a_season_whose_first_ages_are_unknown_tells_of_the_later_ones() -> None:
    rows = triangle("1 40 44\n10 20\n30")
    rows[0, 0] = np.nan
    found = chain_ladder(rows)
    assert found.factors == pytest.approx([2, 1.1])
    assert found.outstanding == pytest.approx([0, 2, 36])


def test_the_error_covers_what_arrives() -> None:
    """Simulated, 600 triangles: the true rest lies within 1.96 standard errors about 95 times in 100."""
    within = [_covered(seed) for seed in range(600)]
    assert np.mean(within) == pytest.approx(0.95, abs=0.03)


def _covered(seed: int) -> bool:
    arrivals = np.random.default_rng(seed).poisson(np.array([60.0, 50, 30, 15, 5]), (8, 5))
    counts = arrivals.cumsum(axis=1).astype(np.float64)
    seen = np.add.outer(np.arange(8), np.arange(5)) < 8
    found = over_dispersed_poisson(np.where(seen, counts, np.nan))
    rest = np.where(seen, 0.0, arrivals).sum()
    return bool(abs(rest - found.outstanding.sum()) < 1.96 * found.total_error)
