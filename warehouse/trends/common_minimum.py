"""The common minimum of a window of seasons: below it, what a book holds depends on its rules, not on the deer.

An entry is comparable with every other of the window only where it would have been taken in each of its seasons; so the
cut is the highest minimum in force in the window, over every weapon and antler state compared, and whatever lies below
it is set aside and counted.
"""

from dataclasses import dataclass
from itertools import pairwise

import polars as pl


@dataclass(frozen=True)
class CommonMinimum:
    """`units`: the highest minimum in force, in units of the category; None where no season has one.

    `by_season`: season, highest (units, Int64; the highest minimum of that season), score ("net" or "gross"). `changes`: season, before, after (units):
    the season in which some weapon or antler state had another minimum than the season before; the largest of them
    where there are several. `mixed_scores`: the book ranked by net in some seasons, by gross in others.
    """

    units: int | None
    by_season: pl.DataFrame
    changes: pl.DataFrame
    mixed_scores: bool


def common_minimum(in_force: pl.DataFrame) -> CommonMinimum:
    """The common minimum of what `in_force` says.

    `in_force`: one row a season, weapon and antler state: season, weapon, antler_state, minimum_units (Int; null: no
    minimum), score. Rows without a minimum are set aside: the book takes no such head.
    """
    there = in_force.drop_nulls("minimum_units").with_columns(pl.col("minimum_units").cast(pl.Int64))
    by_season = (
        there.group_by("season")
        .agg(pl.col("minimum_units").max().alias("highest"), pl.col("score").first())
        .sort("season")
    )
    units = by_season["highest"].max()
    return CommonMinimum(
        units=int(units) if isinstance(units, int) else None,
        by_season=by_season,
        changes=_changes(there),
        mixed_scores=there["score"].n_unique() > 1,
    )


def _changes(there: pl.DataFrame) -> pl.DataFrame:
    kind = ["weapon", "antler_state"]
    before = pl.col("minimum_units").shift(1).over(kind, order_by="season")
    moved = there.with_columns(before=before).filter(pl.col("before") != pl.col("minimum_units"))
    return (
        moved.sort("season", (pl.col("minimum_units") - pl.col("before")).abs(), descending=[False, True])
        .unique("season", keep="first", maintain_order=True)
        .select("season", "before", pl.col("minimum_units").alias("after"))
    )


@dataclass(frozen=True)
class ShorterWindow:
    """Seasons in a row, up to the end of the window or up to a raise, that share a lower cut of `units`."""

    first_season: str
    last_season: str
    units: int


def shorter_windows(found: CommonMinimum) -> tuple[ShorterWindow, ...]:
    """The runs of seasons with one minimum: what a shorter window would have as its cut, where that is lower than the
    common minimum. Each is a window of its own; their lines are never joined.
    """
    seasons, highest = found.by_season["season"].to_list(), found.by_season["highest"].to_list()
    starts = [0, *(i + 1 for i, (one, other) in enumerate(pairwise(highest)) if one != other), len(seasons)]
    runs = [
        ShorterWindow(seasons[start], seasons[stop - 1], highest[start])
        for start, stop in pairwise(starts)
        if stop > start
    ]
    return tuple(run for run in runs if found.units is not None and run.units < found.units)
