"""The regional Kendall test, and the covariance of counties that lack seasons."""

import itertools
import math

import numpy as np
import polars as pl
import pytest
from scipy.stats import rankdata

from warehouse.trends.arrays import Flags, Floats
from warehouse.trends.rank_trend import mann_kendall, two_sided
from warehouse.trends.regional_kendall import covariances, regional_kendall

# USEPA 2009, Unified Guidance, EPA 530/R-09-007, Ex. 14-10, p. 14-38: January to December of 1983, 1984, 1985.
MONTHLY = (
    (1.99, 2.10, 2.12, 2.12, 2.11, 2.15, 2.19, 2.18, 2.16, 2.08, 2.05, 2.08),
    (2.01, 2.10, 2.17, 2.13, 2.13, 2.18, 2.25, 2.24, 2.22, 2.13, 2.08, 2.16),
    (2.15, 2.17, 2.27, 2.23, 2.24, 2.26, 2.31, 2.32, 2.28, 2.22, 2.19, 2.22),
)  # fmt: skip
# Antlered deer harvested in four counties of Wisconsin 2010-19, statistics of the state, from github droglenc/NCData.
WISCONSIN = {
    "Ashland": (1350, 1371, 1391, 1047, 831, 696, 1066, 1271, 1281, 874),
    "Bayfield": (2702, 2722, 2857, 2221, 1896, 2029, 2885, 3267, 2952, 2051),
    "Douglas": (3284, 2738, 3094, 2256, 1897, 1999, 2877, 3384, 2976, 2282),
    "Iron": (684, 748, 744, 460, 241, 266, 425, 633, 557, 414),
}  # fmt: skip


def blocks_of(grid: Floats, first: int = 2001) -> pl.DataFrame:
    """A grid (blocks, seasons) as rows, NaN left out."""
    rows = [(f"county {b}", first + s, value) for (b, s), value in np.ndenumerate(grid) if not np.isnan(value)]
    return pl.DataFrame(rows, schema={"block": pl.String, "x": pl.Int64, "y": pl.Float64}, orient="row")


def ragged(seed: int, blocks: int, seasons: int, lacking: float) -> Floats:
    """Counties that share weather, each lacking a part of its seasons."""
    random = np.random.default_rng(seed)
    grid = random.normal(0, 1, seasons) + random.normal(0, 1, (blocks, seasons))
    grid[random.random(grid.shape) < lacking] = np.nan
    return grid


def signs_of(grid: Floats) -> Floats:
    rise = np.sign(grid[:, None, :] - grid[:, :, None])
    return np.nan_to_num(np.triu(rise))


def test_the_months_of_the_guidance_have_their_published_trend() -> None:
    # Figures: help of R's EnvStats 3.1.0, kendallSeasonalTrendTest, on the same example; months stand for counties.
    found = regional_kendall(blocks_of(np.array(MONTHLY).T, 1983))
    assert (found.blocks, found.pairs, found.s, found.variance) == (12, 36, 35, 43)
    assert found.z == pytest.approx(5.1849514, abs=5e-8)
    assert found.p == pytest.approx(2.160712e-07, rel=1e-6)
    assert (found.tau, found.slope) == pytest.approx((0.9722222, 0.06), abs=5e-8)
    assert (found.lower, found.upper) == pytest.approx((0.05786914, 0.07213086), abs=5e-9)
    assert found.heterogeneity == pytest.approx(0.1071882, abs=5e-8)
    assert found.heterogeneity_df == 11
    assert (found.variance_correlated, found.p_correlated) == (None, None)


@pytest.mark.parametrize(("county", "s"), [("Ashland", -11), ("Bayfield", 7), ("Douglas", -3), ("Iron", -15)])
def test_the_counties_of_wisconsin_have_their_sums(county: str, s: int) -> None:
    assert mann_kendall(range(10), WISCONSIN[county]).s == s  # R sources of rkt 1.7


def test_the_counties_of_wisconsin_move_together() -> None:
    # R sources of rkt 1.7, continuity corrected; the last figure pymannkendall 1.4.3, not corrected.
    found = regional_kendall(blocks_of(np.array(tuple(WISCONSIN.values()), dtype=float), 2010))
    assert (found.s, found.variance, found.slope) == (-22, 500, -18.75)
    assert found.p == pytest.approx(0.34765, abs=5e-6)
    assert found.variance_correlated is not None
    assert found.variance_correlated == pytest.approx(1601.333, abs=5e-4)
    assert found.p_correlated == pytest.approx(0.5997352, abs=5e-8)
    assert two_sided(found.s / math.sqrt(found.variance_correlated)) == pytest.approx(0.5824765, abs=5e-8)
    assert (found.heterogeneity, found.heterogeneity_df) == pytest.approx((2.264, 3))
    assert found.heterogeneity_p == pytest.approx(0.5195, abs=5e-5)


