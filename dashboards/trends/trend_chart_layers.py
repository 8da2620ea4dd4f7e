"""The layers of a chart of seasons: the fitted line with its band, marks with intervals, what changed, what is to come.

Seasons stand on an axis of years, so that one which is missing leaves a gap. A dot is full where the trend rests on its
season and hollow where not; figures at the top are counts of entries.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import altair as alt
import polars as pl

from dashboards import theme
from dashboards.trends.trend_minimum_words import rules_expr
from dashboards.trends.trend_season_words import STATES
from warehouse.book.reference.season_labels import year_of
from warehouse.book.trend_figures.trend import Trend
from warehouse.eighths import text_expr

KINDS = ("In the trend", "In no trend")
HEIGHT = 400
ROOM_FOR_COUNTS = 1.2  # of the highest mark: the counts stand above it
_SEASON = "toString(datum.value) + '-' + slice(toString(datum.value + 1), 2)"


@dataclass(frozen=True)
class Drawn:
    """Columns of a frame of seasons that one chart draws: marks with an interval, and a line with or without a band."""

    marks: str
    interval: tuple[str, str] | None
    line: str
    band: tuple[str, str] | None
    title: list[str]
    tooltip: Sequence[alt.Tooltip]
    format: str = ""
    full: str = "used"  # the column that tells which seasons its trend rests on


def layered(trend: Trend, seasons: pl.DataFrame, drawn: Drawn, more: Sequence[alt.Chart] = ()) -> alt.LayerChart:
    """The chart of `seasons` (those of `TrendFrames`, with `n`, the text of the counts). `more`: further layers."""
    shown = seasons.with_columns(
        kind=pl.when(drawn.full).then(pl.lit(KINDS[0])).otherwise(pl.lit(KINDS[1])),
        state_text=pl.col("state").replace_strict(STATES),
    )
    y = _values(shown, drawn)
    layers = [*_line(shown, drawn), *_changes(trend), *_marks(shown, drawn, y), *more, _counts(shown)]
    chart: alt.LayerChart = alt.LayerChart(layer=layers).properties(height=HEIGHT)
    return chart


def _years(seasons: pl.DataFrame) -> alt.X:
    first, last = seasons["year"][0], seasons["year"][-1]
    axis = alt.Axis(
        values=list(range(first, last + 1)),
        labelExpr=_SEASON,
        labelAngle=-90,
        grid=False,
        labelOverlap=True,
        tickMinStep=1,
    )
    return alt.X(
        "year:Q", title="Season", axis=axis, scale=alt.Scale(domain=[first - 0.7, last + 0.7], nice=False, zero=False)
    )


def _values(seasons: pl.DataFrame, drawn: Drawn) -> alt.Y:
    tops = [drawn.marks, *(drawn.interval or ()), *(name for name in ("nowcast_upper_rate",) if drawn.marks == "rate")]
    top = max((value for name in tops for value in seasons[name].drop_nulls()), default=1.0) or 1.0
    axis = alt.Axis(format=drawn.format, tickCount=5) if drawn.format else alt.Axis(tickCount=5)
    return alt.Y(
        f"{drawn.marks}:Q",
        title=drawn.title,
        axis=axis,
        scale=alt.Scale(domain=[0, top * ROOM_FOR_COUNTS], nice=False, clamp=True),
    )


def _marks(seasons: pl.DataFrame, drawn: Drawn, y: alt.Y) -> list[alt.Chart]:
    there = alt.Chart(seasons.filter(pl.col(drawn.marks).is_not_null()))
    fill = alt.Fill(
        "kind:N", title=None, scale=alt.Scale(domain=list(KINDS), range=[theme.SPRUCE, theme.PAPER]),
        legend=alt.Legend(symbolType="circle", symbolStrokeColor=theme.SPRUCE, symbolStrokeWidth=1.6),
    )  # fmt: skip
    tooltip = [
        alt.Tooltip("season:N", title="Season"), alt.Tooltip("state_text:N", title="State"), *drawn.tooltip,
        alt.Tooltip("highest_text:N", title="Minimum of the season, inches"),
    ]  # fmt: skip
    dots = there.mark_point(filled=True, opacity=1, stroke=theme.SPRUCE, strokeWidth=1.6, size=62).encode(
        x=_years(seasons), y=y, fill=fill, tooltip=tooltip
    )
    if drawn.interval is None:
        return [dots]
    lower, upper = drawn.interval
    bars = there.mark_rule(color=theme.SPRUCE, strokeWidth=1.2).encode(
        x=_years(seasons), y=alt.Y(f"{lower}:Q", title=drawn.title), y2=f"{upper}:Q"
    )
    return [bars, dots]


def _line(seasons: pl.DataFrame, drawn: Drawn) -> list[alt.Chart]:
    """The fitted line: whole over the seasons it rests on, dashed before and after them."""
    used = seasons.filter(drawn.full)["year"]
    if used.is_empty() or seasons[drawn.line].is_null().all():
        return []
    first, last = used[0], used[-1]
    within, after = seasons.filter(pl.col("year").is_between(first, last)), seasons.filter(pl.col("year") >= last)
    parts = [(within, []), (after, [5, 4]), (seasons.filter(pl.col("year") <= first), [5, 4])]
    x, title = _years(seasons), drawn.title
    lines = [
        alt.Chart(part)
        .mark_line(color=theme.OCHRE, strokeWidth=2, strokeDash=dash, clip=True)
        .encode(x=x, y=alt.Y(f"{drawn.line}:Q", title=title))
        for part, dash in parts
        if part.height > 1
    ]
    if drawn.band is None:
        return lines
    lower, upper = drawn.band
    band = alt.Chart(seasons).mark_area(color=theme.OCHRE, opacity=0.18, clip=True)
    return [band.encode(x=x, y=alt.Y(f"{lower}:Q", title=title), y2=f"{upper}:Q"), *lines]


def _changes(trend: Trend) -> list[alt.Chart]:
    """A rule before each season that has another minimum, with the new one beside it, or other rules."""
    before, after = (text_expr(pl.col(name), trend.counted.unit) for name in ("before", "after"))
    minimums = trend.counted.minimum.changes.select(
        "season", label=pl.format("minimum {}", after), move=pl.format("a minimum, from {} to {}", before, after)
    )
    rules = trend.counted.rule_changes.select("season", label=pl.lit("other rules"), move=rules_expr())
    told = pl.concat([minimums, rules]).group_by("season", maintain_order=True).agg(pl.all().str.join("; "))
    within = told.filter(pl.col("season").is_in(trend.seasons["season"].implode()))
    if within.is_empty():
        return []
    marks = within.with_columns(at=pl.col("season").map_elements(year_of, return_dtype=pl.Int64) - 0.5)
    tooltip = [alt.Tooltip("season:N", title="From season"), alt.Tooltip("move:N", title="Changed")]
    base = alt.Chart(marks).encode(x=alt.X("at:Q", title="Season"), tooltip=tooltip)
    rules = base.mark_rule(color=theme.RUST, strokeDash=[2, 3], strokeWidth=1.4)
    labels = base.mark_text(color=theme.RUST, angle=270, align="left", baseline="top", dx=4, dy=3, fontSize=11)
    return [rules, labels.encode(text="label:N", y=alt.value("height"))]


def nowcasts(seasons: pl.DataFrame) -> list[alt.Chart]:
    """What incomplete seasons will come to, dashed."""
    cast = seasons.drop_nulls("nowcast_rate")
    if cast.is_empty():
        return []
    tooltip = [
        alt.Tooltip("season:N", title="Season"), alt.Tooltip("entries:Q", title="Entries so far", format=",d"),
        alt.Tooltip("nowcast:Q", title="Will come to", format=",.0f"), alt.Tooltip("nowcast_lower:Q", title="at least", format=",.0f"),
        alt.Tooltip("nowcast_upper:Q", title="at most", format=",.0f"),
    ]  # fmt: skip
    base = alt.Chart(cast).encode(x=_years(seasons), tooltip=tooltip)
    bars = base.mark_rule(color=theme.SLATE, strokeDash=[4, 3], strokeWidth=1.4, xOffset=7)
    ends = base.mark_tick(color=theme.SLATE, orient="horizontal", thickness=2, size=12, xOffset=7)
    return [bars.encode(y="nowcast_lower_rate:Q", y2="nowcast_upper_rate:Q"), ends.encode(y="nowcast_rate:Q")]


def _counts(seasons: pl.DataFrame) -> alt.Chart:
    chart: alt.Chart = (
        alt.Chart(seasons)
        .mark_text(angle=270, align="right", baseline="middle", color=theme.FADED, fontSize=11)
        .encode(x=_years(seasons), y=alt.value(2), text="n:N")
    )
    return chart
