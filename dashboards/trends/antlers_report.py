"""The antlers above the cut as a report for a terminal, and as JSON Lines."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import polars as pl

from dashboards.arguments import NOTICE
from dashboards.trends.antlers_frames import ALL, AntlersFrames, frames_of
from dashboards.trends.antlers_words import aged, sections
from dashboards.trends.asked_line import asked
from dashboards.trends.json_line import json_line
from dashboards.trends.measures import MEASURES
from dashboards.trends.report_lines import section, subject
from warehouse.book.trend_figures.antlers import Antlers
from warehouse.book.trend_figures.settings import TrendSettings


def report(antlers: Antlers, settings: TrendSettings) -> Iterator[str]:
    """The lines of the report: what it is of, `lines`, and that rules and law go first."""
    yield subject("Antlers", settings)
    yield from lines(antlers)
    yield NOTICE


def lines(antlers: Antlers) -> Iterator[str]:
    """The sentences under their headings, then the medians season by season, and the tail at rising cuts."""
    frames = frames_of(antlers)
    for heading, sentences in sections(antlers, frames).items():
        yield from section(heading, sentences)
    if antlers.kept:
        yield from _medians(frames)
        yield from _tail(frames)


def _medians(frames: AntlersFrames) -> Iterator[str]:
    yield "\nMedians among entries, season by season (how many entries have the measure)"
    yield f"    {'season':<8}" + "".join(f" {MEASURES[code].name.lower():>16}" for code in MEASURES)
    of_place = frames.medians.filter(pl.col("district") == ALL)
    for (season, state), rows in of_place.group_by("season", "state", maintain_order=True):
        told = {row["measure"]: f"{row['middle_text']} ({row['entries']:,})" for row in rows.iter_rows(named=True)}
        hollow = " " if state == "complete" else "o"
        yield f"  {hollow} {season:<8}" + "".join(f" {told.get(code, '-'):>16}" for code in MEASURES)
    if (of_place["state"] != "complete").any():
        yield "  o  a season that is not complete"


def _tail(frames: AntlersFrames) -> Iterator[str]:
    yield "\nThe tail at rising cuts"
    yield f"    {'cut':>10} {'entries':>8} {'mean excess':>12} {'scale':>8} {'shape':>8} {'modified scale':>15}"
    for row in frames.tail.iter_rows(named=True):
        figures = (_figure(row[name]) for name in ("mean_excess", "scale", "shape", "modified_scale"))
        excess, scale, shape, modified = figures
        yield f"    {row['cut_text']:>10} {row['entries']:>8,} {excess:>12} {scale:>8} {shape:>8} {modified:>15}"


def _figure(value: float | None) -> str:
    return "-" if value is None else f"{value:.2f}"


def json_lines(antlers: Antlers, settings: TrendSettings) -> Iterator[str]:
    """One object "antlers" first, then one for each row of the frames: "median" (a district, season and measure),
    "weapon-median", "age-median", "season-quantile", "quantile-line", "tail".
    """
    frames = frames_of(antlers)
    yield json_line(
        {
            "kind": "antlers",
            **asked(settings, antlers.place, antlers.counted),
            **_summary(antlers),
            "sentences": sections(antlers, frames),
        }
    )
    rows = {"median": frames.medians, "weapon-median": frames.weapons, "age-median": frames.ages, "season-quantile": frames.quantiles,
            "quantile-line": frames.lines, "tail": frames.tail}  # fmt: skip
    for kind, frame in rows.items():
        for row in frame.iter_rows(named=True):
            yield json_line({"kind": kind, **row})


def _summary(antlers: Antlers) -> dict[str, Any]:
    tail = antlers.tail
    return {
        "kept": antlers.kept, "aged": aged(antlers), "effort": antlers.effort.kind,
        "effort_known": antlers.effort.known,
        "above_per_effort": tail.above,
        "one_in_thousand": asdict(tail.one_in_thousand) if tail.one_in_thousand else None,
        "scale": tail.tail.scale if tail.tail else None, "shape": tail.tail.shape if tail.tail else None,
        "scale_se": tail.tail.scale_se if tail.tail else None, "shape_se": tail.tail.shape_se if tail.tail else None,
    }  # fmt: skip
