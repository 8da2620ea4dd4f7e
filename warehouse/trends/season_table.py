"""One place, season by season: what was counted, what it is per effort, and which seasons a trend may rest on."""

import polars as pl

from warehouse.trends.counts import garwood
from warehouse.trends.filling import Filling
from warehouse.trends.shares import clopper_pearson


def season_table(sums: pl.DataFrame, seasons: pl.DataFrame, filling: Filling) -> pl.DataFrame:
    """The seasons of one place with intervals, state and nowcast.

    `sums`: the rows of `place_series.summed` of that place. `seasons`: season, year, present, in order.
    Columns: season, year, `state` ("complete", "incomplete", "running", "unknown" as in `filling`; "missing": the book holds
    no entry of that season; "not-covered": the record book covered nothing of the place; "no-rate": complete, but not of the
    ground that the rate is of), `whole` (whether a trend of shares or scores may rest on it), `used` (whether one of
    rates may, too), entries, all_entries, above_second, areas, ground (as of `summed`; null where there is no row), effort,
    rate, rate_lower, rate_upper (per unit of effort, Garwood), share, share_lower, share_upper (of all entries,
    Clopper-Pearson), completeness, nowcast, nowcast_lower, nowcast_upper (entries of every area, only where incomplete), and
    nowcast_rate, nowcast_lower_rate, nowcast_upper_rate (of the areas that the rate is of, per unit of effort).
    """
    rows = seasons.join(sums.drop("series", "year"), on="season", how="left", maintain_order="left").join(
        filling.seasons.select("season", "completeness", filled="state"), on="season", how="left", maintain_order="left"
    )
    covered = pl.col("ground").fill_null(0) > 0
    whole = pl.col("present") & covered & (pl.col("filled") == "complete")
    state = (
        pl.when(~pl.col("present")).then(pl.lit("missing"))
        .when(~covered).then(pl.lit("not-covered"))
        .when(whole & pl.col("effort").is_null()).then(pl.lit("no-rate"))
        .otherwise("filled")
    )  # fmt: skip
    stated = rows.with_columns(state=state, whole=whole).with_columns(used=pl.col("state") == "complete")
    stated = stated.drop("filled", "present")
    effort = stated["effort"]
    of_rate = [series / effort for series in _nowcasts(stated, filling, "entries")]
    nowcasts = _nowcasts(stated, filling, "all_entries")
    return stated.with_columns(
        *_rates(stated),
        *_shares(stated),
        *nowcasts,
        *(series.alias(f"{series.name}_rate") for series in of_rate),
    )


def _rates(rows: pl.DataFrame) -> list[pl.Series]:
    lower, upper = garwood(rows["entries"].fill_null(0).to_numpy())
    effort = rows["effort"]
    rates = {
        "rate": rows["entries"] / effort,
        "rate_lower": pl.Series(lower) / effort,
        "rate_upper": pl.Series(upper) / effort,
    }
    return [values.alias(name) for name, values in rates.items()]


def _shares(rows: pl.DataFrame) -> list[pl.Series]:
    above, out_of = (rows[name].fill_null(0) for name in ("above_second", "all_entries"))
    lower, upper = clopper_pearson(above.to_numpy(), out_of.to_numpy())
    shares = {"share": above / out_of, "share_lower": pl.Series(lower), "share_upper": pl.Series(upper)}
    known = (out_of > 0).rename("known")
    return [pl.select(pl.when(known).then(values)).to_series().alias(name) for name, values in shares.items()]


def _nowcasts(rows: pl.DataFrame, filling: Filling, counted: str) -> list[pl.Series]:
    told = [
        filling.nowcast(season, entries) if state == "incomplete" and entries is not None else None
        for season, state, entries in rows.select("season", "state", counted).iter_rows()
    ]
    figures = {"nowcast": "total", "nowcast_lower": "lower", "nowcast_upper": "upper"}
    return [
        pl.Series(name, [None if cast is None else float(getattr(cast, figure)) for cast in told], dtype=pl.Float64)
        for name, figure in figures.items()
    ]
