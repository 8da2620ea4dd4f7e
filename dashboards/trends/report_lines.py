"""Lines of a report for a terminal: what it is of, a heading with sentences under it, figures and their signs kept together."""

import textwrap
from collections.abc import Iterator, Sequence

from dashboards.words import category_words, weapon_words
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.plain_text import shown

WIDTH = 100
TIED = "\u00a0"


def subject(what: str, settings: TrendSettings) -> str:
    """The first line of a report: `what` is looked at, of which record book, category, weapons, seasons and day."""
    weapons = "".join(f", {weapon_words(weapon).lower()} only" for weapon in settings.weapons)
    span = (
        f", {settings.first_season or 'the first season'} to {settings.last_season or 'the last'}"
        if settings.first_season or settings.last_season
        else ""
    )
    known = f", as it was known when {settings.as_of} (UTC) ended" if settings.as_of else ""
    return f"{what} of {shown(settings.book)}, {category_words(settings.category)}{weapons}{span}{known}"


def section(heading: str, sentences: Sequence[str]) -> Iterator[str]:
    """A heading and its sentences; nothing where there is none."""
    if not sentences:
        return
    yield f"\n{heading}"
    for sentence in sentences:
        kept = sentence.replace(" %", f"{TIED}%")  # a figure and its sign stay on one line
        for line in textwrap.wrap(kept, WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False):
            yield line.replace(TIED, " ")
