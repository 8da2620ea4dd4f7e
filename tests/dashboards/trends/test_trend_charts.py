"""The specifications of the charts, where a rule shows in them. Figures by hand: tests/dashboards/trends/trend_book.py."""

from dataclasses import replace
from typing import Any

import altair as alt
import polars as pl

from dashboards import theme
from dashboards.trends.trend_area_charts import funnel, levels_by_area
from dashboards.trends.trend_charts import median_by_season, rate_by_season, share_by_season
from dashboards.trends.trend_frames import frames_of
from tests.dashboards.trends.trend_book import trend_of, with_season
from warehouse.book.trend_figures.trend import Trend


def layers(chart: alt.LayerChart) -> list[dict[str, Any]]:
    """The layers, each with its rows in `rows`."""
    spec = chart.to_dict()
    data = spec["datasets"]
    named = [layer | {"rows": data[(layer.get("data") or spec["data"])["name"]]} for layer in spec["layer"]]
    return [
        layer | {"mark": layer["mark"] if isinstance(layer["mark"], dict) else {"type": layer["mark"]}}
        for layer in named
    ]


def of_kind(chart: alt.LayerChart, mark: str, **properties: Any) -> list[dict[str, Any]]:
    return [
        layer for layer in layers(chart)
        if layer["mark"]["type"] == mark and all(layer["mark"].get(name) == value for name, value in properties.items())
    ]  # fmt: skip


def unfinished() -> Trend:
    """2022-23 is missing, and 2023-24 is at 60 %, to come to 10 (8 to 13)."""
    first = replace(
        trend_of(),
        seasons=with_season(
            trend_of(), "2022-23", used=False, whole=False, state="missing", entries=None, all_entries=None, rate=None
        ),
    )
    changes = {"used": False, "whole": False, "state": "incomplete", "nowcast": 10.0, "nowcast_lower": 8.0, "nowcast_upper": 13.0,
               "nowcast_rate": 0.010, "nowcast_lower_rate": 0.008, "nowcast_upper_rate": 0.013}  # fmt: skip
    return replace(first, seasons=with_season(first, "2023-24", **changes))


def rate_chart(trend: Trend) -> alt.LayerChart:
    return rate_by_season(trend, frames_of(trend).seasons)


def test_a_season_in_no_trend_is_hollow_and_a_missing_one_has_no_dot() -> None:
    (dots,) = of_kind(rate_chart(unfinished()), "point")
    kinds = {row["season"]: row["kind"] for row in dots["rows"]}
    assert (kinds["2021-22"], kinds["2023-24"], kinds.get("2022-23")) == ("In the trend", "In no trend", None)
    fill = dots["encoding"]["fill"]
    assert dict(zip(fill["scale"]["domain"], fill["scale"]["range"], strict=True)) == {
        "In the trend": theme.SPRUCE, "In no trend": theme.PAPER,
    }  # fmt: skip
    assert dots["mark"]["stroke"] == theme.SPRUCE


def test_the_line_is_dashed_beyond_the_seasons_it_rests_on() -> None:
    whole, dashed = of_kind(rate_chart(unfinished()), "line")
    assert (whole["mark"]["strokeDash"], whole["rows"][-1]["season"]) == ([], "2021-22")
    assert dashed["mark"]["strokeDash"] == [5, 4]
    assert [row["season"] for row in dashed["rows"]] == ["2021-22", "2022-23", "2023-24"]


def test_a_nowcast_is_dashed_with_its_interval() -> None:
    (bar,) = of_kind(rate_chart(unfinished()), "rule", color=theme.SLATE)
    assert bar["mark"]["strokeDash"] == [4, 3]
    (row,) = bar["rows"]
    assert (row["season"], row["nowcast_rate"], row["nowcast_lower_rate"], row["nowcast_upper_rate"]) == (
        "2023-24",
        10.0,
        8.0,
        13.0,
    )
    assert of_kind(rate_chart(trend_of()), "rule", color=theme.SLATE) == []


def test_every_change_of_the_minimum_has_a_rule_before_its_season() -> None:
    for chart in (rate_chart(trend_of()), share_by_season(trend_of(), frames_of(trend_of()).seasons)):
        (rule,) = of_kind(chart, "rule", color=theme.RUST)
        (row,) = rule["rows"]
        assert (row["at"], row["label"], row["move"]) == (
            2018.5,
            "minimum 130 0/8",
            "a minimum, from 125 0/8 to 130 0/8",
        )
    window = {"first_season": "2019-20"}
    assert of_kind(rate_chart(trend_of(**window)), "rule", color=theme.RUST) == []


def test_a_rule_stands_where_the_minimum_changed_and_nowhere_else() -> None:
    (label,) = of_kind(rate_chart(trend_of()), "text", color=theme.RUST)
    assert label["encoding"]["text"]["field"] == "label"


