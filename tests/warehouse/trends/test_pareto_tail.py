"""Generalised Pareto tails.

Source of the rain figures: Coles 2001, An Introduction to Statistical Modeling of Extreme Values, section 4.4.1, which
prints 7.44, .184, -485.1 and 106.3 (from memory); the further digits are of scipy 1.17.1, and of the R package evd to
1e-3.
"""

import numpy as np
import numpy.typing as npt
import polars as pl
import pytest
from scipy.stats import genpareto

from tests.warehouse.trends.daily_rain import DAYS, RAIN, RAIN_OVER_20
from warehouse.trends.pareto_tail import STABILITY, ParetoTail, fit_tail, profile_shape, return_level, stability

CENTURY = 100 * 365
RISES = (
    0.00071, 0.00237, 0.00613, 0.00807, 0.04368, 0.0699, 0.07476, 0.10416, 0.14461, 0.14627, 0.16629, 0.18866, 0.21382, 0.23841, 0.25208,
    0.30296, 0.31717, 0.33557, 0.36481, 0.37934, 0.39942, 0.47974, 0.51389, 0.56991, 0.60487, 0.64997, 0.70972, 0.79843, 1.07384, 1.20506,
    1.21129, 1.32061, 1.75354, 2.0647, 2.60084, 2.80952, 2.86053,
)  # fmt: skip


def tail_of(excesses: npt.NDArray[np.float64]) -> ParetoTail:
    found = fit_tail(excesses)
    assert found is not None
    return found


def drawn(shape: float, entries: int, seed: int) -> npt.NDArray[np.float64]:
    return np.asarray(genpareto.rvs(shape, scale=8, size=entries, random_state=np.random.default_rng(seed)))


def test_the_tail_of_daily_rain() -> None:
    found = tail_of(RAIN - 30)
    assert (found.entries, RAIN.size) == (152, 152)
    assert (found.scale, found.shape) == pytest.approx((7.4403, 0.18450), abs=5e-5)
    assert found.log_likelihood == pytest.approx(-485.0937, abs=5e-5)


def test_the_errors_of_the_tail_of_daily_rain() -> None:
    found = tail_of(RAIN - 30)
    assert found.covariance == pytest.approx(np.array([[0.9188, -0.0655], [-0.0655, 0.0102]]), abs=5e-5)
    assert (found.scale_se, found.shape_se) == pytest.approx((0.9585, 0.1012), abs=5e-5)


def test_the_hundred_years_level_of_daily_rain() -> None:
    found = return_level(tail_of(RAIN - 30), 30, 152 / DAYS, CENTURY)
    assert found is not None
    assert found.level == pytest.approx(106.328, abs=5e-4)
    assert (found.lower, found.upper) == pytest.approx((65.48, 147.18), abs=5e-3)


def test_the_profile_interval_of_the_shape_of_daily_rain() -> None:
    assert profile_shape(RAIN - 30) == pytest.approx((0.0136, 0.4154), abs=5e-5)


def test_the_tail_of_daily_rain_at_a_higher_cut() -> None:
    """scipy 1.17.1. Modified scale in closed form."""
    found = stability(RAIN, [30, 40, 60]).to_dicts()
    assert [row["entries"] for row in found] == [152, 44, 6]
    assert [found[1][name] for name in ("scale", "shape", "mean_excess")] == pytest.approx(
        [11.7833, 0.0134, 11.9432], abs=5e-5
    )
    assert found[1]["modified_scale"] == pytest.approx(11.7833 - 0.0134 * 40, abs=3e-3)
    assert found[2] == {
        "cut": 60, "entries": 6, "scale": None, "modified_scale": None, "shape": None,
        "mean_excess": pytest.approx(18.6),
    }  # fmt: skip


def test_the_tail_of_daily_rain_at_a_lower_cut() -> None:
    """scipy 1.17.1."""
    (found,) = stability(RAIN_OVER_20, [20]).to_dicts()
    assert [found[name] for name in ("entries", "scale", "shape", "mean_excess")] == pytest.approx(
        [570, 6.8328, 0.1324, 7.8714], abs=5e-5
    )


