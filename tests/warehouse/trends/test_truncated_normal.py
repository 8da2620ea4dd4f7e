"""The true mean behind entries above a minimum.

Expected values of the twenty scores: R package truncnorm, maximised by R's optim.
"""

import numpy as np
import numpy.typing as npt
import pytest
from scipy.stats import norm, truncnorm

from warehouse.trends.truncated_normal import fit_free, fit_mean, moments_fit, trend

Floats = npt.NDArray[np.float64]

SCORES = np.array([
    125.125, 125.375, 126, 126.5, 127.125, 128, 128.625, 129.75, 130.25, 131.5, 132.875, 134, 135.625, 137.25, 139.5,
    142.125, 145.875, 150.5, 127.25, 126.875,
])  # fmt: skip
MINIMUM = np.full(20, 125.0)
STEP = 1 / 8


def entries(drift: float, seed: int) -> tuple[Floats, Floats, Floats]:
    """Scores, years and minimums of 2,000 heads a year, N(110 + drift * year, 15), the minimum raised twice."""
    source = np.random.default_rng(seed)
    years = np.repeat(np.arange(20.0), 2_000)
    scores = np.round(source.normal(110 + drift * years, 15) * 8) / 8
    minimums = np.select([years < 7, years < 14], [125.0, 130.0], 135.0)
    kept = scores >= minimums
    return scores[kept], years[kept], minimums[kept]


def test_a_known_standard_deviation_tells_the_mean() -> None:
    found = fit_mean(SCORES, MINIMUM, 15)
    assert found.entries == 20
    assert found.mean == pytest.approx(108.07, abs=5e-3)
    assert found.log_likelihood == pytest.approx(-60.4218, abs=5e-5)


def test_with_the_standard_deviation_free_entries_do_not_tell_the_mean() -> None:
    """A mean of 38 inches is no less likely than one of 108."""
    found = fit_free(SCORES, MINIMUM)
    assert (found.mean, found.sd) == pytest.approx((38.3, 27.5), abs=0.05)
    assert found.log_likelihood == pytest.approx(-60.2763, abs=5e-5)


def test_the_likelihood_of_a_whole_step_is_that_of_its_probability() -> None:
    """Closed form, straight from the distribution function."""
    found = fit_mean(SCORES, MINIMUM, 15, grid=STEP)
    cells = norm.cdf(SCORES + STEP / 2, found.mean, 15) - norm.cdf(SCORES - STEP / 2, found.mean, 15)
    assert found.log_likelihood == pytest.approx(np.log(cells / norm.sf(125 - STEP / 2, found.mean, 15)).sum())
    assert found.mean == pytest.approx(fit_mean(SCORES, MINIMUM - STEP / 2, 15).mean, abs=1e-2)


@pytest.mark.parametrize("grid", [None, STEP])
@pytest.mark.parametrize("away", [-0.5, 0.5])
def test_no_mean_is_likelier(grid: float | None, away: float) -> None:
    minimums = np.where(np.arange(20) < 10, 120.0, 125.0)
    found = fit_mean(SCORES, minimums, 15, grid)
    half = (grid or 0) / 2
    density = norm.logpdf(SCORES, found.mean + away, 15) if grid is None else np.log(
        norm.cdf(SCORES + half, found.mean + away, 15) - norm.cdf(SCORES - half, found.mean + away, 15)
    )  # fmt: skip
    assert (density - norm.logsf(minimums - half, found.mean + away, 15)).sum() < found.log_likelihood


def test_the_error_is_the_inverse_root_of_the_information() -> None:
    """Closed form: the information of an entry is the variance above the cut over sd^4."""
    found = fit_mean(SCORES, MINIMUM, 15)
    cut = (125 - found.mean) / 15
    assert found.se == pytest.approx(15 / np.sqrt(20 * truncnorm.var(cut, np.inf)))


def test_a_decline_is_seen_through_two_raised_minimums() -> None:
    """True slope -.5; the slope of the mean of entries has the wrong sign, about +.47 (closed form: +.4946)."""
    scores, years, minimums = entries(-0.5, seed=20240901)
    found = trend(scores, years, minimums, 15, grid=STEP)
    assert found.slope == pytest.approx(-0.5, abs=2 * found.se)
    assert found.slope + 2 * found.se < 0
    means = [scores[years == year].mean() for year in range(20)]
    assert np.polyfit(np.arange(20), means, 1)[0] > 0.4


def test_no_trend_is_found_where_only_minimums_rose() -> None:
    """Simulated, 60 books: 95 in 100 intervals of the slope hold 0."""
    found = [trend(*entries(0, seed), 15, grid=STEP) for seed in range(60)]
    assert np.mean([abs(one.slope) < 1.96 * one.se for one in found]) >= 0.88


def test_thirty_scores_tell_the_mean_only_with_the_standard_deviation() -> None:
    """300 samples of N(110, 15) above 125, run in R: known sd 96.9 to 119.0 (5 and 95 %), median 109.5; free: -1.3e6 to
    130.5.

    Here 100 samples of another stream, and 20 of them with the standard deviation free.
    """
    minimums = np.full(30, 125.0)
    samples = truncnorm.rvs(1, np.inf, 110, 15, size=(100, 30), random_state=np.random.default_rng(9))
    low, median, high = np.percentile([fit_mean(sample, minimums, 15).mean for sample in samples], [5, 50, 95])
    assert (low, median, high) == (pytest.approx(96.9, abs=4), pytest.approx(109.5, abs=2.5), pytest.approx(119, abs=3))
    assert min(fit_free(sample, minimums).mean for sample in samples[:20]) < 0


def test_the_fit_from_moments() -> None:
    """Cohen 1959, Technometrics 1:217-237: n 100, T .1215, mean .124624, s2 2.1106e-6 (from memory); answer closed
    form.
    """
    found = moments_fit(0.124624, 2.1106e-6, 0.1215)
    assert (found.mean, found.sd) == pytest.approx((0.1245299, 0.00155065), rel=1e-5)
    assert (0.1215 - found.mean) / found.sd == pytest.approx(-1.95397, abs=5e-6)


def test_the_fit_from_moments_is_the_free_fit() -> None:
    found, expected = moments_fit(SCORES.mean(), SCORES.var(), 125), fit_free(SCORES, MINIMUM)
    assert (found.mean, found.sd) == pytest.approx((expected.mean, expected.sd), rel=1e-3)
    assert found.log_likelihood * 20 == pytest.approx(expected.log_likelihood)


def test_moments_heavier_than_any_normal_tail_are_refused() -> None:
    with pytest.raises(ValueError, match=r"^no truncated normal has a variance of 1\.2 times its squared mean excess$"):
        moments_fit(135, 120, 125)
