"""What the pages of figures are made of: sentences as a list, tables no higher than they need, the download."""

from collections.abc import Sequence

import polars as pl
import streamlit as st

from dashboards.tables import Columns, height
from dashboards.words import plain


def bullets(sentences: Sequence[str]) -> None:
    """The sentences, each letter for letter."""
    st.markdown("\n".join(f"- {plain(sentence)}" for sentence in sentences))


def table(shown_columns: tuple[pl.DataFrame, Columns], alt: str) -> None:
    """A table as wide as the page; `alt` describes it to those who do not see it."""
    shown, columns = shown_columns
    st.dataframe(shown, column_config=columns, hide_index=True, height=height(shown.height), alt=alt)


def download(content: bytes, name: str) -> None:
    """The button that hands out the figures."""
    st.download_button(
        "Download these figures (ZIP of CSV files, with a code book)",
        content,
        name,
        "application/zip",
        on_click="ignore",
    )
