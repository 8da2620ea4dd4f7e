"""Rankings: who stands at which place, what changed since the last edition, and how the scores of each district lie."""

from collections.abc import Mapping
from typing import Literal, cast

import polars as pl
import streamlit as st

from dashboards import charts, filters, open_book, pick_row, tables
from dashboards.frame_of_page import empty_book
from dashboards.views.go_to_sheet import go_to_picked
from dashboards.words import TIE_RULES, category_words, counted, weapon_words
from warehouse.book.rankings import RankSettings
from warehouse.book.reading import Choices, News, Ranked

LISTS = {"area": "For each area", "district": "For each district", "region": "For the whole region"}
PLACES = {str(count): f"First {count}" for count in (1, 3, 5, 10, 25, 50)}
SCORES = {"net": "Net", "gross": "Gross"}
USUAL_PLACES = "3"


def main() -> None:
    """Draw the page."""
    st.title("Rankings")
    choices = open_book.choices()
    if not choices.categories:
        empty_book()
        return
    options = _options(choices)
    filters.complain(options)
    settings = _settings(options)
    found = open_book.ranked(settings)
    st.caption(f"{_competing(settings)} {TIE_RULES[_tie_rule(found)]} A book’s own rules outrank this list.")
    if found.rows.is_empty():
        st.info("No accepted entry passes these filters. Take one away to see more.")
    else:
        _draw(found, settings)
    _news(open_book.news(), settings)


def _competing(settings: RankSettings) -> str:
    if settings.book:
        return "Only accepted entries that qualify in this book count; held sheets are left out until they are settled."
    return "Only accepted entries count; held sheets are left out until they are settled."


def _tie_rule(found: Ranked) -> str:
    return "shared" if found.rows.is_empty() else str(found.rows["tie_rule"][0])


def _options(choices: Choices) -> dict[str, Mapping[str, str]]:
    return {
        "book": filters.same(choices.books),
        "category": {code: category_words(code) for code in choices.categories},
        "weapon": {code: weapon_words(code) for code in choices.weapon_classes},
        "from": filters.same(choices.seasons),
        "to": filters.same(choices.seasons[::-1]),
        "district": filters.same(choices.districts),
        "area": choices.areas,
        "score": SCORES,
        "list": LISTS,
        "places": PLACES,
    }


def _settings(options: Mapping[str, Mapping[str, str]]) -> RankSettings:
    with st.expander("Filters", expanded=True), st.grid(columns=4, min_column_width=190, gap="small"):
        usual = "whitetail-typical"
        return RankSettings(
            book=filters.maybe_one("Record book", "book", options["book"], "Every accepted entry"),
            categories=(filters.one("Category", "category", options["category"], usual),),
            weapons=_as_tuple(filters.maybe_one("Weapon", "weapon", options["weapon"])),
            first_season=filters.maybe_one("From season", "from", options["from"], "The first"),
            last_season=filters.maybe_one("To season", "to", options["to"], "The last"),
            districts=filters.several("District", "district", options["district"]),
            areas=filters.several("Area", "area", options["area"]),
            score=cast(
                Literal["net", "gross"] | None,
                filters.maybe_one("Score", "score", options["score"], "As the book has it"),
            ),
            list_by=cast(Literal["area", "district", "region"], filters.one("List", "list", options["list"])),
            places=int(filters.one("Places", "places", options["places"], USUAL_PLACES)),
        )


def _as_tuple(value: str | None) -> tuple[str, ...]:
    return () if value is None else (value,)


def _draw(found: Ranked, settings: RankSettings) -> None:
    heading = LISTS[settings.list_by].removeprefix("For ").capitalize()
    st.subheader(f"{heading}: {PLACES[str(settings.places)].lower()}")
    st.text(f"{counted(found.listed, 'entry', 'entries')} listed of {found.competing:,} that compete.")
    if found.listed > found.rows.height:
        st.caption(f"The first {found.rows.height:,} are shown; narrow the filters to see the others.")
    shown, columns = tables.ranking(found.rows, settings.list_by)
    go_to_picked(pick_row.ticked("ranking", shown, columns, "Ranked entries"), found.rows)
    st.caption("Tick a row to see its sheet as it was received.")
    tables.download(shown, "rankings")
    score = str(found.rows["ranked_by"][0])
    st.subheader(f"How {score} scores lie in each district")
    st.altair_chart(
        charts.net_by_district(found.spread_out, score), theme=None, alt=f"{score.capitalize()} scores by district"
    )
    st.caption(
        "A dot stands for the entries of one whole inch, larger for more of them; the upright tick is the "
        "district’s median entry. All entries that pass the filters are in the chart, not only the listed ones."
    )


def _news(news: News, settings: RankSettings) -> None:
    """What the next edition would tell, of the record book and category that are shown."""
    st.subheader("What is new")
    if news.edition is None:
        st.write("No edition was published yet. The first is made with")
        st.code("beamledger publish --book BOOK --edition NAME --to FOLDER", language=None)
        return
    of_book = pl.lit(True) if settings.book is None else pl.col("book") == settings.book
    changes = news.changes.filter(of_book, pl.col("category").is_in(settings.categories))
    if changes.is_empty():
        st.text(f"Nothing changed in the lists of all time since edition {news.edition}.")
        return
    st.text(f"{counted(changes.height, 'change')} in the lists of all time since edition {news.edition}.")
    shown, columns = tables.news(changes)
    go_to_picked(pick_row.ticked("news", shown, columns, "What changed", most=420), changes)


main()
