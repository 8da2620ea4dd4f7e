"""Antlers: what the heads above the cut are like, and what that tells of trends among entries."""

import streamlit as st

from dashboards import open_book
from dashboards.trends import page_filters
from dashboards.views.antlers_view import draw


def main() -> None:
    """Draw the page."""
    st.title("Antlers")
    choices = open_book.choices()
    if not page_filters.ready(choices, "What is shown here are the entries that qualify in a record book"):
        return
    st.caption("What the heads above the minimum are like: a trend among entries, never of the herd.")
    settings = page_filters.settings(choices)
    draw(open_book.antlers(settings), settings)


main()
