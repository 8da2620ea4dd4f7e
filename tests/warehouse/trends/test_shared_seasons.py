"""Areas that share their seasons: what they come to together is as sure as the seasons let it be, and no surer."""

import numpy as np
import numpy.typing as npt
import polars as pl
import pytest

from warehouse.trends.many_series import Combined
from warehouse.trends.rate_trend import rate_trends
from warehouse.trends.shared_seasons import combine_areas

SEASONS, AREAS = 15, 30


def region(seed: int, shared: float = 0.0, slopes: npt.ArrayLike = 0.0, entries: float = 12.0) -> pl.DataFrame:
    """Counts of 30 areas over 15 seasons about `entries`, each area's log rate with its slope, all moved by the season."""
    draw = np.random.default_rng(seed)
    time = np.arange(SEASONS) - (SEASONS - 1) / 2
    season = draw.normal(0, shared, SEASONS)
    rates = np.exp(np.broadcast_to(slopes, AREAS)[:, None] * time + season) * draw.uniform(0.5, 2, AREAS)[:, None]
    return pl.DataFrame({"series": np.repeat(np.arange(AREAS), SEASONS), "year": np.tile(np.arange(2010, 2010 + SEASONS), AREAS),
                         "entries": draw.poisson(entries * rates).ravel(), "effort": 1000.0})  # fmt: skip


def combined(series: pl.DataFrame) -> Combined:
    found, _ = combine_areas(series, rate_trends(series.rename({"entries": "count"})))
    assert found is not None
    return found


@pytest.mark.parametrize("shared", [0.0, 0.1, 0.3])
def test_the_interval_holds_the_truth_although_areas_share_their_seasons(shared: float) -> None:
    """80 regions without a trend; of 95 per cent intervals at least 88 in 100 hold it (treated as independent: 37)."""
    inside = [found.lower < 0 < found.upper for found in (combined(region(seed, shared)) for seed in range(80))]
    assert np.mean(inside) >= 0.88


def test_like_areas_are_told_as_alike_whatever_the_seasons_were() -> None:
    """Five in a hundred are called unlike by chance."""
    unlike = [combined(region(seed, 0.3)).q_p < 0.05 for seed in range(50)]
    assert sum(unlike) <= 7


def test_unlike_areas_are_told_as_unlike_although_seasons_cover_it_up() -> None:
    slopes = np.where(np.arange(AREAS) % 2, 0.06, -0.06)
    found = [combined(region(seed, 0.3, slopes)) for seed in range(20)]
    assert all(told.i2 > 50 for told in found)
    assert sum(told.lower < 0 < told.upper for told in found) >= 17


def test_the_common_trend_is_found() -> None:
    found = combined(region(1, 0.05, 0.05))
    assert found.lower < 0.05 < found.upper
    assert found.upper - found.lower < 0.05


def test_areas_without_a_trend_are_left_out_and_counted() -> None:
    series = region(1)
    short = series.filter((pl.col("series") > 0) | (pl.col("year") < 2013))
    found, drawn = combine_areas(short, rate_trends(short.rename({"entries": "count"})))
    assert found is not None
    assert (found.members, found.left_out) == (AREAS - 1, 1)
    assert drawn.null_count() == 1


def test_one_area_alone_comes_to_nothing() -> None:
    one = region(1).filter(series=3)
    found, drawn = combine_areas(one, rate_trends(one.rename({"entries": "count"})))
    assert found is None
    assert drawn.to_list() == [None]


def test_every_area_is_drawn_towards_the_common_slope() -> None:
    series = region(2, 0.1, np.linspace(-0.05, 0.05, AREAS))
    trends = rate_trends(series.rename({"entries": "count"}))
    found, drawn = combine_areas(series, trends)
    assert found is not None
    off, still_off = (np.abs(slopes.to_numpy() - found.slope) for slopes in (trends["slope"], drawn))
    assert (still_off <= off).all()
    assert 0.3 < still_off.sum() / off.sum() < 1
