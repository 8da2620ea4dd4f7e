"""Which seasons a trend rests on, and why not on the others: in sentences."""

from dashboards.number_words import named
from dashboards.words import counted
from warehouse.book.trend_figures.trend import Trend
from warehouse.trends.completeness import COMPLETE, SHOWN
from warehouse.trends.filling import WATCHED

STATES = {
    "complete": "complete", "incomplete": "not yet complete", "running": "still running", "unknown": "too little seen to tell",
    "missing": "nothing in the book", "not-covered": "not covered by the book",
    "no-rate": "not of the rate’s ground",
}  # fmt: skip
"""A season's state in a cell of a table."""
_LEFT_OUT = {
    "running": "not ended yet on that day",
    "unknown": "of which too little was seen to tell how complete {it_is}",
    "missing": "of which the book holds nothing at all (missing, not zero)",
    "not-covered": "in which the record book covered nothing of this place",
    "no-rate": "of which the areas that the rate is of were not covered, or their effort is not known",
}


def sentences(trend: Trend) -> list[str]:
    """The clock, the seasons left out, and what the incomplete ones will come to."""
    return [clock(trend), _rests_on(trend), *_incomplete(trend), *_others(trend), *_nowcasts(trend)]


def clock(trend: Trend) -> str:
    """By what the completeness of seasons is told."""
    if trend.filling.clock == "accepted":
        return "How complete a season is, is told by the days on which entries of earlier seasons were first accepted."
    return (
        "How complete a season is, is told by the days of official measuring, for the book has not yet watched "
        f"{WATCHED} seasons from their end on; measuring comes before acceptance, so completeness is told rather too high."
    )


def _rests_on(trend: Trend) -> str:
    used = trend.seasons.filter("used").height
    whole = trend.seasons.filter("whole").height
    more = f" (those of the share and the median on {whole})" if whole != used else ""
    return f"The trends rest on {counted(used, 'season')}{more} of {trend.seasons.height}, each at least {100 * COMPLETE:.0f} % complete."


def _incomplete(trend: Trend) -> list[str]:
    rows = trend.seasons.filter(state="incomplete")
    if rows.is_empty():
        return []
    listed = named(
        [f"{season} ({100 * full:.0f} %)" for season, full in rows.select("season", "completeness").iter_rows()]
    )
    return [f"Under {100 * COMPLETE:.0f} % complete, drawn hollow and in no trend: {listed}."]


def _others(trend: Trend) -> list[str]:
    told = []
    for state, words in _LEFT_OUT.items():
        seasons = trend.seasons.filter(state=state)["season"].to_list()
        if seasons:
            told.append(
                f"In no {'rate' if state == 'no-rate' else 'trend'}: {named(seasons)}, {words.format(it_is='it is' if len(seasons) == 1 else 'they are')}."
            )
    return told


def _nowcasts(trend: Trend) -> list[str]:
    rows = trend.seasons.filter(state="incomplete").select(
        "season", "all_entries", "nowcast", "nowcast_lower", "nowcast_upper"
    )
    return [
        f"{season}: {counted(entries, 'entry', 'entries')} so far; it will come to about {total:.0f} ({lower:.0f} to {upper:.0f})."
        if total is not None
        else f"{season}: {counted(entries, 'entry', 'entries')} so far, under {100 * SHOWN:.0f} % of what is to come: too little to say how many it will come to."
        for season, entries, total, lower, upper in rows.iter_rows()
    ]
