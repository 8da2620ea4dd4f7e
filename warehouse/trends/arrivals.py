"""How seasons fill up: entries by the months that passed from the season's last day until they were known.

Months are counted back from the day of looking: every season is cut at the day that lies as many whole months and days
after its own end, so that the newest figures are those of today, not of the last full month.
"""

from dataclasses import dataclass
from datetime import date

import numpy as np
import polars as pl

from warehouse.trends.arrays import Floats

MOST_MONTHS = 36  # after that a season is taken as complete (house rule, no source)
DEVELOPED = 5  # seasons whose filling up is looked at: a changed deadline makes older ones another story


@dataclass(frozen=True)
class Triangle:
    """`counts`: cumulative entries, shape (seasons, months); column m: known at most m months after the season's end; NaN:
    not seen yet. `seasons`: their labels. `months`: whole months from the end of each season to the day of looking.
    """

    seasons: tuple[str, ...]
    months: tuple[int, ...]
    counts: Floats


def triangle(arrivals: pl.DataFrame, ends: pl.DataFrame, day: date) -> Triangle:
    """The triangle on `day`.

    `arrivals`: season, known_on (Date), entries. `ends`: season, ends_on (Date), in order; seasons that have not ended by
    `day` are left out, and of those older than `MOST_MONTHS` all but the newest `DEVELOPED`.
    """
    bounds = _bounds(ends, day)
    if bounds.is_empty():
        return Triangle((), (), np.zeros((0, 0)))
    seasons = bounds.group_by("season", maintain_order=True).agg(pl.col("month").max())
    rows = dict(zip(seasons["season"].to_list(), range(seasons.height), strict=True))
    months = seasons["month"].to_numpy()
    known = (
        arrivals.filter(pl.col("known_on") <= day, pl.col("season").is_in(seasons["season"].implode()))
        .sort("known_on")
        .join_asof(
            bounds.sort("bound"),
            left_on="known_on",
            right_on="bound",
            by="season",
            strategy="forward",
            check_sortedness=False,
        )
        .drop_nulls("month")  # known after the last month that is looked at
    )
    counts = np.zeros((seasons.height, int(months.max()) + 1))
    np.add.at(
        counts, ([rows[season] for season in known["season"]], known["month"].to_numpy()), known["entries"].to_numpy()
    )
    counts = counts.cumsum(axis=1)
    counts[np.arange(counts.shape[1])[None, :] > months[:, None]] = np.nan
    return Triangle(tuple(rows), tuple(int(month) for month in months), counts)


def _bounds(ends: pl.DataFrame, day: date) -> pl.DataFrame:
    """One row a season and month of it that has been seen: season, month, bound (the last day that counts to it)."""
    months = pl.DataFrame({"month": range(MOST_MONTHS + 1)})
    grid = ends.select("season", "ends_on").join(months, how="cross").with_columns(
        bound=pl.col("ends_on").dt.offset_by(pl.format("{}mo", "month"))
    )  # fmt: skip
    ended = grid.filter(pl.col("bound") <= day)
    last = ended.group_by("season", maintain_order=True).agg(pl.col("month").max(), pl.col("bound").max())
    old = last.filter(pl.col("month") == MOST_MONTHS).tail(DEVELOPED)["season"]
    young = last.filter(pl.col("month") < MOST_MONTHS)
    late = min(((day - bound).days for bound in young["bound"]), default=0)  # no month may end behind the day
    chosen = pl.concat([old, young["season"]]).implode()
    return ended.filter(pl.col("season").is_in(chosen)).with_columns(pl.col("bound").dt.offset_by(f"{late}d"))
