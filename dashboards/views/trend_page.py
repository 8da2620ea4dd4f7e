"""Trends: what the entries of a record book tell of more or fewer, larger or smaller heads, and what they do not."""

import streamlit as st

from dashboards import open_book
from dashboards.trends import page_filters
from dashboards.views.trend_view import draw


def main() -> None:
    """Draw the page."""
    st.title("Trends among entries")
    choices = open_book.choices()
    if not page_filters.ready(choices, "A trend is of the entries that qualify in a record book"):
        return
    st.caption(
        "Only heads that somebody sent in, that reached a minimum and that qualify are here: every trend is one among entries, never "
        "of the herd."
    )
    settings = page_filters.settings(choices, rates=True)
    draw(open_book.trend(settings), settings)


main()
