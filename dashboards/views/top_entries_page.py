"""The highest accepted net scores, ranked, and how the scores of each district lie."""

from collections.abc import Mapping
from typing import Literal, cast

import streamlit as st

from dashboards import charts, filters, open_book, tables
from dashboards.frame_of_page import empty_book
from dashboards.words import category_words, counted, weapon_words
from warehouse.book.reading import Choices, TopEntries, TopSettings

LISTS = {"area": "For each area", "district": "For each district", "region": "For the whole region"}
PLACES = {str(count): f"First {count}" for count in (1, 3, 5, 10, 25, 50)}
USUAL_PLACES = "3"


def main() -> None:
    """Draw the page."""
    st.title("Top entries")
    choices = open_book.choices()
    if not choices.categories:
        empty_book()
        return
    options = _options(choices)
    filters.complain(options)
    settings = _settings(options)
    found = open_book.top_entries(settings)
    st.caption(
        "Only accepted entries count; held sheets are left out until they are settled. Ties share a place, and the "
        "next place is skipped. A book’s own rules outrank this list."
    )
    if found.rows.is_empty():
        st.info("No accepted entry passes these filters. Take one away to see more.")
        return
    _draw(found, settings)


def _options(choices: Choices) -> dict[str, Mapping[str, str]]:
    return {
        "category": {code: category_words(code) for code in choices.categories},
        "weapon": {code: weapon_words(code) for code in choices.weapon_classes},
        "from": filters.same(choices.seasons),
        "to": filters.same(choices.seasons[::-1]),
        "district": filters.same(choices.districts),
        "area": choices.areas,
        "list": LISTS,
        "places": PLACES,
    }


def _settings(options: Mapping[str, Mapping[str, str]]) -> TopSettings:
    with st.expander("Filters", expanded=True), st.grid(columns=4, min_column_width=150, gap="small"):
        usual = "whitetail-typical"
        return TopSettings(
            category=filters.one("Category", "category", options["category"], usual),
            weapon_class=filters.maybe_one("Weapon", "weapon", options["weapon"]),
            first_season=filters.maybe_one("From season", "from", options["from"], "The first"),
            last_season=filters.maybe_one("To season", "to", options["to"], "The last"),
            districts=filters.several("District", "district", options["district"]),
            areas=filters.several("Area", "area", options["area"]),
            list_by=cast(Literal["area", "district", "region"], filters.one("List", "list", options["list"])),
            places=int(filters.one("Places", "places", options["places"], USUAL_PLACES)),
        )


def _draw(found: TopEntries, settings: TopSettings) -> None:
    heading = LISTS[settings.list_by].removeprefix("For ").capitalize()
    st.subheader(f"{heading}: {PLACES[str(settings.places)].lower()}")
    st.text(f"{counted(found.rows.height, 'entry', 'entries')} listed of {found.competing:,} that compete.")
    shown, columns = tables.ranking(found.rows, settings.list_by)
    height = min(38 + 35 * shown.height, 560)
    st.dataframe(shown, column_config=columns, hide_index=True, height=height, alt="Ranked entries")
    tables.download(shown, "top_entries")
    st.subheader("How net scores lie in each district")
    st.altair_chart(
        charts.net_by_district(found.spread_out), theme=None, alt="Net scores of accepted entries by district"
    )
    st.caption(
        "A dot stands for the accepted entries of one whole inch, larger for more of them; the upright tick is the "
        "district’s median entry. All entries that pass the filters are in the chart, not only the listed ones."
    )


main()
