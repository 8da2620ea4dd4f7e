"""A whole region simulated, loaded by the real loader, and its known trends recovered from the book."""

from pathlib import Path

import numpy as np
import polars as pl
import pytest

from tests.region_trends import recover
from tests.simulated_region import MINIMUMS, RAISED_TO, SEASONS, Region

REGIONS = 20  # of the nightly 200: python -m tests.benchmarks.nightly_regions


@pytest.fixture(scope="module")
def recovered(tmp_path_factory: pytest.TempPathFactory) -> pl.DataFrame:
    """The five districts of every region: what the book tells, and `truth`."""
    return pl.concat(recover(Region(seed), tmp_path_factory.mktemp("region")).found for seed in range(REGIONS))


def test_ninety_five_per_cent_intervals_hold_the_truth_as_often_as_they_say(recovered: pl.DataFrame) -> None:
    """Of 100 intervals 95 are expected to; under 88 or every one would come once in a hundred times at most."""
    inside = recovered.filter(pl.col("truth").is_between(pl.col("lower"), pl.col("upper"))).height
    assert recovered.height == 100
    assert 88 <= inside < 100


def test_trends_are_neither_too_high_nor_too_low_on_the_whole(recovered: pl.DataFrame) -> None:
    off = recovered.select((pl.col("slope") - pl.col("truth")) / pl.col("se")).to_series()
    assert abs(np.mean(off.to_numpy())) < 0.3  # three standard errors of a mean of 100


def test_herds_that_rise_never_read_as_falling_ones(recovered: pl.DataFrame) -> None:
    rising, falling = recovered.filter(pl.col("truth") > 0.05), recovered.filter(pl.col("truth") < -0.05)
    assert rising.height == falling.height == REGIONS
    assert not rising["verdict"].is_in(["both-down", "rate-down-alone", "opposed"]).any()
    assert not falling["verdict"].is_in(["both-up", "rate-up-alone", "opposed"]).any()
    assert np.mean(rising["lower"].to_numpy() > 0) > 0.8


def test_the_book_tells_which_season_is_not_complete_and_cuts_at_the_highest_minimum(tmp_path: Path) -> None:
    trend = recover(Region(7), tmp_path).trend
    assert trend.counted.cut == RAISED_TO * 8
    assert trend.counted.minimum.changes["after"].to_list() == [inches * 8 for inches, _, _ in MINIMUMS[1:]]
    assert trend.seasons["state"].to_list() == ["complete"] * (SEASONS - 1) + ["incomplete"]
    assert (trend.effort.kind, trend.effort.known, trend.unplaced) == ("harvest", 1.0, 0)


def test_zeal_that_doubles_is_not_told_as_more_big_deer(tmp_path: Path) -> None:
    zealous = Region(
        11, drift=(0.0,) * 5, sending=tuple(0.4 + 0.4 * season / (SEASONS - 1) for season in range(SEASONS))
    )
    trend = recover(zealous, tmp_path).trend
    assert trend.rate["percent_lower"] > 0
    assert trend.verdict == "rate-up-alone"
