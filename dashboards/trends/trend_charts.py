"""Charts of one place's seasons: the rate, the share of larger entries, the median. From `TrendFrames.seasons`."""

import altair as alt
import polars as pl

from dashboards.length_words import finest_text
from dashboards.number_words import rate_interval, share
from dashboards.trends.trend_chart_layers import Drawn, layered, nowcasts
from dashboards.trends.trend_effort_words import axis_title
from dashboards.trends.trend_minimum_words import cut_text
from dashboards.trends.trend_words import second_text
from warehouse.book.trend_figures.trend import Trend


def rate_by_season(trend: Trend, seasons: pl.DataFrame) -> alt.LayerChart:
    """The rate of each season with Garwood's interval, the fitted line with its band, and nowcasts."""
    text = pl.struct("rate", "rate_lower", "rate_upper").map_elements(_rate_text, return_dtype=pl.String)
    told = seasons.with_columns(rate_text=text, n=_count_text("entries"))
    drawn = Drawn(
        "rate", ("rate_lower", "rate_upper"), "fitted", ("fitted_lower", "fitted_upper"),
        axis_title(trend, cut_text(trend)),
        [alt.Tooltip("rate_text:N", title="Rate (95 % interval)"), alt.Tooltip("entries:Q", title="Entries", format=",d")],
    )  # fmt: skip
    return layered(trend, told, drawn, nowcasts(told))


def share_by_season(trend: Trend, seasons: pl.DataFrame) -> alt.LayerChart:
    """The share of entries above the second cut with Clopper and Pearson's interval, and the fitted line with its band."""
    text = pl.struct("share", "share_lower", "share_upper").map_elements(_share_text, return_dtype=pl.String)
    both = pl.format("{}/{}", _count_text("above_second"), _count_text("all_entries"))
    told = seasons.with_columns(share_text=text, n=both)
    drawn = Drawn(
        "share", ("share_lower", "share_upper"), "fitted_share", ("fitted_share_lower", "fitted_share_upper"),
        [f"Of entries at or above {cut_text(trend)},", f"at or above {second_text(trend)}"],
        [
            alt.Tooltip("share_text:N", title="Share (95 % interval)"),
            alt.Tooltip("above_second:Q", title=f"At or above {second_text(trend)}", format=",d"),
            alt.Tooltip("all_entries:Q", title="Entries", format=",d"),
        ],
        ".0%", full="whole",
    )  # fmt: skip
    return layered(trend, told, drawn)


def median_by_season(trend: Trend, seasons: pl.DataFrame) -> alt.LayerChart:
    """How far the median entry of each season is above the cut, with the line of Theil and Sen."""
    told = seasons.with_columns(
        excess_text=finest_text(pl.col("median_excess"), trend.counted.unit), n=_count_text("all_entries")
    )
    drawn = Drawn(
        "median_excess", None, "fitted_excess", None, [f"Median entry, inches above {cut_text(trend)}"],
        [
            alt.Tooltip("median_text:N", title="Median entry, inches"),
            alt.Tooltip("excess_text:N", title=f"Above {cut_text(trend)} by, inches"),
            alt.Tooltip("all_entries:Q", title="Entries", format=",d"),
        ],
        full="whole",
    )  # fmt: skip
    return layered(trend, told, drawn)


def _rate_text(row: dict[str, float | None]) -> str:
    return rate_interval(row["rate"], row["rate_lower"], row["rate_upper"])


def _share_text(row: dict[str, float | None]) -> str:
    return f"{share(row['share'])} ({share(row['share_lower'])} to {share(row['share_upper'])})"


def _count_text(column: str) -> pl.Expr:
    return pl.col(column).cast(pl.String).fill_null("-")
