"""How many accepted entries meet a book's minimum, season by season."""

from collections.abc import Mapping

import streamlit as st

from dashboards import charts, filters, open_book, tables
from dashboards.words import category_words, plain, weapon_words
from warehouse.book.reading import Choices, MinimumCounts, MinimumSettings


def main() -> None:
    """Draw the page."""
    st.title("Entries that meet a minimum")
    choices = open_book.choices()
    if not choices.books:
        _no_minimums()
        return
    options = _options(choices)
    filters.complain(options)
    settings = _settings(options)
    _draw(open_book.minimum_counts(settings))


def _no_minimums() -> None:
    st.subheader("No minimum is set")
    st.write(
        "This book has no minimums to hold scores against. Write them into a file minimums.csv with the columns book, "
        "category, weapon_class, minimum, first_season and last_season, and put it in place with"
    )
    st.code("beamledger reference minimums.csv --book BOOK --why REASON", language=None)


def _options(choices: Choices) -> dict[str, Mapping[str, str]]:
    return {
        "book": filters.same(choices.books),
        "category": {code: category_words(code) for code in choices.categories},
        "from": filters.same(choices.seasons),
        "to": filters.same(choices.seasons[::-1]),
    }


def _settings(options: Mapping[str, Mapping[str, str]]) -> MinimumSettings:
    with st.expander("Filters", expanded=True), st.grid(columns=4, min_column_width=150, gap="small"):
        return MinimumSettings(
            book=filters.one("Book", "book", options["book"]),
            category=filters.maybe_one("Category", "category", options["category"]),
            first_season=filters.maybe_one("From season", "from", options["from"], "The first"),
            last_season=filters.maybe_one("To season", "to", options["to"], "The last"),
        )


def _draw(found: MinimumCounts) -> None:
    st.subheader("The minimum in words")
    st.markdown("\n".join(f"- {plain(sentence)}" for sentence in _in_words(found)))
    if found.counts.is_empty():
        st.info("No accepted entry falls under these minimums.")
        return
    st.subheader("Accepted entries that meet it, by season")
    st.altair_chart(
        charts.minimum_counts(found.counts),
        theme=None,
        alt="Accepted entries that meet the minimum, by season",
    )
    st.caption(
        "Only heads that somebody sent in are counted: a change from season to season may lie in the sending as well "
        "as in the deer. A minimum that changed makes the seasons before and after it different counts. “Accepted” are the "
        "accepted entries that the minimum is open to by category and weapon."
    )
    shown, columns = tables.minimum_counts(found.counts)
    height = min(38 + 35 * shown.height, 560)
    st.dataframe(shown, column_config=columns, hide_index=True, height=height, alt="Counts by season")
    tables.download(shown, "minimums")


def _in_words(found: MinimumCounts) -> list[str]:
    """One sentence a category, its minimums in the order of their seasons."""
    said: dict[str, list[str]] = {}
    rows = found.in_force.select("category", "weapon_class", "minimum_units_text", "first_season", "last_season")
    for category, weapon, minimum, first, last in rows.iter_rows():
        clause = f"net {minimum} inches or more ({_weapons(weapon)}) {_span(first, last)}"
        said.setdefault(category_words(category), []).append(clause)
    return [f"{category}: {'; '.join(clauses)}." for category, clauses in said.items()]


def _weapons(weapon_class: str) -> str:
    return "any weapon" if weapon_class == "any" else f"{weapon_words(weapon_class).lower()} only"


def _span(first: str, last: str | None) -> str:
    if last is None:
        return f"from season {first} on"
    return f"in season {first}" if first == last else f"in seasons {first} to {last}"


main()