def test_one_county_is_its_own_region() -> None:
    years = [2001, 2002, 2004, 2005, 2009, 2010, 2011, 2013, 2015, 2017, 2018]
    y = [3.0, 5, 4, 4, 7, 6, 9, 8, 8, 10, 7]
    alone, found = mann_kendall(years, y), regional_kendall(pl.DataFrame({"block": "Elm", "x": years, "y": y}))
    assert (found.s, found.variance, found.z, found.tau) == (alone.s, alone.variance, alone.z, alone.tau_a)
    assert (found.slope, found.lower, found.upper) == (alone.slope, alone.lower, alone.upper)
    assert (found.variance_correlated, found.heterogeneity_df) == (alone.variance, 0)


@pytest.mark.parametrize("seed", range(3))
def test_ragged_counties_are_summed_as_each_by_itself(seed: int) -> None:
    grid = ragged(seed, 7, 12, 0.3)
    alone = [mann_kendall(np.arange(12), row) for row in grid]
    found = regional_kendall(blocks_of(grid).sample(fraction=1, shuffle=True, seed=seed))
    assert found.s == sum(a.s for a in alone)
    assert found.variance == pytest.approx(sum(a.variance for a in alone))
    z = np.array([a.s / a.variance**0.5 for a in alone])
    # van Belle & Hughes 1984 in their own form: total chi-square less that of the common trend.
    assert found.heterogeneity == pytest.approx((z**2).sum() - len(z) * z.mean() ** 2)


def test_with_nothing_lacking_the_covariance_is_dietz_and_killeens() -> None:
    # Dietz & Killeen 1981 in ranks: (K + 4 sum R_gi R_hi - n(n + 1)^2)/3 (from memory).
    grid = np.round(ragged(4, 5, 11, 0), 1)
    signs, ranks = signs_of(grid), rankdata(grid, axis=1)
    k = np.einsum("gij,hij->gh", signs, signs)
    expected = (k + 4 * ranks @ ranks.T - 11 * 12**2) / 3
    assert covariances(np.isfinite(grid), signs) == pytest.approx(expected)


ALL = (True,) * 6
LACKING = (
    (ALL, ALL), ((1, 1, 1, 1, 0, 0), (0, 0, 1, 1, 1, 1)), ((1, 1, 1, 0, 0, 0), (0, 0, 1, 1, 1, 1)),
    (ALL, (0, 1, 1, 0, 1, 1)),
    ((1, 0, 1, 1, 0, 1), (0, 1, 1, 1, 1, 0)), ((1, 1, 1, 0, 0, 0), (0, 0, 0, 1, 1, 1)),
)  # fmt: skip


@pytest.mark.parametrize("held", LACKING)
def test_the_covariance_is_right_on_average_whatever_is_lacking(held: tuple[tuple[int, ...], ...]) -> None:
    # Counted out: where there is no trend every order of the six years is as likely, the two counties kept together.
    present: Flags = np.array(held, dtype=bool)
    weather = np.array([[3.0, 1, 4, 1, 5, 9], [2.0, 7, 1, 8, 2, 8]])
    sums, told = [], []
    for order in itertools.permutations(range(6)):
        signs = signs_of(np.where(present, weather[:, order], np.nan))
        sums.append(signs.sum(axis=(1, 2)))
        told.append(covariances(present, signs)[0, 1])
    moments = np.array(sums)
    assert moments.mean(axis=0) == pytest.approx([0, 0], abs=1e-9)
    assert np.mean(told) == pytest.approx((moments[:, 0] * moments[:, 1]).mean(), abs=1e-9)


def test_counties_that_move_together_are_called_significant_no_more_often_than_they_should() -> None:
    found = [regional_kendall(blocks_of(ragged(seed, 6, 20, 0.2))) for seed in range(150)]
    plain = sum(f.p < 0.05 for f in found) / 150
    corrected = sum(f.p_correlated is not None and f.p_correlated < 0.05 for f in found) / 150
    assert corrected < 0.11 < plain


def test_rows_without_a_figure_are_left_out_and_a_county_that_does_not_vary_tells_nothing() -> None:
    frame = blocks_of(np.array(tuple(WISCONSIN.values()), dtype=float), 2010)
    empty = pl.DataFrame({"block": ["county 0"] * 2, "x": [2020, 2021], "y": [None, float("nan")]})
    still = pl.DataFrame({"block": "Still", "x": range(2010, 2020), "y": 5.0})
    assert regional_kendall(pl.concat([frame, empty])) == regional_kendall(frame)
    more = regional_kendall(pl.concat([frame, still]))
    assert (more.blocks, more.s, more.variance, more.heterogeneity_df) == (5, -22, 500, 3)


def test_no_rows_are_no_trend() -> None:
    found = regional_kendall(blocks_of(np.empty((0, 0))))
    assert (found.blocks, found.s, found.p, found.heterogeneity_p, found.p_correlated) == (0, 0, 1, 1, None)


def test_a_county_has_a_year_once() -> None:
    twice = pl.DataFrame({"block": "Elm", "x": [2001, 2002, 2002], "y": [1, 2, 3]})
    with pytest.raises(ValueError, match=r"^block 'Elm' has x = 2002 twice$"):
        regional_kendall(twice)
