"""A trend as JSON Lines: a summary first, then one object a season, district and area."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import polars as pl

from dashboards.trends.asked_line import asked, length
from dashboards.trends.json_line import json_line
from dashboards.trends.trend_frames import frames_of
from dashboards.trends.trend_words import headline, sections
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.trends.common_minimum import shorter_windows

# of the fit, for drawing its band: no use without the formula
_INNER = ("series", "intercept", "middle", "var_intercept", "cov_intercept_slope")


def json_lines(trend: Trend, settings: TrendSettings) -> Iterator[str]:
    """The lines. A length is text, with its whole units beside it; what is unknown or without limit is null."""
    frames = frames_of(trend)
    yield json_line(
        {
            "kind": "summary",
            **asked(settings, trend.place, trend.counted),
            **_found(trend),
            "sentences": sections(trend, settings),
        }
    )
    for kind, frame in (("season", frames.seasons), ("district", frames.districts), ("area", frames.areas)):
        for row in _named(frame, kind).iter_rows(named=True):
            yield json_line({"kind": kind, **row})


def _named(frame: pl.DataFrame, kind: str) -> pl.DataFrame:
    if kind != "season":
        return frame
    return frame.rename({"highest_text": "minimum", "highest": "minimum_units", "median_text": "median"})


def _found(trend: Trend) -> dict[str, Any]:
    unit = trend.counted.unit
    changes = trend.counted.minimum.changes.iter_rows()
    return {
        **length("second_cut", trend.counted.second, unit), "kept": trend.kept, "dropped": trend.dropped, "unplaced": trend.unplaced, "effort": trend.effort.kind,
        "effort_known": trend.effort.known, "per": trend.per, "headline": headline(trend), "verdict": trend.verdict,
        "rate": _fit(trend.rate), "share": _fit(trend.share),
        "negative_binomial": asdict(trend.sensitivity) if trend.sensitivity else None,
        "effort_exponent": dict(zip(("estimate", "lower", "upper"), trend.exponent, strict=True)) if trend.exponent else None,
        "median_trend": asdict(trend.ranks) if trend.ranks else None, "median_trend_serial_p": trend.serial,
        "mean_of_all_bucks": [asdict(spread) for spread in trend.spreads],
        "regional": asdict(trend.regional) if trend.regional else None,
        "combined": asdict(trend.combined) if trend.combined else None,
        "minimum_changes": [
            {"season": season, **length("before", before, unit), **length("after", after, unit)} for season, before, after in changes
        ],
        "rule_changes": trend.counted.rule_changes.to_dicts(),
        "newest_against_first": asdict(trend.ends) if trend.ends else None,
        "shorter_windows": [
            {"first_season": window.first_season, "last_season": window.last_season, **length("cut", window.units, unit)}
            for window in shorter_windows(trend.counted.minimum)
        ],
        "clock": trend.filling.clock,
    }  # fmt: skip


def _fit(row: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name not in _INNER}
