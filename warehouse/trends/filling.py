"""Which seasons the book holds whole, on a day: by how earlier seasons filled up behind their last day.

The clock is the day on which an entry was first accepted, as the ledger tells it. A book that was begun late took its old
seasons in at one go, and never saw them fill: until it has watched `WATCHED` seasons from their end, the day of
official measuring stands in, which comes before the acceptance, so that completeness is told rather too high.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

import numpy as np
import polars as pl

from warehouse.trends.arrays import Floats
from warehouse.trends.arrivals import Triangle, triangle
from warehouse.trends.completeness import COMPLETE, SHOWN, Nowcast, OverDispersed, nowcast, over_dispersed_poisson

Clock = Literal["accepted", "measured"]
CLOCKS: tuple[Clock, ...] = get_args(Clock)
WATCHED = 3  # house rule, no source
LONG = 24  # months that some season must have been watched for (house rule, no source)


@dataclass(frozen=True)
class Filling:
    """How full seasons are on `day`.

    `seasons`: season, months (whole, since its end; null: not looked at, for it is older or not dated), completeness (0 to
    1; null: cannot be told), state: "complete"; "incomplete" (under 95 %); "running" (not ended on that day); "unknown" (too
    little was seen to tell). `phi`: over-dispersion of the months' counts. `growth_variance`: season -> variance of one over
    its completeness.
    """

    clock: Clock
    day: date
    seasons: pl.DataFrame
    phi: float
    growth_variance: Mapping[str, float]

    def nowcast(self, season: str, seen: int) -> Nowcast | None:
        """What a place's count of `seen` in that season will come to; None where it is complete or cannot be told."""
        row = self.seasons.row(by_predicate=pl.col("season") == season, named=True)
        if row["state"] != "incomplete" or row["completeness"] < SHOWN:
            return None
        return nowcast(seen, row["completeness"], self.phi, self.growth_variance[season])


def fill(arrivals: Mapping[Clock, pl.DataFrame], ends: pl.DataFrame, began: date | None, day: date) -> Filling:
    """The filling of the seasons of `ends` (season, ends_on: Date, null where not known) on `day`.

    `arrivals`: by clock: season, known_on (Date), entries. `began`: the first day of the book's log; None: it has none.
    """
    dated = ends.drop_nulls("ends_on")
    watched = dated.filter(pl.col("ends_on") >= began) if began is not None else dated.clear()
    ended = watched.filter(pl.col("ends_on") < day)
    clock: Clock = "accepted" if ended.height >= WATCHED else "measured"
    seen = triangle(arrivals[clock], ended if clock == "accepted" else dated, day)
    # where no season was watched for long, the last month that was seen would be taken for the end of it
    watched_long = max(seen.months, default=0) >= LONG
    found = over_dispersed_poisson(seen.counts) if watched_long else None
    return Filling(clock, day, _states(ends, seen, found, day), found.phi if found else 1.0, _variances(seen, found))


def _states(ends: pl.DataFrame, seen: Triangle, found: OverDispersed | None, day: date) -> pl.DataFrame:
    share = [_at(found.completeness_by_age, month) if found else None for month in seen.months]
    looked = pl.DataFrame(
        {"season": seen.seasons, "months": seen.months, "completeness": share},
        schema={"season": pl.String(), "months": pl.Int64(), "completeness": pl.Float64()},
    )
    full = pl.col("completeness")
    older = pl.col("months").is_null()
    return ends.select("season", "ends_on").join(looked, on="season", how="left", maintain_order="left").select(
        "season", "months",
        pl.when(older & (pl.col("ends_on") < day)).then(1.0).otherwise(full).alias("completeness"),
        pl.when(pl.col("ends_on").is_null()).then(pl.lit("complete"))  # of a season without dates nothing is expected any more
        .when(pl.col("ends_on") >= day).then(pl.lit("running"))
        .when(older | (full >= COMPLETE)).then(pl.lit("complete"))
        .when(full.is_null()).then(pl.lit("unknown"))
        .otherwise(pl.lit("incomplete")).alias("state"),
    )  # fmt: skip


def _variances(seen: Triangle, found: OverDispersed | None) -> dict[str, float]:
    if found is None:
        return {}
    return {
        season: float(found.var_growth_by_age[month]) for season, month in zip(seen.seasons, seen.months, strict=True)
    }


def _at(by_age: Floats, month: int) -> float | None:
    value = float(by_age[month])
    return value if np.isfinite(value) else None
