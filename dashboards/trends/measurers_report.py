"""The measurers' figures as a report for a terminal, and as JSON Lines."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import polars as pl

from dashboards.arguments import NOTICE
from dashboards.number_words import p_text, share
from dashboards.trends import higher_minimum_words
from dashboards.trends.digit_words import REFUSALS
from dashboards.trends.json_line import json_line
from dashboards.trends.measurers_frames import MeasurersFrames, entry_name, frames_of, who
from dashboards.trends.measurers_words import sections
from dashboards.trends.panel_words import bias_text, eighths, icc_text, line_words, plain_figure
from dashboards.trends.report_lines import section, subject
from warehouse.book.trend_figures.measurers import Measurers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.categories import all_categories
from warehouse.plain_text import shown

WHO = 32  # characters


def report(measurers: Measurers, settings: TrendSettings) -> Iterator[str]:
    """The lines of the report: each section's sentences, then its figures."""
    frames = frames_of(measurers, all_categories()[settings.category].unit)
    yield subject("Measurers", settings)
    tables = {
        "Panel sessions": _panels(frames), "Sheets against panels": _against(frames.against_panel),
        "Last digits": _digits(frames.digits),
        "The first inch above a minimum": _first_inch(frames.first_inch),
        higher_minimum_words.HEADING: _higher_minimums(frames.higher_minimums),
    }  # fmt: skip
    for heading, sentences in sections(measurers, frames).items():
        yield from section(heading, sentences)
        yield from tables.get(heading, ())
    yield NOTICE


def _panels(frames: MeasurersFrames) -> Iterator[str]:
    for (session,), lines in frames.panels.group_by("session", maintain_order=True):
        yield f"\n  {shown(str(session), 80)}"
        yield f"    {'line':<28} {'heads':>5} {'technical error':>15} {'with biases':>11}  ICC(2,1) (95 % interval)"
        for row in lines.iter_rows(named=True):
            heads = "-" if row["heads"] is None else row["heads"]
            errors = f"{plain_figure(row['technical_error'], 1):>15} {plain_figure(row['within_error'], 1):>11}"
            yield f"    {shown(line_words(row['line']), 28):<28} {heads:>5} {errors}  {icc_text(row)}"
        biases = frames.biases.filter(pl.col("session") == session)
        yield from _biases(biases.filter(pl.col("line") == lines["line"][0]), line_words(lines["line"][0]))


def _biases(biases: pl.DataFrame, line: str) -> Iterator[str]:
    yield f"    {'bias in eighths, ' + line:<{WHO}} {'heads':>5} {'bias (95 % interval)':<22} {'from middle':>11} {'p adj.':>6}"
    for row in biases.iter_rows(named=True):
        yield f"    {_who(row)} {row['heads']:>5} {bias_text(row):<22} {eighths(row['from_middle']):>11} {p_text(row['adjusted']):>6}"


def _against(scores: pl.DataFrame) -> Iterator[str]:
    if scores.height:
        yield f"    {'measurer':<{WHO}} {'entry':>12} {'season':<8} {'sheet':>9} {'panel':>9} {'eighths':>8}"
    for row in scores.iter_rows(named=True):
        entry = entry_name(row)
        yield f"    {_who(row)} {entry:>12} {row['season'] or '-':<8} {row['sheet_net']:>9} {row['panel_net']:>9} {row['difference']:>+8.0f}"


def _digits(digits: pl.DataFrame) -> Iterator[str]:
    if digits.height:
        yield f"    {'measurer':<{WHO}} {'lines':<14} {'measures':>8} {'to be moved':>11} {'p adj.':>6} {'even':>5} {'p adj.':>6}"
    for row in digits.iter_rows(named=True):
        front = f"    {_who(row)} {row['line']:<14} {row['measurements']:>8,}"
        if row["refused"] is not None:
            yield f"{front}  {REFUSALS[row['refused']]}"
            continue
        even = f"{share(row['even_share']):>5} {p_text(row['even_adjusted']):>6}"
        yield f"{front} {share(row['move']):>11} {p_text(row['adjusted']):>6} {even}{'  quarters' if row['reads_quarters'] else ''}"


def _first_inch(rows: pl.DataFrame) -> Iterator[str]:
    if rows.height:
        yield f"    {'measurer':<{WHO}} {'in it':>6} {'entries':>8} {'share':>6} {'expected':>8} {'sign':<6} {'p adj.':>6}"
    for row in rows.iter_rows(named=True):
        shares = f"{share(row['share']):>6} {share(row['expected']):>8} {row['sign'] or '-':<6}"
        yield f"    {_who(row)} {row['first_inch']:>6,} {row['above']:>8,} {shares} {p_text(row['adjusted']):>6}"


def _higher_minimums(rows: pl.DataFrame) -> Iterator[str]:
    if rows.height:
        yield f"    {'record book':<{WHO}} {'minimum':>9} {'under':>6} {'over':>6} {'share':>6} {'expected':>8} {'sign':<6} {'p':>6}"
    for row in rows.iter_rows(named=True):
        front = f"    {shown(row['book'], WHO):<{WHO}} {row['minimum']:>9}"
        if row["refused"] is not None:
            yield f"{front}  too few entries"
            continue
        shares = f"{share(row['share']):>6} {share(row['expected']):>8} {row['sign'] or '-':<6}"
        yield f"{front} {row['below']:>6,} {row['above']:>6,} {shares} {p_text(row['p']):>6}"


def _who(row: dict[str, Any]) -> str:
    return shown(who(row), WHO).ljust(WHO)


def json_lines(measurers: Measurers, settings: TrendSettings) -> Iterator[str]:
    """A "summary" first, then "panel" (a session's line), "bias", "against-panel" (an entry), "digits", "first-inch",
    "higher-minimum".
    """
    frames = frames_of(measurers, all_categories()[settings.category].unit)
    above = measurers.above
    yield json_line({
        "kind": "summary", "book": settings.book, "category": settings.category, "first_season": settings.first_season,
        "last_season": settings.last_season, "as_of": settings.as_of, "day": settings.day,
        "against_panel_inches": asdict(measurers.against_panel) if measurers.against_panel else None,
        "first_inch_expected": above.expected, "entries": above.entries, "sentences": sections(measurers, frames),
    })  # fmt: skip
    rows = {"panel": frames.panels, "bias": frames.biases, "against-panel": frames.against_panel, "digits": frames.digits,
            "first-inch": frames.first_inch, "higher-minimum": frames.higher_minimums}  # fmt: skip
    for kind, frame in rows.items():
        for row in frame.iter_rows(named=True):
            yield json_line({"kind": kind, **row})
