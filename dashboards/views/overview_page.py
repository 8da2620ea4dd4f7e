"""The state of the book at one look."""

import streamlit as st

from dashboards import charts, open_book, tables
from dashboards.frame_of_page import empty_book
from dashboards.words import counted
from warehouse.book.reading import Figures, Overview


def main() -> None:
    """Draw the page."""
    st.title("The book at a glance")
    found = open_book.overview()
    if found.is_empty:
        empty_book()
        return
    _figures(found.figures)
    _charts(found)
    st.subheader("Last loads")
    shown, columns = tables.loads(found.last_loads)
    st.dataframe(shown, column_config=columns, hide_index=True, alt="The newest loads with their row counts")


def _figures(figures: Figures) -> None:
    with st.grid(columns=7, min_column_width=100, gap="xsmall"):
        st.metric("Entries", f"{figures.entries:,}")
        st.metric("Accepted", f"{figures.accepted:,}")
        st.metric("Held", f"{figures.held:,}")
        st.metric("Errors", f"{figures.errors:,}")
        st.metric("Questions", f"{figures.questions:,}")
        st.metric("Notes", f"{figures.notes:,}")
        st.metric("Rows received", f"{figures.rows_received:,}")
    st.caption(
        f"Errors, questions and notes are open findings. From {counted(figures.files, 'file')} in {counted(figures.loads, 'load')}. An error or a question "
        "holds a sheet until a person has looked at it; a note does not."
    )


def _charts(found: Overview) -> None:
    st.subheader("Entries by season and weapon")
    st.altair_chart(charts.entries_by_season(found.by_season), theme=None, alt="Entries by season and weapon")
    left, right = st.columns([3, 2], gap="medium")
    with left:
        st.subheader("What the audit found")
        if found.by_code.is_empty():
            st.write("No finding is open.")
        else:
            st.altair_chart(charts.findings_by_code(found.by_code), theme=None, alt="Open findings by kind")
            _rest_of_codes(found.by_code.height)
    with right:
        st.subheader("Entries by district")
        st.altair_chart(
            charts.entries_by_district(found.by_district),
            theme=None,
            alt="Entries by district, accepted and held",
        )


def _rest_of_codes(kinds: int) -> None:
    if kinds > charts.LONGEST_LIST:
        st.caption(f"The {charts.LONGEST_LIST} commonest of {kinds} kinds of findings.")


main()
