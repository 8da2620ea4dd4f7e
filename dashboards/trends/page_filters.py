"""The filters that the pages of figures share, in the address: record book, category, place, weapon, seasons, day."""

from collections.abc import Mapping
from dataclasses import replace

import streamlit as st

from dashboards import filters
from dashboards.asked import today
from dashboards.frame_of_page import empty_book
from dashboards.trends import rate_filters
from dashboards.trends.day_filter import day_filter
from dashboards.words import USUAL_CATEGORY, category_words, weapon_words
from warehouse.book.reading import Choices
from warehouse.book.trend_figures.settings import TrendSettings

DISTRICT, AREA = "district ", "area "  # before the name and the code: which of the two a place is
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


def settings(choices: Choices, *, with_place: bool = True, rates: bool = False) -> TrendSettings:
    """Draw the filters and answer what they ask for: place and weapon only `with_place`, those of rates where `rates`."""
    options = _options(choices, with_place)
    filters.complain(options | rate_filters.OPTIONS if rates else options)
    with st.expander("Filters", expanded=True), st.grid(columns=4, min_column_width=190, gap="small"):
        asked = TrendSettings(
            book=filters.one("Record book", "book", options["book"]),
            category=filters.one("Category", "category", options["category"], USUAL_CATEGORY), today=today(),
        )  # fmt: skip
        if with_place:
            asked = _with_place(asked, options)
        asked = replace(
            asked, first_season=filters.maybe_one("From season", "from", options["from"], "The first"),
            last_season=filters.maybe_one("To season", "to", options["to"], "The last"),
        )  # fmt: skip
        if rates:
            asked = rate_filters.with_rates(asked)
        return replace(asked, as_of=day_filter())


def _with_place(asked: TrendSettings, options: Options) -> TrendSettings:
    place = filters.maybe_one("Place", "place", options["place"], "All that it covers") or ""
    weapon = filters.maybe_one("Weapon", "weapon", options["weapon"])
    return replace(
        asked, weapons=() if weapon is None else (weapon,),
        district=place.removeprefix(DISTRICT) if place.startswith(DISTRICT) else None,
        area=place.removeprefix(AREA) if place.startswith(AREA) else None,
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
