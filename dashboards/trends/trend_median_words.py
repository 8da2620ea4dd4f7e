"""The trend of the seasons' median entry in sentences: Theil and Sen, Mann and Kendall, and area by area."""

import math

from dashboards.number_words import chance, limits, signed
from dashboards.words import counted
from warehouse.book.trend_figures.trend import Trend
from warehouse.trends.rank_trend import MINIMUM_SEASONS

SUPPOSED = (
    "This uses every entry over its own minimum, and rests on the spread, on the normal shape far out, and on a sending-in alike for every "
    "size: a second opinion, no result of its own."
)
PALE = (
    "The median of entries moves far less than the deer do, for only the top of them is in the book; a clear change says something, "
    "no change hardly anything."
)
STEP = "A minimum or another rule changed in these seasons: this test cannot tell a step from a trend, so look at the seasons around the change."


def sentences(trend: Trend) -> list[str]:
    """The median's trend, that within areas, and what the test cannot tell."""
    told = [_whole(trend)]
    if trend.ranks is not None:
        told.append(PALE)
        if trend.counted.minimum.changes.height or trend.counted.rule_changes.height:
            told.append(STEP)
    return [*told, *_serial(trend), *_within_areas(trend), *_spreads(trend)]


def _whole(trend: Trend) -> str:
    ranks = trend.ranks
    if ranks is None:
        seasons = trend.seasons.filter("whole").drop_nulls("median_excess").height
        return (
            f"The median entry has no trend: {counted(seasons, 'season')} with an entry, and fewer than {MINIMUM_SEASONS} tell "
            "nothing by their ranks."
        )
    counted_out = ", counted out" if ranks.exact else ""
    return (
        f"The median entry: {signed(ranks.slope)} inches a year (Theil and Sen; {limits(ranks.lower, ranks.upper)}); Mann and "
        f"Kendall’s test: {chance(ranks.p)}{counted_out}, {counted(ranks.seasons, 'season')}."
    )


def _serial(trend: Trend) -> list[str]:
    if trend.serial is None:
        return []
    return [f"With the likeness of seasons that follow each other allowed for (Hamed and Rao): {chance(trend.serial)}."]


def _spreads(trend: Trend) -> list[str]:
    """The mean of all bucks, as far as a spread from outside the book tells it."""
    if not trend.spreads:
        return []
    told = "; ".join(
        f"{spread.sd:g} inches: {signed(spread.slope)} ({limits(spread.lower, spread.upper)})"
        for spread in trend.spreads
    )
    return [
        f"If the scores of all bucks are normal with a spread that you know, their mean moves by so many inches a year, for a spread of {told}. {SUPPOSED}"
    ]


def _within_areas(trend: Trend) -> list[str]:
    found = trend.regional
    if found is None or not math.isfinite(found.slope):
        return []
    told = (
        f"Each of {found.blocks} areas held to itself (regional Kendall): {signed(found.slope)} inches a year "
        f"({limits(found.lower, found.upper)}); {which_chance(trend)}."
    )
    unlike = f"test of unlike trends: {chance(found.heterogeneity_p)}"
    if found.unlike:
        return [told, f"The areas go different ways ({unlike}): no single trend of the median is to be told."]
    return [told, f"No sign that the areas go different ways ({unlike})."]


def which_chance(trend: Trend) -> str:
    """The p of the regional test that counts: with the seasons that all areas share allowed for, where that can be done."""
    found = trend.regional
    if found is None:
        return ""
    if found.p_correlated is None:
        return f"{chance(found.p)}, not corrected for shared weather, so rather too small"
    return f"{chance(found.p_correlated)}, corrected for shared weather ({chance(found.p)} without)"
