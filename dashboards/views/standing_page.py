"""Standing: how the entries of one record book stand, and which of those that do not qualify come nearest."""

from collections.abc import Mapping
from typing import cast

import streamlit as st

from dashboards import filters, open_book, pick_row, tables
from dashboards.frame_of_page import empty_book
from dashboards.views.go_to_sheet import go_to_picked
from dashboards.words import category_words, counted
from warehouse.book.reading import Choices, Standings, StandingSettings
from warehouse.book.reading.standings import Group

GROUPS = {
    "would": "Would qualify if accepted",
    "near": "Just under the minimum",
    "qualify": "Qualifies",
    "other": "Anything else against it",
}
ABOUT = {
    "would": "Held entries that meet everything else the book asks for: settling their findings brings them in.",
    "near": "Entries under the minimum by so much or less, and with nothing else against them.",
    "qualify": "Accepted entries that meet everything the book asks for.",
    "other": "Entries with anything else against them, or further below the minimum.",
}
NEAR = {str(inches): f"{inches} inch{'es' if inches > 1 else ''}" for inches in (1, 3, 5, 10)}


def main() -> None:
    """Draw the page."""
    st.title("Standing in a record book")
    choices = open_book.choices()
    if not choices.categories:
        empty_book()
        return
    if not choices.books:
        st.write("This book holds its entries against no record book yet. Put some in place with")
        st.code("beamledger reference books.csv minimums.csv --book BOOK --why REASON", language=None)
        return
    options = _options(choices)
    filters.complain(options)
    settings = _settings(options)
    _draw(open_book.standings(settings), settings)


def _options(choices: Choices) -> dict[str, Mapping[str, str]]:
    return {
        "book": filters.same(choices.books),
        "group": GROUPS,
        "near": NEAR,
        "category": {code: category_words(code) for code in choices.categories},
        "from": filters.same(choices.seasons),
        "to": filters.same(choices.seasons[::-1]),
    }


def _settings(options: Mapping[str, Mapping[str, str]]) -> StandingSettings:
    with st.expander("Filters", expanded=True), st.grid(columns=3, min_column_width=210, gap="small"):
        return StandingSettings(
            book=filters.one("Record book", "book", options["book"]),
            group=cast(Group, filters.one("Which entries", "group", options["group"])),
            near=int(filters.one("“Just under” means within", "near", options["near"], "3")),
            category=filters.maybe_one("Category", "category", options["category"]),
            first_season=filters.maybe_one("From season", "from", options["from"], "The first"),
            last_season=filters.maybe_one("To season", "to", options["to"], "The last"),
        )


def _draw(found: Standings, settings: StandingSettings) -> None:
    with st.grid(columns=4, min_column_width=140, gap="xsmall"):
        for group, label in GROUPS.items():
            st.metric(label, f"{found.counts[group]:,}")
    st.subheader(GROUPS[settings.group])
    st.caption(f"{ABOUT[settings.group]} A book’s own rules outrank this list.")
    if found.rows.is_empty():
        st.info("No entry stands so under these filters.")
        return
    count = found.counts[settings.group]
    if count > found.rows.height:
        st.caption(f"The {found.rows.height:,} nearest of {counted(count, 'entry', 'entries')} are listed.")
    shown, columns = tables.standings(found.rows)
    go_to_picked(pick_row.ticked("standings", shown, columns, "Entries and what stands against them"), found.rows)
    st.caption("Tick a row to see its sheet, and to decide about it.")
    tables.download(shown, "standing")


main()
