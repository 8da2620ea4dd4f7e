"""What a trend says, in sentences for a biologist: one place for the page, the command and its lines.

A trend is always one among entries, never of the herd.
"""

from collections.abc import Mapping
from typing import Any

from dashboards.number_words import change_a_year, interval, share, size_of
from dashboards.trends import (
    trend_effort_words,
    trend_median_words,
    trend_minimum_words,
    trend_place_words,
    trend_season_words,
)
from dashboards.words import category_words, counted, weapon_words
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.eighths import text_of
from warehouse.plain_text import shown
from warehouse.trends.places import FEWEST_IN_SHARE
from warehouse.trends.rank_trend import MINIMUM_SEASONS
from warehouse.trends.rate_trend import share_band
from warehouse.trends.verdict import Verdict, direction

NO_TREND = "No trend among entries is told"
REFUSALS = {
    "few-seasons": f"fewer than {MINIMUM_SEASONS} seasons that a trend may rest on",
    "no-entries": "no entry, or all of them at one end of the seasons",
    "no-effort": "what stands behind the entries is not known",
}
"""Why a rate has no trend."""
SHARE_REFUSALS = {
    "few-entries": f"fewer than {FEWEST_IN_SHARE} entries are above it, or under it",
    "few-seasons": f"fewer than {MINIMUM_SEASONS} seasons with an entry",
    "no-entries": "none of the entries reaches it, or all of them do, or all that do come at one end of the seasons",
}
"""Why a share has no trend."""
VERDICTS: dict[Verdict, str] = {
    "both-up": "More entries, and a larger share of them at or above {second}: among the entries large heads become commoner, "
    "which more zeal in sending in, alike for every size, would not bring about.",
    "both-down": "Fewer entries, and a smaller share of them at or above {second}: among the entries large heads become rarer, "
    "which less zeal in sending in, alike for every size, would not bring about.",
    "rate-up-alone": "More entries, but no sign that they are larger: more zeal in sending in would look the same; this is not "
    "read as more big deer.",
    "rate-down-alone": "Fewer entries, but no sign that they are smaller: less zeal in sending in would look the same; this is "
    "not read as fewer big deer.",
    "share-up-alone": "No clear change in how many entries there are, but a larger share of them is at or above {second}: the "
    "entries grow larger, not more numerous.",
    "share-down-alone": "No clear change in how many entries there are, but a smaller share of them is at or above {second}: the "
    "entries grow smaller, not fewer.",
    "opposed": "The rate of entries and the share of them at or above {second} go opposite ways ({ways}): this is not read as "
    "one trend of the deer.",
    "neither": "Neither the rate of entries nor the share of them at or above {second} changes clearly.",
    "unknown": "As the rate has no trend, nothing is said of more or fewer, larger or smaller heads.",
}
"""What the rate and the share say together."""
MORE_TOLD = (
    "More entries; whether they are larger cannot be told, for the share of them at or above {second} has no trend. More zeal in sending in "
    "would look the same; this is not read as more big deer."
)
FEWER_TOLD = (
    "Fewer entries; whether they are smaller cannot be told, for the share of them at or above {second} has no trend. Less zeal in sending "
    "in would look the same; this is not read as fewer big deer."
)
NEITHER_TOLD = "The rate of entries does not change clearly, and the share of them at or above {second} has no trend."
BRIEFLY: dict[Verdict, str] = {
    "both-up": "more and larger", "both-down": "fewer and smaller", "rate-up-alone": "more, not larger",
    "rate-down-alone": "fewer, not smaller", "share-up-alone": "larger, not more", "share-down-alone": "smaller, not fewer",
    "opposed": "opposite ways", "neither": "no clear change", "unknown": "not told",
}  # fmt: skip
"""The same in a cell of a table."""
BRIEF_REFUSALS = {
    "few-seasons": "too few seasons", "no-entries": "too few entries", "no-effort": "effort not known",
}  # fmt: skip


def subject(trend: Trend, settings: TrendSettings) -> str:
    """What the trend is of: record book, category, weapons, place, seasons."""
    weapons = "".join(f", {weapon_words(weapon).lower()} only" for weapon in settings.weapons)
    seasons = trend.seasons["season"]
    span = f", {seasons[0]} to {seasons[-1]}" if len(seasons) > 1 else f", {seasons[0]}" if len(seasons) else ""
    place = trend_minimum_words.place_words(trend, settings)
    return f"{shown(settings.book)}, {category_words(settings.category)}{weapons}, {place}{span}"


