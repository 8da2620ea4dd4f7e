"""Charts of the antlers above the cut: season by season, by weapon, by age, and the quantiles with their lines.

From `AntlersFrames`. A dot is a median, its bar reaches over the middle half of the entries. How many entries stand
behind a dot is written beside it. Dots of seasons that are not complete are hollow.
"""

from typing import Any

import altair as alt
import polars as pl

from dashboards import theme
from dashboards.trends.antlers_frames import whole
from dashboards.trends.chart_axes import SEASON_TITLE, amounts_axis, layered, seasons_axis
from dashboards.trends.measures import MEASURES, Measure
from dashboards.trends.quantile_words import NAMES
from dashboards.trends.trend_season_words import STATES
from dashboards.words import weapon_words
from warehouse.book.trend_figures.antlers import Antlers

Chart = alt.Chart | alt.LayerChart
HEIGHT, STEP = 230, 30
ROOM = 0.3  # of the range of values, above them, for the counts
QUARTILES = ("lower_quarter", "upper_quarter")
_N = alt.Tooltip("entries:Q", title="Entries (n)", format=",d")
_TEXTS = (
    alt.Tooltip("middle_text:N", title="Median"), alt.Tooltip("lower_text:N", title="Lower quarter"),
    alt.Tooltip("upper_text:N", title="Upper quarter"),
)  # fmt: skip


def by_season(antlers: Antlers, medians: pl.DataFrame, measure: str) -> Chart:
    """One measure season by season: medians, quartile band, and counts at the top. Takes `AntlersFrames.medians`."""
    told = MEASURES[measure]
    shown = antlers.counted.seasons.select("season", "year").join(
        whole(medians, measure).drop("year"), on="season", how="left", maintain_order="left"
    )
    there = _with_state(shown.drop_nulls("middle"))
    x, y = _years(antlers), _amounts(there, told, QUARTILES, "middle")
    band = alt.Chart(shown).mark_area(color=theme.OCHRE, opacity=0.18)
    base = alt.Chart(there).encode(
        x=x,
        tooltip=[alt.Tooltip("season:N", title=SEASON_TITLE), alt.Tooltip("state_text:N", title="State"), *_TEXTS, _N],
    )
    lower = alt.Y("lower_quarter:Q", title=told.axis)
    layers = [
        band.encode(x=x, y=lower, y2="upper_quarter:Q"),
        base.mark_rule(color=theme.OCHRE, strokeWidth=1.4).encode(y=lower, y2="upper_quarter:Q"),
        *_dots(base, y, theme.SPRUCE),
        _counts(there, x),
    ]
    return layered(layers, HEIGHT)


def by_weapon(weapons: pl.DataFrame, measure: str) -> Chart:
    """One measure by weapon class: median and middle half. Takes `AntlersFrames.weapons`."""
    named = pl.col("weapon_class").map_elements(weapon_words, return_dtype=pl.String, skip_nulls=False)
    return _by_kind(weapons.filter(measure=measure).with_columns(name=named), measure, "Weapon")


def by_age(ages: pl.DataFrame, measure: str) -> Chart:
    """One measure by age: median and middle half. Takes `AntlersFrames.ages`."""
    years = pl.col("age_years").map_elements(lambda age: f"{age:g} years", return_dtype=pl.String)
    return _by_kind(ages.filter(measure=measure).with_columns(name=years), measure, "Age")


def quantiles(antlers: Antlers, frame: pl.DataFrame) -> Chart:
    """The quantiles of every season's entries, and their lines where there are any. Takes `AntlersFrames.quantiles`."""
    shown = _with_state(frame.with_columns(name=pl.col("tau").replace_strict(NAMES)))
    x = _years(antlers)
    told = Measure("Score", "Score of the entries, inches")
    y = _amounts(shown, told, ("value", "fitted"), "value")
    colour = alt.Color(
        "name:N", title="Quantile of the entries", sort=list(NAMES.values()),
        scale=alt.Scale(domain=list(NAMES.values()), range=[theme.SPRUCE, theme.OCHRE, theme.RUST]),
        legend=alt.Legend(symbolType="circle", columns=3),
    )  # fmt: skip
    base = alt.Chart(shown).encode(
        x=x, color=colour,
        tooltip=[
            alt.Tooltip("season:N", title=SEASON_TITLE), alt.Tooltip("state_text:N", title="State"),
            alt.Tooltip("name:N", title="Quantile"),
            alt.Tooltip("value_text:N", title="Inches"), _N,
        ],
    )  # fmt: skip
    lines = (
        base.transform_filter("isValid(datum.fitted)")
        .mark_line(strokeWidth=2)
        .encode(y=alt.Y("fitted:Q", title=told.axis))
    )
    layers = [lines, *_dots(base, y), _counts(shown.unique("season", maintain_order=True), x)]
    return layered(layers, 340)


