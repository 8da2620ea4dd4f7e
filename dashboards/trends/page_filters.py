"""The filters that the pages of figures share, in the address: record book, category, place, weapon, seasons, day."""

from collections.abc import Mapping
from datetime import date

import streamlit as st

from dashboards import filters
from dashboards.asked import today
from dashboards.frame_of_page import empty_book
from dashboards.words import category_words, plain, weapon_words
from warehouse.book.reading import Choices
from warehouse.book.trend_figures.settings import TrendSettings

USUAL = "whitetail-typical"
DISTRICT, AREA = "district ", "area "  # before the name and the code: which of the two a place is
EARLIEST = date(1900, 1, 1)  # without it a day more than ten years ago would be dropped
Options = Mapping[str, Mapping[str, str]]


def ready(choices: Choices, what: str) -> bool:
    """Whether the book has entries and record books; says what to do where it has not. `what` is of record books."""
    if not choices.categories:
        empty_book()
        return False
    if not choices.books:
        st.subheader("No record book is set")
        st.write(f"{what}, and this book holds none. Put some in place with")
        st.code("beamledger reference books.csv minimums.csv --book BOOK --why REASON", language=None)
        return False
    return True


def settings(choices: Choices, *, with_place: bool) -> TrendSettings:
    """Draw the filters, those of place and weapon only `with_place`, and answer what they ask for."""
    options = _options(choices, with_place)
    filters.complain(options)
    with st.expander("Filters", expanded=True), st.grid(columns=4, min_column_width=190, gap="small"):
        book = filters.one("Record book", "book", options["book"])
        category = filters.one("Category", "category", options["category"], USUAL)
        place = (
            (filters.maybe_one("Place", "place", options["place"], "All that it covers") or "") if with_place else ""
        )
        weapon = filters.maybe_one("Weapon", "weapon", options["weapon"]) if with_place else None
        first = filters.maybe_one("From season", "from", options["from"], "The first")
        last = filters.maybe_one("To season", "to", options["to"], "The last")
        day = _day()
    return TrendSettings(
        book=book, category=category, today=today(), weapons=() if weapon is None else (weapon,),
        district=place.removeprefix(DISTRICT) if place.startswith(DISTRICT) else None,
        area=place.removeprefix(AREA) if place.startswith(AREA) else None,
        first_season=first, last_season=last, as_of=day,
    )  # fmt: skip


def _options(choices: Choices, with_place: bool) -> dict[str, Mapping[str, str]]:
    shared: dict[str, Mapping[str, str]] = {
        "book": filters.same(choices.books),
        "category": {code: category_words(code) for code in choices.categories},
        "from": filters.same(choices.seasons),
        "to": filters.same(choices.seasons[::-1]),
    }
    if not with_place:
        return shared
    districts = {DISTRICT + name: f"District {name}" for name in choices.districts}
    return shared | {
        "place": districts | {AREA + code: name for code, name in choices.areas.items()},
        "weapon": {code: weapon_words(code) for code in choices.weapon_classes},
    }


def _is_day(written: str) -> bool:
    try:
        return EARLIEST <= date.fromisoformat(written) <= today()
    except ValueError:
        return False


def _day() -> date | None:
    """The day as of which the book is looked at; None: today. What is no day is said, not dropped."""
    written = st.query_params.get("as-of")
    if written and not _is_day(written):
        st.warning(
            plain(
                f"The address asks for as-of “{written}”, which is no day up to today like 2026-03-14; it was left out."
            )
        )
    day = st.date_input(
        "As it was known on",
        value=None,
        key="as-of",
        min_value=EARLIEST,
        max_value=today(),
        format="YYYY-MM-DD",
        bind="query-params",
    )
    return day if isinstance(day, date) else None
