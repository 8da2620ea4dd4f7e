"""The quantiles of the entries of each season, which the lines of `quantile_trend` go through."""

from collections.abc import Sequence

import polars as pl

ENTRY_QUANTILES = pl.Schema({"season": pl.String, "tau": pl.Float64, "entries": pl.Int64, "value": pl.Float64})


def entry_quantiles(scores: pl.DataFrame, taus: Sequence[float] = (0.5, 0.75, 0.9)) -> pl.DataFrame:
    """Each season's quantiles -> ENTRY_QUANTILES, by season and tau; the value in the unit of the scores.

    `scores`: season, value (number), entries (Int): how many entries have that value. Between two entries the quantile
    is interpolated: type 7 of Hyndman & Fan 1996, Am. Stat. 50:361-365.
    """
    by_entry = scores.select("season", pl.col("value").cast(pl.Float64).repeat_by("entries")).explode("value")
    seasons = by_entry.drop_nulls("value").group_by("season").agg(
        pl.len().cast(pl.Int64).alias("entries"),
        pl.concat_list(pl.col("value").quantile(tau, "linear") for tau in taus).alias("value"),
        pl.lit(list(taus)).alias("tau"),
    )  # fmt: skip
    if seasons.is_empty():
        return pl.DataFrame(schema=ENTRY_QUANTILES)
    return seasons.explode("value", "tau").select(*ENTRY_QUANTILES).cast(ENTRY_QUANTILES).sort("season", "tau")
