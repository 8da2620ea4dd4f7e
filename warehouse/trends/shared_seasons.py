"""Areas' trends as one, where all areas share what a season was like.

Weather and zeal move the counts of all areas together. Areas' slopes are then no independent estimates: put together as if
they were, they seem far surer than they are, and more alike. So how unlike they are is told by their trends relative to each
season's common rate, in which what they share is no more; and the error of their common slope is told season by season.
"""

import math
from dataclasses import replace

import numpy as np
import polars as pl
from scipy.special import stdtr, stdtrit

from warehouse.trends.arrays import Floats
from warehouse.trends.many_series import Combined, combine, shrunk
from warehouse.trends.rate_trend import rate_trends


def combine_areas(series: pl.DataFrame, trends: pl.DataFrame, level: float = 0.95) -> tuple[Combined | None, pl.Series]:
    """The areas' trends as one, and each area's slope drawn towards it; None, and nulls, under two areas with
    a trend of their own and one relative to the others (which takes eight seasons with an entry in any of them).

    `series`: series, year, entries, effort. `trends`: a row of `rate_trends` each, in any order (the second answer is in
    theirs). Unlikeness (q, df, tau2, i2) by DerSimonian and Laird is of the trends relative to the season's common rate; the
    slope is the mean of the areas' own slopes with the weights 1/(tau2 + se^2) of that. Its variance is tau2 times the sum of
    the squared weights, and what is left about the areas' lines, summed over the areas of each season and squared (seasons as
    clusters: Liang & Zeger 1986, Biometrika 73:13-22) with the jackknife's correction for few seasons (Bell & McCaffrey 2002,
    Survey Methodology 28:169-181); Student's t on seasons - 2.
    """
    relative = _relative(series)
    own = trends.select("series", "slope", "se", "intercept", "middle").join(
        relative.select("series", unlike="slope", unlike_se="se"),
        on="series",
        how="left",
        nulls_equal=True,
        maintain_order="left",
    )
    unlike = combine(own.select(slope="unlike", se="unlike_se"), level)
    nothing = pl.Series([None] * trends.height, dtype=pl.Float64)
    if unlike is None:
        return None, nothing
    kept = own.filter(pl.all_horizontal(pl.col("slope", "unlike", "unlike_se").is_finite())).with_columns(
        weight=1 / (unlike.tau2 + pl.col("unlike_se") ** 2)
    ).with_columns(pl.col("weight") / pl.col("weight").sum())  # fmt: skip
    slope = float((kept["weight"] * kept["slope"]).sum())
    variance, df = _season_variance(series, kept)
    variance += unlike.tau2 * float((kept["weight"] ** 2).sum())
    se = math.sqrt(variance)
    half = float(stdtrit(df, (1 + level) / 2)) * se
    p = float(2 * stdtr(df, -abs(slope) / se)) if se > 0 else float(slope == 0)
    found = replace(
        unlike,
        fixed=float(np.average(kept["slope"].to_numpy(), weights=kept["unlike_se"].to_numpy() ** -2)),
        slope=slope,
        se=se,
        lower=slope - half,
        upper=slope + half,
        p=p,
        left_out=trends.height - unlike.members,
    )
    return found, shrunk(own.select("slope", se="unlike_se"), found)


def _relative(series: pl.DataFrame) -> pl.DataFrame:
    """Each area's trend against what its effort would give at the season's common rate."""
    common = pl.col("entries").sum().over("year") / pl.col("effort").sum().over("year")
    return rate_trends(series.select("series", "year", count="entries", effort=pl.col("effort") * common))


def _season_variance(series: pl.DataFrame, kept: pl.DataFrame) -> tuple[float, int]:
    """The variance of the weighted slope that the scatter of seasons makes, and its degrees of freedom."""
    away = pl.col("year") - pl.col("middle")
    cells = series.join(kept, on="series", nulls_equal=True).with_columns(
        fitted=pl.col("effort") * (pl.col("intercept") + pl.col("slope") * away).exp()
    )
    centre = (pl.col("fitted") * pl.col("year")).sum().over("series") / pl.col("fitted").sum().over("series")
    off = pl.col("year") - centre
    pull = off * (pl.col("entries") - pl.col("fitted")) / (pl.col("fitted") * off**2).sum().over("series")
    by_season = (
        cells.with_columns(pull=pl.col("weight") * pull)
        .group_by("year")
        .agg(pl.col("pull", "fitted").sum())
        .sort("year")
    )
    seasons = by_season.height
    # a line comes nearest to the seasons that it leans on most: what is left of those is made as large as it was before
    leaning = _leverage(by_season["year"].cast(pl.Float64).to_numpy(), by_season["fitted"].to_numpy())
    return float(((by_season["pull"].to_numpy() / (1 - leaning)) ** 2).sum()) * (seasons - 1) / seasons, seasons - 2


def _leverage(year: Floats, weight: Floats) -> Floats:
    """How much each point of a weighted straight line pulls it towards itself, 0 to 1."""
    off = year - np.average(year, weights=weight)
    return np.asarray(weight * (1 / weight.sum() + off**2 / (weight * off**2).sum()))
