"""From counts by area and season to the series of places: areas, districts, the whole region.

A season in which the book holds nothing at all is missing; an area without an entry in any other season has none there:
zero, which is a count like any other. Where effort is known, an area and season without it are left out with its entries, so
that a rate's count and its effort are always of the same ground.
"""

import polars as pl

from warehouse.trends.effort import Effort


def area_series(
    areas: pl.DataFrame, seasons: pl.DataFrame, cells: pl.DataFrame, effort: pl.DataFrame, kind: Effort | None
) -> pl.DataFrame:
    """One row an area of `areas` and a season of `seasons`, with or without entries.

    `areas`: area_code and what shall be kept of it. `seasons`: season, year. `cells`: area_code, season, entries,
    above_second, median_excess. `effort`: area_code, season and a column `kind` (Float). Adds entries, above_second (Int,
    0 where there is no cell), median_excess (Float, null), effort (Float), `counted`: whether its effort is known, or none
    is asked for (`kind` None: entries are only counted).
    """
    grid = areas.join(seasons, how="cross").join(cells, on=["area_code", "season"], how="left", maintain_order="left")
    if kind is None:
        with_effort = grid.with_columns(effort=pl.lit(None, pl.Float64))
    else:
        known = effort.select("area_code", "season", pl.col(kind).alias("effort")).filter(pl.col("effort") > 0)
        with_effort = grid.join(known, on=["area_code", "season"], how="left", maintain_order="left")
    return with_effort.with_columns(
        pl.col("entries", "above_second").fill_null(0).cast(pl.Int64),
        counted=pl.lit(True) if kind is None else pl.col("effort").is_not_null(),
    )


def summed(series: pl.DataFrame, by: str | None, kind: Effort | None) -> pl.DataFrame:
    """Rows of `area_series` summed over the areas of each `by` (None: of all) and season.

    `kind`: as of `area_series`. Columns: series (the value of `by`, '' for all), season, year, entries, all_entries, above_second, effort (null: none
    is known; 1 where entries are only counted), areas (how many are counted). `above_second` and `all_entries` are of every
    area, for a share needs no effort; `entries` is of the areas that are counted.
    """
    effort = pl.lit(1.0) if kind is None else pl.when(pl.col("areas") > 0).then("effort")  # a count is one a season
    key = pl.lit("").alias("series") if by is None else pl.col(by).alias("series")
    return (
        series.group_by(key, "season", "year", maintain_order=True)
        .agg(
            pl.col("entries").filter("counted").sum(),
            pl.col("entries").sum().alias("all_entries"),
            pl.col("above_second").sum(),
            pl.col("effort").sum(),
            pl.col("counted").sum().alias("areas"),
        )
        .with_columns(effort=effort)
    )
