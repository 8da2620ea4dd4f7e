"""The mean of all bucks under a spread known from elsewhere: the minimum that is raised does not move it."""

import numpy as np
import polars as pl
import pytest

from warehouse.trends.spread_trend import BESIDE, spread_trends

SEASONS, BUCKS, SD = 20, 2000, 15.0
MINIMUMS = np.array([1000] * 7 + [1040] * 7 + [1080] * 6)


def entries(drift: float, seed: int = 20240901, shift: float = 0.0) -> pl.DataFrame:
    """Counted entries of a normal herd about 110 inches, its mean moving by `drift` a year and by chance from season to season,
    under a minimum that is raised.
    """
    draw, moved = np.random.default_rng(seed), np.random.default_rng([seed, 1]).normal(0, 1, (SEASONS, 1))
    scores = np.rint(
        draw.normal(110 + drift * np.arange(SEASONS)[:, None] + shift * moved, SD, (SEASONS, BUCKS)) * 8
    ).astype(np.int64)
    year, buck = np.nonzero(scores >= MINIMUMS[:, None])
    rows = pl.DataFrame({"year": year + 2006, "minimum_units": MINIMUMS[year], "score_units": scores[year, buck]})
    return rows.group_by("year", "minimum_units", "score_units").agg(pl.len().alias("entries"))


@pytest.mark.parametrize("drift", [-0.5, 0.0, 0.5])
def test_the_drift_is_recovered_with_the_right_spread(drift: float) -> None:
    less, right, more = spread_trends(entries(drift), SD, 8)
    assert (less.sd, right.sd, more.sd) == (SD - BESIDE, SD, SD + BESIDE)
    assert right.lower < drift < right.upper
    assert right.slope == pytest.approx(drift, abs=0.08)


def test_another_spread_tells_another_drift() -> None:
    less, right, more = spread_trends(entries(-0.5), SD, 8)
    assert more.slope < right.slope < less.slope < 0


def test_under_eight_seasons_nothing_is_told() -> None:
    assert spread_trends(entries(0.0).filter(pl.col("year") < 2013), SD, 8) == ()


def test_the_limits_allow_for_what_a_season_was_like() -> None:
    """Seasons that differ by 2 inches (SD): of 60 regions without a drift at least 52 limits hold it."""
    told = [spread_trends(entries(0.0, seed, shift=2.0), SD, 8)[1] for seed in range(60)]
    assert sum(spread.lower < 0 < spread.upper for spread in told) >= 52
