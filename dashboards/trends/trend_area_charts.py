"""Charts of many areas: their levels, and the funnel. In order of district and name; no chart orders areas by rate."""

import altair as alt
import polars as pl

from dashboards import theme
from dashboards.number_words import rate, rate_interval
from dashboards.trends.trend_effort_words import axis_title
from dashboards.trends.trend_minimum_words import cut_text
from warehouse.book.trend_figures.trend import Trend

WITHIN, OUTSIDE = "Within the limits", "Outside the 99.8 % limits"
_LINES = (("lower_998_rate", theme.RUST, [1, 0]), ("upper_998_rate", theme.RUST, [1, 0]),
          ("lower_95_rate", theme.OCHRE, [5, 4]), ("upper_95_rate", theme.OCHRE, [5, 4]))  # fmt: skip


def levels_by_area(trend: Trend, areas: pl.DataFrame) -> alt.LayerChart:
    """The level of each area with Garwood's interval, and the smoothed one as a dot. Takes `TrendFrames.areas`."""
    shown = _worded(areas).drop_nulls("level")
    y = alt.Y(
        "label:N",
        title="Area (entries)",
        sort=shown["label"].to_list(),
        axis=alt.Axis(labelLimit=190, ticks=False, domain=False),
    )
    title = axis_title(trend, cut_text(trend))
    x = alt.X("level:Q", title=title, axis=alt.Axis(tickCount=6), scale=alt.Scale(zero=True))
    base = alt.Chart(shown).encode(y=y, tooltip=_tooltip())
    layers = [
        base.mark_rule(color=theme.BARK, strokeWidth=1.2).encode(
            x=alt.X("level_lower:Q", title=title), x2="level_upper:Q"
        ),
        base.mark_tick(color=theme.BARK, thickness=2, size=11).encode(x=x),
    ]
    if shown["smoothed"].drop_nulls().len():
        pooled = alt.Chart(shown.head(1)).mark_rule(color=theme.OCHRE, strokeDash=[5, 4])
        layers.insert(
            0,
            pooled.encode(
                x=alt.X("pooled:Q", title=title), tooltip=alt.Tooltip("pooled_text:N", title="All areas together")
            ),
        )
        layers.append(
            base.mark_point(color=theme.SPRUCE, size=62, opacity=1).encode(x=alt.X("smoothed:Q", title=title))
        )
    chart: alt.LayerChart = alt.LayerChart(layer=layers).properties(height=alt.Step(20))
    return chart


def funnel(trend: Trend, areas: pl.DataFrame) -> alt.LayerChart:
    """Levels against the entries that chance would bring, with limits of 95 and 99.8 %. Takes `TrendFrames.areas`."""
    shown = _worded(areas).drop_nulls(["level", "expected"]).with_columns(
        where=pl.when(pl.col("flag") == "").then(pl.lit(WITHIN)).otherwise(pl.lit(OUTSIDE))
    )  # fmt: skip
    title = axis_title(trend, cut_text(trend))
    x = alt.X(
        "expected:Q",
        title="Entries to be expected at the level of all areas together",
        axis=alt.Axis(tickCount=8),
        scale=alt.Scale(zero=True),
    )
    curve = alt.Chart(shown.sort("expected"))
    lines = [
        curve.mark_line(color=colour, strokeDash=dash, strokeWidth=1.3, interpolate="monotone").encode(
            x=x, y=alt.Y(f"{name}:Q", title=title)
        )
        for name, colour, dash in _LINES
    ]
    middle = curve.mark_line(color=theme.FADED, strokeWidth=1).encode(x=x, y=alt.Y("pooled:Q", title=title))
    colours = alt.Scale(domain=[WITHIN, OUTSIDE], range=[theme.SPRUCE, theme.RUST])
    points = alt.Chart(shown).mark_point(size=62, opacity=1).encode(
        x=x, y=alt.Y("level:Q", title=title), tooltip=_tooltip(),
        color=alt.Color("where:N", title=None, scale=colours, legend=alt.Legend(symbolType="circle")),
    )  # fmt: skip
    names = alt.Chart(shown.filter(pl.col("flag") != "")).mark_text(align="left", dx=8, color=theme.RUST, fontSize=12).encode(
        x=x, y=alt.Y("level:Q", title=title), text="label:N"
    )  # fmt: skip
    chart: alt.LayerChart = alt.LayerChart(layer=[*lines, middle, points, names]).properties(height=340)
    return chart


def _worded(areas: pl.DataFrame) -> pl.DataFrame:
    """Two areas of one name carry their codes, so that each has a line of its own."""
    name = pl.when(pl.col("area").is_duplicated()).then(pl.format("{} {}", "area", "area_code")).otherwise("area")
    place = pl.concat_str(pl.col("district") + ": ", name, ignore_nulls=True)
    return areas.with_columns(
        label=pl.format("{} ({})", place, pl.col("level_entries").fill_null(0)),
        level_text=pl.struct("level", "level_lower", "level_upper").map_elements(_interval, return_dtype=pl.String),
        smoothed_text=pl.col("smoothed").map_elements(rate, return_dtype=pl.String).fill_null("none"),
        pooled_text=pl.col("pooled").map_elements(rate, return_dtype=pl.String),
        flag_text=pl.col("flag").replace_strict({"above": "above the 99.8 % limits", "below": "below the 99.8 % limits", "": "within"}, default=None),
    )  # fmt: skip


def _interval(row: dict[str, float | None]) -> str:
    return rate_interval(row["level"], row["level_lower"], row["level_upper"])


def _tooltip() -> list[alt.Tooltip]:
    return [
        alt.Tooltip("area:N", title="Area"),
        alt.Tooltip("district:N", title="District"),
        alt.Tooltip("level_text:N", title="Level (95 % interval)"),
        alt.Tooltip("smoothed_text:N", title="Smoothed"),
        alt.Tooltip("flag_text:N", title="In the funnel"),
        alt.Tooltip("level_entries:Q", title="Entries", format=",d"),
        alt.Tooltip("level_effort:Q", title="Effort", format=",.0f"),
        alt.Tooltip("level_seasons:Q", title="Seasons", format=",d"),
    ]
