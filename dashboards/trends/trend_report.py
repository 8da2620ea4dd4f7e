"""A trend as a report for a terminal: what it says in sentences, then its seasons, districts and areas."""

from collections.abc import Iterator
from typing import Any

import polars as pl

from dashboards.arguments import NOTICE
from dashboards.number_words import count, p_text, percent_text, rate_interval, share
from dashboards.trends.report_lines import section
from dashboards.trends.trend_effort_words import axis_title
from dashboards.trends.trend_frames import TrendFrames, frames_of
from dashboards.trends.trend_minimum_words import cut_text
from dashboards.trends.trend_season_words import STATES
from dashboards.trends.trend_words import briefly, second_text, sections, subject
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.plain_text import shown


def report(trend: Trend, settings: TrendSettings) -> Iterator[str]:
    """The lines of the report."""
    yield subject(trend, settings)
    for heading, sentences in sections(trend, settings).items():
        yield from section(heading, sentences)
    if trend.kept:
        frames = frames_of(trend)
        yield from _seasons(trend, frames)
        yield from _places(trend, frames)
    yield NOTICE


def _seasons(trend: Trend, frames: TrendFrames) -> Iterator[str]:
    yield f"\n{' '.join(axis_title(trend, cut_text(trend)))}, season by season"
    yield f"    {'season':<8} {'entries':>7} {'rate (95 % interval)':<24} {'>= ' + second_text(trend):>10} {'share':>6} {'median':>10}  minimum"
    changed = {*trend.counted.minimum.changes["season"], *trend.counted.rule_changes["season"]}
    for row in frames.seasons.iter_rows(named=True):
        yield _season(row, row["season"] in changed).rstrip()
    yield "  o  a season in no trend, its state behind it;  *  the minimum or another rule changed"


def _season(row: dict[str, Any], changed: bool) -> str:
    hollow, mark = " " if row["used"] else "o", "*" if changed else " "
    figures = [
        row["season"].ljust(8), count(row["all_entries"]).rjust(7), rate_interval(row["rate"], row["rate_lower"], row["rate_upper"]).ljust(24),
        count(row["above_second"]).rjust(10), share(row["share"]).rjust(6), (row["median_text"] or "-").rjust(10),
    ]  # fmt: skip
    state = "" if row["used"] else f"  {STATES[row['state']]}{_nowcast(row)}"
    return f"  {hollow} {' '.join(figures)}  {row['highest_text']}{mark}{state}"


def _nowcast(row: dict[str, Any]) -> str:
    if row["nowcast"] is None:
        return ""
    return f", will be {row['nowcast']:.0f} ({row['nowcast_lower']:.0f} to {row['nowcast_upper']:.0f})"


def _places(trend: Trend, frames: TrendFrames) -> Iterator[str]:
    if frames.districts.height > 1:
        yield from _table("district", frames.districts.with_columns(name="district"))
    if frames.areas.height > 1:
        yield from _table("area", frames.areas.with_columns(name="area"))


def _table(kind: str, places: pl.DataFrame) -> Iterator[str]:
    yield f"\nBy {kind}, in order of {'district and ' if kind == 'area' else ''}name (never of rate)"
    yield f"    {kind:<18} {'entries':>7} {'% a year (95 %)':<22} {'p adj.':>6}  {'level (95 %)':<21} rate and share"
    district = None
    for row in places.iter_rows(named=True):
        if kind == "area" and row["district"] != district:
            district = row["district"]
            yield f"  {shown(district or 'no district', 60)}"
        yield _place(row).rstrip()


def _place(row: dict[str, Any]) -> str:
    name = shown(row["name"] or "no district", 18).ljust(18)
    level = rate_interval(row["level"], row["level_lower"], row["level_upper"])
    flag = f", {row['flag']} the funnel" if row["flag"] else ""
    told = f"{level:<21} {briefly(row)}{flag}"
    return f"    {name} {count(row['entries']):>7} {percent_text(row):<22} {p_text(row['p_adjusted']):>6}  {told}"
