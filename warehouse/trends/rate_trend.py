"""Trends of rates and of shares, many series at once: quasi-Poisson with an offset, quasi-binomial.

A trend is of entries, never of the herd. Poisson and binomial errors alone would be too sure of it: weather and zeal
move all counts of a season together, so the variance is scaled by phi, Pearson's chi-square over its degrees of freedom
(McCullagh & Nelder 1989, Generalized Linear Models, sec. 4.5 and 6.2), never below 1. As phi is itself estimated, and
from few seasons, interval and p are those of Student's t on seasons - 2 degrees of freedom, not of the normal.
"""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import polars as pl
from scipy.special import expit, stdtr, stdtrit

from warehouse.trends.arrays import Flags, Floats
from warehouse.trends.level_and_slope import BINOMIAL, POISSON, Family, Fits, Grid, estimable, fit
from warehouse.trends.rank_trend import MINIMUM_SEASONS

FIGURES = (
    "slope", "se", "lower", "upper", "percent", "percent_lower", "percent_upper", "p", "phi", "intercept", "middle",
    "var_intercept", "cov_intercept_slope",
)  # fmt: skip


def rate_trends(series: pl.DataFrame, level: float = 0.95) -> pl.DataFrame:
    """The trend of entries per unit of effort of every series: log-link Poisson with offset log(effort).

    In: `series` (any key), `year` (Int: seasons as whole years, gaps allowed, one row a season), `count` (Int),
    `effort` (Float; 1.0 where counts are meant). A season with no count, or whose effort is unknown or not above 0, is
    no season.
    Out: one row a series in order of first appearance: `series`, `seasons`, `entries`; per year on the log scale
    `slope`, `se`, `lower`, `upper`; `percent` a year, 100*(exp(slope) - 1), with `percent_lower`, `percent_upper`; `p`;
    `phi` as found (the errors take 1 where it is below 1); for the band `intercept` at the year `middle`,
    `var_intercept`, `cov_intercept_slope`; and `refused`: null, "few-seasons" (under 8) or "no-entries" (all counts 0,
    or all entries in the first season or the last, where no slope is steep enough). A refused series has no figures.
    Raises ValueError for a season that stands twice and for a negative count.
    """
    return _trends(series, "effort", POISSON, level).drop("out_of")


def share_trends(series: pl.DataFrame, level: float = 0.95) -> pl.DataFrame:
    """The trend of a share, `count` out of `out_of` (both Int), in every series: quasi-binomial on the logit scale.

    As `rate_trends`, with `out_of` for `effort` (a season out of 0 drops out). `slope` is of the log odds a year and
    `percent` the change of the odds; `out_of` and `share` are over all seasons. "no-entries" is told where every entry
    or none counts, or all that count come before a date and the others after it.
    Raises ValueError besides for a count above what it is out of.
    """
    above = series.filter(pl.col("count") > pl.col("out_of"))
    if above.height:
        raise ValueError(f"{above['count'][0]} cannot be a share of {above['out_of'][0]}")
    trends = _trends(series, "out_of", BINOMIAL, level).with_columns(pl.col("out_of").cast(pl.Int64))
    share = pl.when(pl.col("out_of") > 0).then(pl.col("entries") / pl.col("out_of"))
    return trends.with_columns(share.alias("share"))


def fitted_band(trend_row: Mapping[str, Any], years: Sequence[float] | Floats, level: float = 0.95) -> pl.DataFrame:
    """The fitted rate per unit of effort and its interval, for drawing -> `year`, `rate`, `lower`, `upper`.

    `trend_row` is a row of `rate_trends`; the interval is of the fitted rate of each year by itself, not of counts to
    come. A refused row has no band: no rows.
    """
    return _band(trend_row, years, level).with_columns(pl.col("rate", "lower", "upper").exp())


def share_band(trend_row: Mapping[str, Any], years: Sequence[float] | Floats, level: float = 0.95) -> pl.DataFrame:
    """As `fitted_band`, for a row of `share_trends`: `rate` is the share, between 0 and 1."""
    band = _band(trend_row, years, level)
    return band.with_columns(pl.Series(name, expit(band[name].to_numpy())) for name in ("rate", "lower", "upper"))


