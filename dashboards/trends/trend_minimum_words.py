"""The common minimum of a window of seasons in sentences: what is kept, what is set aside, what changed."""

import polars as pl

from dashboards.words import category_words, counted
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.eighths import text_of
from warehouse.plain_text import shown
from warehouse.trends.common_minimum import ShorterWindow, shorter_windows
from warehouse.trends.rank_trend import MINIMUM_SEASONS

RULES = {
    "score": "what is ranked", "tie_rule": "the order of ties", "weapons": "weapons", "takes_found": "heads found dead", "drying_days": "days of drying",
    "certificates": "certificates", "states": "the area covered", "districts": "the area covered", "areas": "the area covered",
    "measured_within_days": "the cut-off of measuring", "received_within_days": "the cut-off of receiving",
}  # fmt: skip
"""The rules of a record book in words."""


def cut_text(trend: Trend) -> str:
    """The length at or above which entries count."""
    return text_of(trend.counted.cut, trend.counted.unit)


def place_words(trend: Trend, settings: TrendSettings) -> str:
    """The place by its name, or as all that the record book covers."""
    if settings.area is None and settings.district is None:
        areas = trend.counted.areas.height
        return f"the {counted(areas, 'area')} it covers" if areas else "all that it covers"
    return shown(trend.place)


def sentences(trend: Trend, settings: TrendSettings) -> list[str]:
    """The cut with its counts, every change of the minimum, and the shorter windows with lower cuts."""
    told = [_cut(trend), *_changes(trend), *_rules(trend)]
    windows = shorter_windows(trend.counted.minimum)
    if windows and settings.cut is None:
        told.append(
            f"A lower cut goes with a shorter window: {'; '.join(_with_seasons(trend, window) for window in windows)}. Two windows, "
            "never one line."
        )
    return [*told, *unplaced(trend.unplaced)]


def _cut(trend: Trend) -> str:
    minimum, unit = trend.counted.minimum, trend.counted.unit
    highest = text_of(minimum.units or 0, unit)
    score = minimum.by_season["score"][0] if minimum.by_season.height else "net"
    what = (
        f"Common minimum: {score} {highest}, the highest in force in these seasons"
        if trend.counted.cut == minimum.units
        else f"Cut: {score} {cut_text(trend)}, as asked for, above the highest minimum in force, {highest}"
    )
    return (
        f"{what}. {counted(trend.kept, 'entry', 'entries')} at or above it {'is' if trend.kept == 1 else 'are'} kept, "
        f"{trend.dropped:,} below it set aside."
    )


def _changes(trend: Trend) -> list[str]:
    changes, unit = trend.counted.minimum.changes, trend.counted.unit
    if changes.is_empty():
        return ["The minimum was the same in all of them."]
    moves = [
        f"in {season} from {text_of(before, unit)} to {text_of(after, unit)}"
        for season, before, after in changes.iter_rows()
    ]
    return [
        f"The minimum changed {'; '.join(moves)}. The cut takes that out of the counts; it does not take out what people "
        "sent in otherwise since."
    ]


def _rules(trend: Trend) -> list[str]:
    """Every change of the record book's other rules."""
    told = trend.counted.rule_changes.select("season", rules_expr())
    if told.is_empty():
        return []
    changes = [f"in {season} ({what})" for season, what in told.iter_rows()]
    return [
        f"Other rules of the book changed {'; '.join(changes)}. No cut takes that out: entries before and after were let in by different "
        "rules, so look at the seasons around it."
    ]


def rules_expr() -> pl.Expr:
    """The column `what` of `Counted.rule_changes` in words."""
    return pl.col("what").list.eval(pl.element().replace_strict(RULES)).list.unique(maintain_order=True).list.join(", ")


def unplaced(count: int) -> list[str]:
    """Entries that lie nowhere that the record book covers."""
    if not count:
        return []
    return [
        f"{counted(count, 'entry', 'entries')} of the record book at or above the cut, of an area that is not known "
        f"or not covered, {'is' if count == 1 else 'are'} in no figure."
    ]


def window_words(trend: Trend, window: ShorterWindow) -> str:
    """ "2006-07 to 2011-12 from 125 0/8 on"."""
    span = (
        window.first_season
        if window.first_season == window.last_season
        else f"{window.first_season} to {window.last_season}"
    )
    return f"{span} from {text_of(window.units, trend.counted.unit)} on"


def _with_seasons(trend: Trend, window: ShorterWindow) -> str:
    seasons = trend.counted.minimum.by_season.filter(
        trend.counted.minimum.by_season["season"].is_between(window.first_season, window.last_season)
    ).height
    few = ", too few for a trend" if seasons < MINIMUM_SEASONS else ""
    return f"{window_words(trend, window)} ({counted(seasons, 'season')}{few})"


def nothing(trend: Trend, settings: TrendSettings) -> str:
    """Why no entry is counted."""
    if trend.counted.seasons.is_empty():
        return (
            f"No entry of {category_words(settings.category)} qualifies in {shown(settings.book)} in these seasons, or it has no minimum for "
            "such heads: there is nothing to count."
        )
    if trend.counted.minimum.units is None:
        return (
            f"{shown(settings.book)} has no minimum for {category_words(settings.category)} as asked for in these seasons, so "
            "there is nothing to count from."
        )
    below = f"; {counted(trend.dropped, 'entry', 'entries')} below it set aside" if trend.dropped else ""
    return f"No entry of {place_words(trend, settings)} is at or above {cut_text(trend)}{below}."
