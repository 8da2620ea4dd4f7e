"""What stands around every page: the line of caution, the refusal in words, the state of an empty book."""

from contextlib import suppress

import streamlit as st

from dashboards.open_book import book_path
from dashboards.words import CAUTION, plain
from warehouse.errors import BeamledgerError
from warehouse.plain_text import shown


def footer() -> None:
    """The caution that ends every page."""
    st.space("small")
    st.caption(CAUTION)


def refusal(refused: BeamledgerError) -> None:
    """A refusal as a sentence. A visitor is told the book's name, not where on the machine it lies."""
    message = str(refused)
    with suppress(BeamledgerError):  # no book is named: there is no path to shorten
        message = message.replace(shown(str(book_path())), book_path().name)
    st.error(plain(message))


def empty_book() -> None:
    """What to do where nothing was received yet."""
    st.subheader("Nothing has been received yet")
    st.write("This book holds no score sheets. Load some, and this page fills by itself:")
    st.code(f"beamledger load SHEETS.csv --book {shown(book_path().name)}", language=None)
    st.write("To look around first, make a demonstration book of invented deer:")
    st.code("beamledger demo", language=None)
