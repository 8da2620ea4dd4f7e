"""From counts by area and season to the series of places: areas, districts, the whole region.

A season in which the book holds nothing at all is missing; an area without an entry in any other season has none there:
zero, which is a count like any other. But an area is counted only in seasons in which the record book covered it and its
effort is known, and a place's series is of the same areas throughout: were some only in its early seasons and others only in
its late ones, the place would seem to change where nothing but its ground does.
"""

from collections.abc import Iterator

import numpy as np
import polars as pl

from warehouse.trends.arrays import Flags
from warehouse.trends.effort import Effort
from warehouse.trends.rank_trend import MINIMUM_SEASONS


def area_series(
    areas: pl.DataFrame, seasons: pl.DataFrame, cells: pl.DataFrame, ground: pl.DataFrame, kind: Effort | None
) -> pl.DataFrame:
    """One row an area of `areas` and a season of `seasons` in which it was an area, with or without entries.

    `areas`: area_code and what shall be kept of it. `seasons`: season, year. `cells`: area_code, season, entries,
    above_second, median_excess. `ground`: area_code, season, covered and a column `kind` (Float; None: entries are only
    counted). Adds entries, above_second (Int, 0 where there is no cell), median_excess (Float, null), effort (Float),
    covered, and `counted`: whether the book covered it and its effort is known, or none is asked for.
    """
    effort = pl.lit(None, pl.Float64) if kind is None else pl.when(pl.col(kind) > 0).then(pl.col(kind))
    known = ground.select("area_code", "season", "covered", effort=effort)
    grid = areas.join(seasons, how="cross").join(known, on=["area_code", "season"], maintain_order="left")
    with_cells = grid.join(cells, on=["area_code", "season"], how="left", maintain_order="left")
    has_effort = pl.lit(True) if kind is None else pl.col("effort").is_not_null()
    return with_cells.with_columns(
        pl.col("entries", "above_second").fill_null(0).cast(pl.Int64), counted=pl.col("covered") & has_effort
    )


def summed(series: pl.DataFrame, by: str | None, kind: Effort | None) -> pl.DataFrame:
    """Rows of `area_series` summed over the areas of each `by` (None: of all) and season.

    `kind`: as of `area_series`. Columns: series (the value of `by`, '' for all), season, year, entries (of the areas that are
    counted throughout, see `constant_ground`; null in a season that is not among theirs), all_entries, above_second (of every area: a share needs
    no effort), effort (of the same areas as entries; 1 where entries are only counted; null as entries), areas (how many of them), ground
    (how many areas the book covered).
    """
    keyed = series.with_columns(pl.lit("").alias("series") if by is None else pl.col(by).alias("series"))
    parts = keyed.partition_by("series", maintain_order=True) if by != "area_code" else [keyed]
    kept = (
        pl.concat([part.with_columns(kept=constant_ground(part, by == "area_code")) for part in parts])
        if parts
        else keyed.with_columns(kept=pl.lit(False))
    )
    effort = pl.when(pl.col("areas") > 0).then(1.0 if kind is None else pl.col("effort"))  # a count is one a season
    return (
        kept.group_by("series", "season", "year", maintain_order=True)
        .agg(
            pl.col("entries").filter("kept").sum(),
            pl.col("covered").sum().alias("ground"),
            pl.col("entries").sum().alias("all_entries"),
            pl.col("above_second").sum(),
            pl.col("effort").filter("kept").sum(),
            pl.col("kept").sum().alias("areas"),
        )
        .with_columns(effort=effort, entries=pl.when(pl.col("areas") > 0).then("entries"))
    )


def constant_ground(series: pl.DataFrame, alone: bool = False) -> pl.Series:
    """Which rows of the areas of one place make its series: the same areas in each of its seasons.

    Of several choices of seasons (those with so many areas or more, those of each area), each with the areas that are counted
    in all of them, that which holds the most rows is taken, of equal ones that with more seasons; one with at least eight
    seasons goes before any with fewer.
    `alone`: each area is a place by itself, and all that is counted is kept.
    """
    if alone or series.is_empty():
        return series["counted"]
    areas, row = np.unique(series["area_code"].to_numpy(), return_inverse=True)
    years, column = np.unique(series["year"].to_numpy(), return_inverse=True)
    counted = np.zeros((len(areas), len(years)), dtype=bool)
    counted[row, column] = series["counted"].to_numpy()
    best = max((_common(counted, seasons) for seasons in _choices(counted)), key=_size)
    return pl.Series(best[row, column])


def _choices(counted: Flags) -> Iterator[Flags]:
    """Seasons to choose among: those with at least so many areas, and those in which some area is counted."""
    areas = counted.sum(axis=0)
    yield from (areas >= max(least, 1) for least in np.unique(areas))
    yield from np.unique(counted, axis=0)


def _common(counted: Flags, seasons: Flags) -> Flags:
    """The rows of the areas that are counted in all of the seasons."""
    areas = counted[:, seasons].all(axis=1) & seasons.any()
    return np.logical_and.outer(areas, seasons)


def _size(kept: Flags) -> tuple[bool, int, int]:
    seasons = int(kept.any(axis=0).sum())
    return seasons >= MINIMUM_SEASONS, int(kept.sum()), seasons