def _by_kind(rows: pl.DataFrame, measure: str, title: str) -> Chart:
    told = MEASURES[measure]
    shown = rows.with_columns(
        label=pl.format("{} ({})", "name", pl.col("entries").map_elements(lambda n: f"{n:,}", return_dtype=pl.String))
    )
    y = alt.Y(
        "label:N", title=None, sort=shown["label"].to_list(), axis=alt.Axis(labelLimit=150, ticks=False, domain=False)
    )
    base = alt.Chart(shown).encode(y=y, tooltip=[alt.Tooltip("name:N", title=title), *_TEXTS, _N])
    least, most = _range(shown, QUARTILES)
    scale = alt.Scale(domain=[least - 0.05 * (most - least), most + 0.05 * (most - least)], nice=False, zero=False)
    x = alt.X("middle:Q", title=told.axis, axis=amounts_axis(least, most, length=told.length), scale=scale)
    bars = base.mark_rule(color=theme.OCHRE, strokeWidth=2).encode(
        x=alt.X("lower_quarter:Q", title=told.axis), x2="upper_quarter:Q"
    )
    dots = base.mark_point(color=theme.SPRUCE, size=70, opacity=1).encode(x=x)
    return layered([bars, dots], alt.Step(STEP))


def _with_state(frame: pl.DataFrame) -> pl.DataFrame:
    return frame.with_columns(state_text=pl.col("state").replace_strict(STATES), complete=pl.col("state") == "complete")


def _years(antlers: Antlers) -> alt.X:
    years = antlers.counted.seasons["year"]
    return seasons_axis(years[0], years[-1])


def _range(frame: pl.DataFrame, columns: tuple[str, ...]) -> tuple[float, float]:
    """The least and greatest of the values of these columns, at least a little apart."""
    values = pl.concat([frame[name].drop_nulls().rename("value") for name in columns])
    least, most = float(values.min() or 0), float(values.max() or 0)  # type: ignore[arg-type]
    return (least, most) if most - least >= 0.25 else (least - 0.5, most + 0.5)


def _amounts(frame: pl.DataFrame, told: Measure, columns: tuple[str, ...], drawn: str) -> alt.Y:
    least, most = _range(frame, columns)
    apart = most - least
    scale = alt.Scale(domain=[least - 0.05 * apart, most + ROOM * apart], nice=False, zero=False)
    return alt.Y(f"{drawn}:Q", title=told.axis, axis=amounts_axis(least, most, length=told.length), scale=scale)


def _dots(base: alt.Chart, y: alt.Y, colour: str | None = None) -> list[alt.Chart]:
    """Full dots for complete seasons, hollow ones for the others."""
    own: dict[str, Any] = {} if colour is None else {"color": colour}
    full = base.transform_filter("datum.complete").mark_point(filled=True, opacity=1, size=48, **own)
    hollow = base.transform_filter("!datum.complete").mark_point(
        filled=False, opacity=1, size=48, strokeWidth=1.6, fill=theme.PAPER, **own
    )
    return [full.encode(y=y), hollow.encode(y=y)]


def _counts(frame: pl.DataFrame, x: alt.X) -> alt.Chart:
    chart: alt.Chart = (
        alt.Chart(frame)
        .mark_text(angle=270, align="right", baseline="middle", color=theme.FADED, fontSize=11)
        .encode(x=x, y=alt.value(2), text=alt.Text("entries:Q", format=",d"))
    )
    return chart