def headline(trend: Trend) -> str:
    """The trend among entries in per cent a year, or why there is none."""
    row = trend.rate
    if row["refused"]:
        return f"{NO_TREND}: {REFUSALS[row['refused']]} ({_rests_on(trend)})."
    change = change_a_year(row["percent"])
    within = interval(row["percent_lower"], row["percent_upper"])
    per = trend_effort_words.per(trend) or ", only counted"
    unsure = "no clear change; " if direction(row["lower"], row["upper"]) == "unclear" else ""
    return f"Trend among entries{per}: {unsure}{change} a year (95 % interval {within}), from {_rests_on(trend)}."


def _rests_on(trend: Trend) -> str:
    entries, seasons = trend.rate["entries"], trend.rate["seasons"]
    return f"{counted(entries, 'entry', 'entries')} of {counted(seasons, 'season')}"


def verdict_sentence(trend: Trend) -> str:
    """What the rate and the share of larger entries say together."""
    if trend.verdict == "neither" and trend.share["refused"]:
        return NEITHER_TOLD.format(second=second_text(trend))
    up = (trend.rate["slope"] or 0.0) > 0
    if trend.share["refused"] and trend.verdict in ("rate-up-alone", "rate-down-alone"):
        return (MORE_TOLD if up else FEWER_TOLD).format(second=second_text(trend))
    ways = "more entries, a smaller share of large ones" if up else "fewer entries, a larger share of large ones"
    return VERDICTS[trend.verdict].format(second=second_text(trend), ways=ways)


def share_sentence(trend: Trend) -> str:
    """The trend of the share of entries at or above the second cut, as fitted at both ends of the seasons it rests on."""
    row, second = trend.share, second_text(trend)
    if row["refused"]:
        return f"The share of entries at or above {second} has no trend: {SHARE_REFUSALS[row['refused']]}; so it backs nothing."
    first, last = _fitted_ends(trend)
    within = interval(row["percent_lower"], row["percent_upper"], "up", "down")
    return (
        f"The share of entries at or above {second}, fitted: {share(first[1])} in {first[0]}, {share(last[1])} in {last[0]}; the "
        f"odds go {'up' if row['percent'] >= 0 else 'down'} by {size_of(row['percent'])} a year (95 % interval {within}). "
        f"{row['entries']:,} of {row['out_of']:,} entries are so large."
    )


def _fitted_ends(trend: Trend) -> tuple[tuple[str, float], tuple[str, float]]:
    used = trend.seasons.filter("whole")
    ends = share_band(trend.share, [used["year"][0], used["year"][-1]])["rate"]
    return (used["season"][0], ends[0]), (used["season"][-1], ends[1])


def second_text(trend: Trend) -> str:
    """The second cut as a score sheet has it."""
    return text_of(trend.counted.second, trend.counted.unit)


def sections(trend: Trend, settings: TrendSettings) -> dict[str, list[str]]:
    """Every sentence under its heading, in the order of the page."""
    if not trend.kept:
        return {"Trend": [f"{NO_TREND}.", trend_minimum_words.nothing(trend, settings)], "As of": as_of(settings)}
    return {
        "Trend": [headline(trend), verdict_sentence(trend), *trend_effort_words.sentences(trend, settings)],
        "Common minimum": trend_minimum_words.sentences(trend, settings),
        "Share of larger entries": [share_sentence(trend)],
        "Median entry": trend_median_words.sentences(trend),
        "Seasons": trend_season_words.sentences(trend),
        "Districts and areas": trend_place_words.sentences(trend),
        "As of": as_of(settings),
    }


def as_of(settings: TrendSettings) -> list[str]:
    """Which state of the book is told of."""
    if settings.as_of is None:
        return [f"The book as it is known on {settings.today} (UTC)."]
    return [
        f"The book as it was known when {settings.as_of} (UTC) ended; minimums, efforts and other reference tables are those "
        "of today."
    ]


def briefly(row: Mapping[str, Any]) -> str:
    """What the rate and the share of a district or area say together, or why its rate has no trend: for a cell."""
    return BRIEF_REFUSALS[row["refused"]] if row["refused"] else BRIEFLY[row["verdict"]]
