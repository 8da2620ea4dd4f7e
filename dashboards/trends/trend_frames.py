"""The frames of a trend as they are shown and handed out: rates per so much effort, each with what is drawn beside it.

The charts, tables, JSON lines and files all take them from here, so that one figure is the same everywhere.
"""

from dataclasses import dataclass

import polars as pl

from dashboards.length_words import finest_text
from warehouse.book.trend_figures.trend import Trend
from warehouse.eighths import text_expr
from warehouse.trends.code_book import AREAS, DISTRICTS, SEASONS
from warehouse.trends.rate_trend import share_band

RATES = (
    "rate", "rate_lower", "rate_upper", "fitted", "fitted_lower", "fitted_upper", "nowcast_rate", "nowcast_lower_rate", "nowcast_upper_rate",
)  # fmt: skip
LEVELS = ("level", "level_lower", "level_upper", "smoothed", "smoothed_gamma", "pooled")
LIMITS = ("lower_998", "lower_95", "upper_95", "upper_998")


@dataclass(frozen=True)
class TrendFrames:
    """`seasons` (in order), `districts`, `areas` (by district and name): the columns of `warehouse.trends.code_book`.

    Rates are per `Trend.per` units of effort; where entries are only counted, they are entries a season.
    """

    seasons: pl.DataFrame
    districts: pl.DataFrame
    areas: pl.DataFrame


def frames_of(trend: Trend) -> TrendFrames:
    """The frames of `trend`."""
    districts, areas = (_levels(frame, trend) for frame in (trend.districts, trend.areas))
    return TrendFrames(
        seasons=_seasons(trend).select(*SEASONS),
        districts=districts.sort("district").select(*DISTRICTS),
        areas=areas.sort("district", "area", "area_code", nulls_last=True).select(*AREAS),
    )


def _seasons(trend: Trend) -> pl.DataFrame:
    rated = trend.seasons.with_columns(pl.col(RATES) * trend.per)
    unit = trend.counted.unit
    return _with_lines(rated, trend).with_columns(
        median_text=finest_text(pl.col("median_excess") + trend.counted.cut / unit, unit),
        highest_text=text_expr(pl.col("highest"), unit),
    )


def _with_lines(seasons: pl.DataFrame, trend: Trend) -> pl.DataFrame:
    """Adds the fitted share with its band, and the line through the medians; null where there is none."""
    band = share_band(trend.share, seasons["year"].to_list()).select(
        pl.col("year").cast(pl.Int64), fitted_share="rate", fitted_share_lower="lower", fitted_share_upper="upper"
    )
    line = (
        pl.lit(None, pl.Float64) if trend.ranks is None else trend.ranks.intercept + trend.ranks.slope * pl.col("year")
    )
    return seasons.join(band, on="year", how="left", maintain_order="left").with_columns(fitted_excess=line)


def _levels(places: pl.DataFrame, trend: Trend) -> pl.DataFrame:
    pooled = pl.col("expected") / pl.col("level_effort")
    return (
        places.with_columns(pooled=pooled)
        .with_columns(
            pl.col(LEVELS) * trend.per, *((pl.col(LIMITS) / pl.col("level_effort") * trend.per).name.suffix("_rate"),)
        )
        .with_columns(pl.col("refused").fill_null(pl.when(pl.col("seasons").is_null()).then(pl.lit("no-effort"))))
    )