def test_the_tail_of_daily_rises_of_a_share_index() -> None:
    """Coles 2001, section 4.4.2, prints .495 and .288 (from memory); the further digits are of scipy 1.17.1.

    Data `dowjones` of the R package ismev 1.43: 100 times the differences of the logarithms, above 2.
    """
    found = tail_of(np.array(RISES))
    assert (found.entries, found.scale, found.shape) == pytest.approx((37, 0.49513, 0.28783), abs=2e-5)
    assert found.log_likelihood == pytest.approx(-21.6402, abs=1e-4)


def test_a_cut_above_every_score_has_no_mean_excess() -> None:
    found = stability(np.array([125.0]), [130])
    assert found.equals(pl.DataFrame([[130.0, 0, None, None, None, None]], schema=STABILITY, orient="row"))


@pytest.mark.parametrize("shape", [-0.7, -0.45, -0.2, 0.0, 0.3, 0.8, 1.5])
@pytest.mark.parametrize("entries", [40, 400])
def test_no_point_is_likelier_than_where_the_library_finds_it(shape: float, entries: int) -> None:
    excesses = drawn(shape, entries, seed=3)
    found = tail_of(excesses)
    library_shape, _, library_scale = genpareto.fit(excesses, floc=0)
    likeliest = genpareto.logpdf(excesses, library_shape, 0, library_scale).sum()
    assert found.log_likelihood == pytest.approx(likeliest, abs=1e-5)
    assert (found.shape, found.scale) == pytest.approx((library_shape, library_scale), abs=2e-3)


def test_scores_on_the_grid_stand_for_half_a_step_more() -> None:
    """An exponential tail of mean 8, rounded to eighths; its mean excess over the cut less 1/16 is 8 (closed form)."""
    scores = 125 + np.round(np.random.default_rng(5).exponential(8, 40_000) * 8) / 8
    found = stability(scores[scores >= 126], [126], grid=1 / 8)
    assert found["mean_excess"].item() == pytest.approx(8, abs=0.12)
    assert found["shape"].item() == pytest.approx(0, abs=0.02)


def test_a_bounded_tail_has_no_errors() -> None:
    found = tail_of(drawn(-0.9, 400, seed=4))
    assert found.shape < -0.5
    assert (found.covariance, found.scale_se, found.shape_se) == (None, None, None)
    level = return_level(found, 125, 0.01, 1000)
    assert level is not None
    assert level.level == pytest.approx(125 + genpareto.isf(0.1, found.shape, scale=found.scale))
    assert (level.lower, level.upper) == (None, None)


def test_a_head_below_the_cut_has_no_level() -> None:
    assert return_level(tail_of(RAIN - 30), 30, 0.0005, 1000) is None


def test_fewer_than_thirty_or_all_alike_have_no_tail() -> None:
    excesses = drawn(0.1, 30, seed=1)
    assert fit_tail(excesses[:29]) is None
    assert fit_tail(np.full(30, 4.5)) is None
    assert profile_shape(excesses[:29]) is None
    assert fit_tail(excesses) is not None


def test_the_profile_interval_stops_where_there_is_no_maximum() -> None:
    found = profile_shape(drawn(-0.9, 40, seed=1))
    assert found is not None
    assert (found[0], found[1] < 0) == (-1, True)


def test_the_profile_interval_holds_the_true_shape() -> None:
    """Simulated, 100 samples of 60: about 95 in 100."""
    found = [profile_shape(drawn(-0.1, 60, seed)) for seed in range(100)]
    within = [interval is not None and interval[0] <= -0.1 <= interval[1] for interval in found]
    assert np.mean(within) == pytest.approx(0.95, abs=0.04)


def test_counted_excesses_are_those_one_by_one() -> None:
    values, times = np.unique(RAIN - 30, return_counts=True)
    assert tail_of(RAIN - 30).scale == fit_tail(values, times).scale  # type: ignore[union-attr]
    assert stability(values + 30, [30, 40], counts=times).equals(stability(RAIN, [30, 40]))
