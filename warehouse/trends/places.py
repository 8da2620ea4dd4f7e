"""Many places on one page: each one's trend of rate and share, p adjusted for their number, and its level of late.

Places are listed by name. A rate of a small place is mostly chance, so that an order by rates would be one of chance.
"""

import polars as pl

from warehouse.trends.counts import garwood
from warehouse.trends.effort import Effort
from warehouse.trends.many_series import Combined, adjusted
from warehouse.trends.rate_trend import FIGURES, rate_trends, share_trends
from warehouse.trends.shared_seasons import combine_areas
from warehouse.trends.small_areas import LIMITS, funnel, gamma_poisson, marshall
from warehouse.trends.verdict import adjusted_direction, verdict

FEWEST_IN_SHARE = 5  # entries on either side of the second cut (house rule, no source)
LEVEL_SEASONS = 5  # newest complete seasons that make a place's level (house rule, no source)
RATE = (
    "seasons",
    "entries",
    "slope",
    "se",
    "lower",
    "upper",
    "percent",
    "percent_lower",
    "percent_upper",
    "p",
    "phi",
    "refused",
)

LINE = ("intercept", "middle")
SHARE = ("slope", "lower", "upper", "p", "refused")
OF_RATES = ("smoothed", "smoothed_gamma", "weight", "expected", "z", "funnel_phi", *LIMITS)


def shares_told(series: pl.DataFrame) -> pl.DataFrame:
    """`share_trends`, refused as "few-entries" where fewer than `FEWEST_IN_SHARE` entries are above the second cut, or under it."""
    trends = share_trends(series)
    few = pl.min_horizontal("entries", pl.col("out_of") - pl.col("entries")) < FEWEST_IN_SHARE
    refused = pl.when(pl.col("refused").is_null() & few).then(pl.lit("few-entries")).otherwise("refused")
    told = trends.with_columns(refused=refused)
    return told.with_columns(pl.when(pl.col("refused").is_null()).then(pl.col(name)).alias(name) for name in FIGURES)


def place_trends(series: pl.DataFrame) -> pl.DataFrame:
    """The trends of every place.

    `series`: one row a place and season that a trend may rest on: series, year, entries, all_entries, above_second,
    effort. Out: one row a place: series, those of `RATE` of its rate, `p_adjusted` (Benjamini-Hochberg over the places),
    share_slope, share_lower, share_upper, share_p, share_p_adjusted, share_refused, and `verdict`, by the adjusted p of both:
    of a hundred places without any trend five would have one by their own.
    """
    rates = rate_trends(series.select("series", "year", "effort", count="entries"))
    shares = shares_told(series.select("series", "year", count="above_second", out_of="all_entries"))
    told = rates.select("series", *RATE, *LINE).with_columns(adjusted(rates["p"]).alias("p_adjusted"))
    beside = shares.select("series", *(pl.col(name).alias(f"share_{name}") for name in SHARE)).with_columns(
        adjusted(shares["p"]).alias("share_p_adjusted")
    )
    both = told.join(beside, on="series", how="left", nulls_equal=True, maintain_order="left")
    said = [
        verdict(adjusted_direction(slope, p), adjusted_direction(share_slope, share_p))
        for slope, p, share_slope, share_p in both.select(
            "slope", "p_adjusted", "share_slope", "share_p_adjusted"
        ).iter_rows()
    ]
    return both.with_columns(pl.Series("verdict", said, dtype=pl.String))


def together(series: pl.DataFrame, trends: pl.DataFrame) -> tuple[Combined | None, pl.DataFrame]:
    """The places' trends as one, and `trends` with `shrunk_percent`: each drawn towards it (null where it has none).

    `series` as of `place_trends`, `trends` what that gave of it.
    """
    combined, drawn = combine_areas(series.select("series", "year", "entries", "effort"), trends)
    return combined, trends.with_columns(((drawn.exp() - 1) * 100).alias("shrunk_percent"))


def level_years(series: pl.DataFrame) -> list[int]:
    """The newest years of `series` (as of `place_trends`), up to `LEVEL_SEASONS` of them, which a level is of."""
    return sorted(series["year"].unique().to_list())[-LEVEL_SEASONS:]


def levels(series: pl.DataFrame, kind: Effort | None) -> pl.DataFrame:
    """The level of every place over its newest `LEVEL_SEASONS` seasons.

    `series` as of `place_trends`. Out: series, level_seasons, level_entries, level_effort, level, level_lower, level_upper (per unit of
    effort, Garwood), smoothed (Marshall's empirical Bayes), smoothed_gamma (Clayton and
    Kaldor's, as a sensitivity), flag ("above", "below" where outside the 99.8 % funnel limits,
    else ""), expected, and the limits of the funnel as entries: lower_998, lower_95, upper_95, upper_998, and funnel_phi. Where entries are
    only counted (`kind` None) places are of unequal ground: they are not drawn to one mean, nor told apart by a funnel about it.
    """
    newest = level_years(series)
    sums = (
        series.filter(pl.col("year").is_in(newest))
        .group_by("series", maintain_order=True)
        .agg(pl.len().alias("level_seasons"), pl.col("entries").sum().alias("count"), pl.col("effort").sum())
    )
    lower, upper = garwood(sums["count"].to_numpy())
    rated = funnel(marshall(sums)).with_columns(
        level=pl.col("count") / pl.col("effort"),
        level_lower=pl.Series(lower) / pl.col("effort"),
        level_upper=pl.Series(upper) / pl.col("effort"),
    )
    found = _smoothed_otherwise(rated).rename({"count": "level_entries", "effort": "level_effort", "phi": "funnel_phi"})
    if kind is not None:
        return found
    return found.with_columns(*(pl.lit(None, pl.Float64).alias(name) for name in OF_RATES), flag=pl.lit(""))


def _smoothed_otherwise(rated: pl.DataFrame) -> pl.DataFrame:
    """Adds smoothed_gamma; null where nothing is expected, for there is no rate of a place to be drawn anywhere."""
    told = rated.filter(pl.col("expected") > 0)
    if told.is_empty():
        return rated.with_columns(smoothed_gamma=pl.lit(None, pl.Float64))
    _, _, ratio = gamma_poisson(told["count"].to_numpy(), told["expected"].to_numpy())
    drawn = told.select("series", smoothed_gamma=pl.Series(ratio) * pl.col("expected") / pl.col("effort"))
    return rated.join(drawn, on="series", how="left", nulls_equal=True, maintain_order="left")
