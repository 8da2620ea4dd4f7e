"""Measurers: how alike they measure, and what is a reason to measure again, by others. It accuses nobody."""

import streamlit as st

from dashboards import open_book
from dashboards.trends import page_filters
from dashboards.trends.measurers_words import ACCUSES_NOBODY
from dashboards.views.measurers_view import draw


def main() -> None:
    """Draw the page."""
    st.title("Measurers")
    choices = open_book.choices()
    if not page_filters.ready(choices, "Entries just above a minimum are those that qualify in a record book"):
        return
    st.info(ACCUSES_NOBODY)
    settings = page_filters.settings(choices, with_place=False)
    draw(open_book.measurers(settings), settings)


main()