def test_counts_are_always_in_sight() -> None:
    (counts,) = of_kind(rate_chart(unfinished()), "text", color=theme.FADED)
    assert [row["n"] for row in counts["rows"]] == ["2", "2", "3", "3", "4", "4", "5", "5", "-", "6"]
    (counts,) = of_kind(
        share_by_season(trend_of(second=9), frames_of(trend_of(second=9)).seasons), "text", color=theme.FADED
    )
    assert counts["rows"][-1]["n"] == "6/6"


def titles(chart: alt.LayerChart, axis: str) -> set[str]:
    found = [layer["encoding"].get(axis, {}).get("title") for layer in layers(chart)]
    return {" ".join(title) if isinstance(title, list) else title for title in found if title}


def test_an_axis_says_what_a_rate_is_per() -> None:
    expected = {
        "harvest": "Entries at or above 130 0/8 per 1,000 antlered deer harvested",
        "area": "Entries at or above 130 0/8 per 100 square miles (density)",
        "none": "Entries at or above 130 0/8 a season (counts, no effort)",
    }
    for effort, title in expected.items():
        assert titles(rate_chart(trend_of(effort=effort)), "y") == {title}


def test_the_rate_in_a_tooltip_has_its_interval() -> None:
    (dots,) = of_kind(rate_chart(trend_of()), "point")
    assert dots["rows"][0]["rate_text"] == "2.00 (0.24 to 7.22)"  # Garwood 1936: 0.242209 to 7.224688


def test_lengths_are_fractions_also_between_two_units() -> None:
    halves = replace(trend_of(), seasons=with_season(trend_of(), "2014-15", median_excess=1.4375))
    (dots,) = of_kind(median_by_season(halves, frames_of(halves).seasons), "point")
    assert [dots["rows"][0][name] for name in ("median_text", "excess_text")] == ["131 7/16", "1 7/16"]
    assert dots["rows"][1]["median_text"] == "131 0/8"


def test_the_line_through_the_medians_is_that_of_theil_and_sen() -> None:
    """Closed form: an inch a season from nothing."""
    (line,) = of_kind(median_by_season(trend_of(), frames_of(trend_of()).seasons), "line")
    assert [round(row["fitted_excess"], 9) for row in line["rows"]] == list(range(10))


def test_without_a_trend_there_is_no_line() -> None:
    few = trend_of(first_season="2017-18")
    assert of_kind(rate_chart(few), "line") == []
    assert of_kind(rate_chart(few), "point") != []


def test_areas_stand_by_district_and_name_and_never_by_rate() -> None:
    chart = levels_by_area(trend_of(), frames_of(trend_of()).areas)
    (dots,) = of_kind(chart, "point")
    assert dots["encoding"]["y"]["sort"] == ["North: Abberlow (5)", "South: Brackwater (21)"]
    reversed_areas = frames_of(replace(trend_of(), areas=trend_of().areas.reverse())).areas
    (dots,) = of_kind(levels_by_area(trend_of(), reversed_areas), "point")
    assert dots["encoding"]["y"]["sort"] == ["North: Abberlow (5)", "South: Brackwater (21)"]


def test_areas_of_one_name_are_told_apart() -> None:
    twins = frames_of(trend_of()).areas.with_columns(area=pl.lit("Abberlow"), district=pl.lit("North"))
    (dots,) = of_kind(levels_by_area(trend_of(), twins), "point")
    assert dots["encoding"]["y"]["sort"] == ["North: Abberlow 07001 (5)", "North: Abberlow 07003 (21)"]


def test_counts_are_not_smoothed() -> None:
    counted = trend_of(effort="none")
    assert of_kind(levels_by_area(counted, frames_of(counted).areas), "point") == []


def test_only_areas_outside_the_limits_are_named_in_the_funnel() -> None:
    flagged = frames_of(trend_of()).areas.with_columns(pl.Series("flag", ["", "above"]))
    (names,) = of_kind(funnel(trend_of(), flagged), "text")
    assert [row["label"] for row in names["rows"]] == ["South: Brackwater (21)"]
    assert len(of_kind(funnel(trend_of(), flagged), "line")) == 5


def test_the_line_of_the_median_is_whole_over_the_seasons_that_it_rests_on() -> None:
    """Without a harvest for 2022-23 and after the rate rests on eight seasons, the median on ten."""
    gone = pl.col("season") >= "2022-23"
    seasons = trend_of().seasons.with_columns(
        used=pl.col("used") & ~gone, state=pl.when(gone).then(pl.lit("no-rate")).otherwise("state")
    )
    trend = replace(trend_of(), seasons=seasons)
    dashed = [
        line
        for line in of_kind(median_by_season(trend, frames_of(trend).seasons), "line")
        if line["mark"].get("strokeDash")
    ]
    assert dashed == []
    assert [line for line in of_kind(rate_chart(trend), "line") if line["mark"].get("strokeDash")] != []
