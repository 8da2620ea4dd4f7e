"""The proof that matters: a minimum that is raised must make no trend, and hide none.

2,000 bucks a season, normal with SD 15 inches, twenty seasons; the minimum is 125, 130 from the eighth season and 135 from
the fifteenth. Expected slopes are closed form (truncated normal).
"""

import numpy as np
import numpy.typing as npt
import polars as pl
import pytest
from scipy.stats import norm, truncnorm

from warehouse.trends.common_minimum import common_minimum
from warehouse.trends.places import place_trends
from warehouse.trends.rank_trend import mann_kendall

Floats = npt.NDArray[np.float64]

SEASONS, BUCKS, MEAN, SD, SECOND = 20, 2000, 110.0, 15.0, 15
MINIMUMS = np.array([125.0] * 7 + [130.0] * 7 + [135.0] * 6)
YEARS = np.arange(2006, 2006 + SEASONS)
FALL_BY_YEAR = -7.56  # per cent a year of the chance to be above 135, a mean falling half an inch a year: closed form


def simulated(seed: int, drift: float, runs: int = 1, sent: npt.ArrayLike = 1.0) -> Floats:
    """Scores in inches on the grid of eighths, shape (runs, season, buck); NaN: not sent in."""
    draw = np.random.default_rng(seed)
    mean = MEAN + drift * np.arange(SEASONS)
    scores = np.round(draw.normal(mean[None, :, None], SD, (runs, SEASONS, BUCKS)) * 8) / 8
    return np.where(draw.random(scores.shape) < np.broadcast_to(sent, SEASONS)[None, :, None], scores, np.nan)


def common_cut() -> float:
    rows = {
        "season": [f"{year}" for year in YEARS],
        "weapon": "any",
        "antler_state": "hard",
        "minimum_units": (MINIMUMS * 8).astype(int),
        "score": "net",
    }
    units = common_minimum(pl.DataFrame(rows)).units
    assert units is not None
    return units / 8


def counted(scores: Floats, cut: float) -> pl.DataFrame:
    """What a book holds of every run, counted at or above the cut and the second one."""
    above, second = ((scores >= at).sum(axis=2) for at in (cut, cut + SECOND))
    rows = {"series": np.repeat(np.arange(len(scores)), SEASONS), "year": np.tile(YEARS, len(scores)), "entries": above.ravel(),
            "all_entries": above.ravel(), "above_second": second.ravel(), "effort": float(BUCKS)}  # fmt: skip
    return pl.DataFrame(rows)


def plain_means(scores: Floats) -> Floats:
    """The mean of what each season's own minimum let in, shape (runs, season)."""
    entered = np.where(scores >= MINIMUMS[None, :, None], scores, np.nan)
    return np.asarray(np.nanmean(entered, axis=2))


def test_the_exact_plain_mean_rises_while_the_herd_falls() -> None:
    """The wrong sign, from the raised minimum alone: +0.4946 inches a year where the truth is -0.5 (closed form)."""
    mean = MEAN - 0.5 * np.arange(SEASONS)
    means = truncnorm.mean((MINIMUMS - mean) / SD, np.inf, loc=mean, scale=SD)
    assert np.polyfit(YEARS, means, 1)[0] == pytest.approx(0.4946, abs=5e-5)


def test_the_expected_fall_of_the_rate_is_that_of_the_normal_tail() -> None:
    """Least squares of the tail's logarithm; a trend that weighs seasons by their counts bends a tenth less."""
    chance = norm.sf(135, MEAN - 0.5 * np.arange(SEASONS), SD)
    assert np.expm1(np.polyfit(YEARS, np.log(chance), 1)[0]) * 100 == pytest.approx(FALL_BY_YEAR, abs=0.005)
    counts = np.round(chance * 1e7).astype(int)
    expected = {"series": 0, "year": YEARS, "entries": counts, "all_entries": counts, "above_second": 0, "effort": 1.0}
    assert place_trends(pl.DataFrame(expected))["percent"][0] == pytest.approx(FALL_BY_YEAR, abs=0.1)


@pytest.mark.parametrize("seed", [20240901, 3, 4, 5])
def test_a_falling_herd_reads_as_a_fall_of_the_right_size(seed: int) -> None:
    scores = simulated(seed, -0.5)
    assert np.polyfit(YEARS, plain_means(scores)[0], 1)[0] > 0.4  # what a plain mean would tell
    told = place_trends(counted(scores, common_cut())).row(0, named=True)
    assert told["percent_lower"] < FALL_BY_YEAR < told["percent_upper"] < -5
    assert told["verdict"] in ("both-down", "rate-down-alone")


def test_without_a_change_one_run_in_twenty_is_called_one() -> None:
    """300 runs without any change: at 5 per cent no more than 7 in a hundred may reject, where the plain mean rejects all.

    Somewhat fewer than 5 do: a dispersion under 1 is not believed.
    """
    scores = np.concatenate([simulated(seed, 0.0, 50) for seed in range(6)])
    told = place_trends(counted(scores, common_cut()))
    assert 0.01 <= np.mean(told["p"].to_numpy() < 0.05) <= 0.07
    assert all(mann_kendall(YEARS, means).p < 0.05 for means in plain_means(scores)[:20])


def test_more_zeal_in_sending_in_is_not_read_as_more_big_deer() -> None:
    """Sending-in doubles from 40 to 80 in a hundred, sizes unchanged: the rate rises 4 % a year in every run, and in no
    more than a chance twentieth does the share seem to back it.
    """
    scores = simulated(8, 0.0, 60, np.linspace(0.4, 0.8, SEASONS))
    told = place_trends(counted(scores, common_cut()))
    assert np.mean(told["lower"].to_numpy() > 0) > 0.9
    assert told["verdict"].is_in(["rate-up-alone", "neither"]).sum() >= 0.9 * told.height
    assert (told["verdict"] == "both-up").sum() <= 0.05 * told.height


def test_the_share_sees_a_fall_through_any_zeal() -> None:
    """Sending-in doubles while the herd falls half an inch a year: the rate alone is nearly level, the share falls."""
    told = place_trends(counted(simulated(9, -0.5, 40, np.linspace(0.4, 0.8, SEASONS)), common_cut()))
    assert np.median(told["share_slope"].to_numpy()) < -0.01
    assert (told["verdict"] != "both-up").all()