def _band(row: Mapping[str, Any], years: Sequence[float] | Floats, level: float) -> pl.DataFrame:
    kept = np.asarray([] if row["refused"] else years, dtype=np.float64)
    if not kept.size:
        return pl.DataFrame(schema=dict.fromkeys(("year", "rate", "lower", "upper"), pl.Float64))
    away = kept - row["middle"]
    fitted = row["intercept"] + row["slope"] * away
    variance = row["var_intercept"] + 2 * away * row["cov_intercept_slope"] + away**2 * row["se"] ** 2
    half = stdtrit(row["seasons"] - 2, (1 + level) / 2) * np.sqrt(variance)
    return pl.DataFrame({"year": kept, "rate": fitted, "lower": fitted - half, "upper": fitted + half})


def _trends(series: pl.DataFrame, out_of: str, family: Family, level: float) -> pl.DataFrame:
    keys = series.select("series").unique(maintain_order=True).with_row_index("row")
    present = pl.col("count").is_not_null() & (pl.col(out_of).cast(pl.Float64).fill_nan(None) > 0)
    seasons = series.filter(present).join(keys, on="series", nulls_equal=True)
    _check(seasons)
    grid, held, middle = _gridded(seasons, out_of, keys.height)
    enough = held.sum(axis=1) >= MINIMUM_SEASONS
    told = enough & estimable(grid, family)
    fits = fit(grid.take(told), family)
    told[told] = fits.converged
    figures = _figures(fits, held.sum(axis=1)[told], level, middle[told])
    refused = np.where(told, None, np.where(enough, "no-entries", "few-seasons"))  # type: ignore[call-overload]
    return keys.select("series").with_columns(
        pl.Series("seasons", held.sum(axis=1), dtype=pl.Int64),
        pl.Series("entries", grid.count.sum(axis=1)).cast(pl.Int64),
        *(_column(name, figures[name], told) for name in FIGURES),
        pl.Series("refused", refused.tolist(), dtype=pl.String),
        pl.Series("out_of", grid.out_of.sum(axis=1)),
    )


def _check(seasons: pl.DataFrame) -> None:
    twice = seasons.filter(pl.struct("row", "year").is_duplicated())
    if twice.height:
        raise ValueError(f"series {twice['series'][0]!r} has the season {twice['year'][0]} twice")
    negative = seasons.filter(pl.col("count") < 0)
    if negative.height:
        raise ValueError(f"a count cannot be negative: {negative['count'][0]}")


def _gridded(seasons: pl.DataFrame, out_of: str, height: int) -> tuple[Grid, Flags, Floats]:
    """The rows laid out as a grid -> grid, whether a series has a season, and the middle year of each."""
    years, column = np.unique(seasons["year"].to_numpy().astype(np.float64), return_inverse=True)
    cells = (seasons["row"].to_numpy(), column)
    held = np.zeros((height, len(years)), dtype=bool)
    held[cells] = True
    middle = (held * years).sum(axis=1) / np.maximum(held.sum(axis=1), 1)
    count, given = np.zeros(held.shape), np.zeros(held.shape)
    count[cells], given[cells] = seasons["count"].to_numpy(), seasons[out_of].to_numpy()
    return Grid(count, given, np.where(held, years - middle[:, None], 0.0)), held, middle


def _figures(fits: Fits, seasons: Floats, level: float, middle: Floats) -> dict[str, Floats]:
    """Every figure of FIGURES, of the series that converged."""
    kept, df = fits.converged, seasons - 2
    phi = fits.pearson[kept] / df
    scale, slope = np.maximum(phi, 1.0), fits.slope[kept]
    se = np.sqrt(scale * fits.var_slope[kept])
    half = stdtrit(df, (1 + level) / 2) * se
    figures = {"slope": slope, "se": se, "lower": slope - half, "upper": slope + half}
    with np.errstate(over="ignore"):
        percents = {
            name: 100 * np.expm1(figures[of])
            for name, of in (("percent", "slope"), ("percent_lower", "lower"), ("percent_upper", "upper"))
        }
    rest = {"p": 2 * stdtr(df, -np.abs(slope / se)), "phi": phi, "intercept": fits.level[kept], "middle": middle}
    rest |= {"var_intercept": scale * fits.var_level[kept], "cov_intercept_slope": scale * fits.covariance[kept]}
    return figures | percents | rest


def _column(name: str, values: Floats, told: Flags) -> pl.Series:
    whole = np.full(len(told), np.nan)
    whole[told] = values
    return pl.Series(name, whole).fill_nan(None)
