"""What a rate is per, whether that is a good measure, and how far its trend may be trusted: in sentences."""

import math

from dashboards.number_words import change_a_year, interval
from dashboards.words import counted
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.trends.places import LEVEL_SEASONS
from warehouse.trends.verdict import direction

MEASURES = {"harvest": "antlered deer harvested", "licences": "licences sold", "area": "square miles"}
ONLY_COUNTED = "entries are only counted, and more hunters, or more deer taken, would look like more large heads"
DENSITY = "Square miles make a density, not effort-corrected: a busy season and a quiet one are not told apart."


def per(trend: Trend) -> str:
    """ " per 1,000 antlered deer harvested"; nothing where entries are only counted."""
    return f" per {trend.per:,} {MEASURES[trend.effort.kind]}" if trend.effort.kind else ""


def axis_title(trend: Trend, cut: str) -> list[str]:
    """What an axis of rates measures, in two lines; `cut` is the length at or above which entries count."""
    if trend.effort.kind is None:
        return [f"Entries at or above {cut}", "a season (counts, no effort)"]
    return [f"Entries at or above {cut}", f"{per(trend).strip()}{' (density)' if trend.effort.kind == 'area' else ''}"]


def sentences(trend: Trend, settings: TrendSettings) -> list[str]:
    """The measure of effort, the ground it is of, its check, and the scatter about the trend."""
    told = [*_measure(trend, settings), *_ground(trend)]
    if trend.rate["refused"]:
        return told
    return [*told, *_ends(trend), *_check(trend), dispersion(trend), sensitivity(trend)]


def _measure(trend: Trend, settings: TrendSettings) -> list[str]:
    kind = trend.effort.kind
    if kind is None:
        return [f"{_why_counted(settings)}; {ONLY_COUNTED}."]
    known = "every area and season"
    if trend.effort.known < 1:
        known = f"{100 * trend.effort.known:.0f} % of the areas and seasons"
    told = [f"Effort: {MEASURES[kind]}, known for {known}."]
    if trend.counted.some_weapons and kind != "area":
        told.append(
            f"The {MEASURES[kind]} are those of every weapon: hunters who go over to another weapon would look like a trend."
        )
    if trend.counted.with_found and kind == "harvest":
        told.append("Heads that were found dead are among the entries, and were never harvested.")
    return [*told, DENSITY] if kind == "area" else told


def _ground(trend: Trend) -> list[str]:
    """What the rate leaves out so as to be of the same areas in all of its seasons."""
    used = trend.seasons.filter("used")
    without = int((used["all_entries"] - used["entries"]).sum())
    areas = trend.areas.height
    kept = int(used["areas"][0]) if used.height else areas
    if kept == areas:
        return []
    why = "covered by the book" if trend.effort.kind is None else "covered by the book, and their effort known,"
    return [
        f"The rate is of {kept} of {areas} areas: those that were {why} in each of its seasons; {counted(without, 'entry', 'entries')} of the "
        "others are in no rate of this place: ground that comes or goes would look like a trend."
    ]


def _ends(trend: Trend) -> list[str]:
    """The newest seasons held against the first ones, which needs no line."""
    found = trend.ends
    if found is None or not math.isfinite(found.ratio) or not math.isfinite(found.upper):
        return []
    return [
        f"The newest {LEVEL_SEASONS} seasons of it against the first {LEVEL_SEASONS}: {found.ratio:.2f} times the rate ({found.lower:.2f} to "
        f"{found.upper:.2f}, as far as chance in the counts goes)."
    ]


def _why_counted(settings: TrendSettings) -> str:
    if settings.effort == "none":
        return "No effort, as asked for"
    if settings.effort is not None:
        return f"{MEASURES[settings.effort].capitalize()} are not known here"
    return "No measure of effort is known for half of the areas and seasons"


def _check(trend: Trend) -> list[str]:
    """Whether entries went with the effort as a rate takes for granted."""
    kind = trend.effort.kind
    if kind is None:
        return []
    if trend.exponent is None or not all(map(math.isfinite, trend.exponent)):
        return [
            f"Check of the effort: {MEASURES[kind]} differ too little from season to season to tell whether entries go with them."
        ]
    power, lower, upper = trend.exponent
    found = f"Check of the effort: entries went with it to the power of {power:.2f} (95 % interval {lower:.2f} to {upper:.2f})"
    if lower <= 1 <= upper:
        little = ", but 0 as well, so that this tells little" if lower <= 0 else ""
        return [f"{found}; a rate takes 1 for granted, which the interval holds{little}."]
    return [
        f"{found}, where a rate takes 1 for granted: {MEASURES[kind]} are a poor measure here; compare with another effort."
    ]


def dispersion(trend: Trend) -> str:
    """How the counts scatter about the trend."""
    phi = trend.rate["phi"]
    if phi <= 1:
        return f"Scatter (phi {phi:.2f}): from season to season the counts differ no more than chance makes them."
    return f"Scatter (phi {phi:.2f}): the counts vary {phi:.1f} times as much as chance alone makes them, and the interval allows for it."


def sensitivity(trend: Trend) -> str:
    """The trend with other errors, held against the first."""
    other, row = trend.sensitivity, trend.rate
    if other is None:
        return "Held against a negative-binomial model: the counts scatter too little for one to be fitted."
    found = f"{change_a_year(other.percent)} a year (95 % interval {interval(other.lower, other.upper)})"
    same = direction(other.lower, other.upper) == direction(row["percent_lower"], row["percent_upper"])
    ending = "both say the same" if same else "the two do not say the same: do not rest much on either"
    return f"Held against a negative-binomial model: {found}; {ending}."
