"""Trends: what the entries of a record book tell of more or fewer, larger or smaller heads, and what they do not."""

from collections.abc import Mapping
from datetime import date
from typing import Literal, cast

import streamlit as st

from dashboards import filters, open_book
from dashboards.asked import today
from dashboards.frame_of_page import empty_book
from dashboards.views.trend_view import draw
from dashboards.words import category_words, plain, weapon_words
from warehouse.book.reading import Choices
from warehouse.book.trend_figures.settings import SECOND_INCHES, TrendSettings
from warehouse.trends.effort import Effort

EFFORTS = {
    "harvest": "Antlered deer harvested", "licences": "Licences sold", "area": "Square miles (a density)",
    "none": "None: only counts",
}  # fmt: skip
SECONDS = {str(inches): f"{inches} inches above it" for inches in (5, 10, SECOND_INCHES, 20, 25, 30)}
SPREADS = {str(inches): f"{inches} inches (SD), from elsewhere" for inches in range(10, 23)}
FIRST_DAY = date(1900, 1, 1)  # without one the calendar goes back ten years only
USUAL = "whitetail-typical"
DISTRICT, AREA = "district ", "area "  # before the name and the code: which of the two a place is


def main() -> None:
    """Draw the page."""
    st.title("Trends among entries")
    choices = open_book.choices()
    if not choices.categories:
        empty_book()
        return
    if not choices.books:
        _no_record_books()
        return
    st.caption(
        "Only heads that somebody sent in, that reached a minimum and that qualify are here: every trend is one among entries, never "
        "of the herd."
    )
    options = _options(choices)
    filters.complain(options)
    settings = _settings(options)
    draw(open_book.trend(settings), settings)


def _no_record_books() -> None:
    st.subheader("No record book is set")
    st.write(
        "A trend is of the entries that qualify in a record book, and this book holds none. Put some in place with"
    )
    st.code("beamledger reference books.csv minimums.csv --book BOOK --why REASON", language=None)


def _options(choices: Choices) -> dict[str, Mapping[str, str]]:
    districts = {DISTRICT + name: f"District {name}" for name in choices.districts}
    return {
        "book": filters.same(choices.books),
        "category": {code: category_words(code) for code in choices.categories},
        "place": districts | {AREA + code: name for code, name in choices.areas.items()},
        "weapon": {code: weapon_words(code) for code in choices.weapon_classes},
        "from": filters.same(choices.seasons),
        "to": filters.same(choices.seasons[::-1]),
        "effort": EFFORTS,
        "second": SECONDS,
        "spread": SPREADS,
    }


def _settings(options: Mapping[str, Mapping[str, str]]) -> TrendSettings:
    with st.expander("Filters", expanded=True), st.grid(columns=4, min_column_width=190, gap="small"):
        book = filters.one("Record book", "book", options["book"])
        category = filters.one("Category", "category", options["category"], USUAL)
        place = filters.maybe_one("Place", "place", options["place"], "All that it covers") or ""
        weapon = filters.maybe_one("Weapon", "weapon", options["weapon"])
        first = filters.maybe_one("From season", "from", options["from"], "The first")
        last = filters.maybe_one("To season", "to", options["to"], "The last")
        effort = filters.maybe_one("Rates are per", "effort", options["effort"], "What is known enough")
        second = filters.one("Second cut", "second", options["second"], str(SECOND_INCHES))
        spread = filters.maybe_one("Spread of all bucks", "spread", options["spread"], "Not known")
        day = _day()
    return TrendSettings(
        book=book, category=category, today=today(), weapons=() if weapon is None else (weapon,),
        district=place.removeprefix(DISTRICT) if place.startswith(DISTRICT) else None,
        area=place.removeprefix(AREA) if place.startswith(AREA) else None,
        first_season=first, last_season=last, effort=cast(Effort | Literal["none"] | None, effort), second=int(second), as_of=day,
        spread=float(spread) if spread else None,
    )  # fmt: skip


def _day() -> date | None:
    """The day as of which the book is looked at; None: today. What the address asks for and cannot be had is said."""
    written = st.query_params.get("as-of")
    if written and not _is_day(written):
        st.warning(
            plain(
                f"The address asks for as-of “{written}”, which is no day like 2026-03-14 up to today; it was left out."
            )
        )
    day = st.date_input(
        "As it was known on", value=None, key="as-of", min_value=FIRST_DAY, max_value=today(), format="YYYY-MM-DD",
        bind="query-params",
    )  # fmt: skip
    return day if isinstance(day, date) else None


def _is_day(text: str) -> bool:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return False
    return day.isoformat() == text and FIRST_DAY <= day <= today()


main()
