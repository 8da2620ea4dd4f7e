"""A pick is answered once: whoever goes back while the sheet still draws finds the list, with nothing picked."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from dashboards import open_book
from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import said, table
from tests.warehouse.book.editions.edition_book import a_year_later, published_book

Pick = Callable[[AppTest], Any]


def tick(row: int, place: int = 0) -> Pick:
    """Ticks a row of the n-th drawn table."""

    def pick(app: AppTest) -> None:
        app.session_state[str(app.dataframe[place].key)] = {"selection": {"rows": [row]}}

    return pick


def choose(value: int | str) -> Pick:
    return lambda app: app.selectbox[0].select(value)


def go_back_while_it_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """The run that draws the next sheet ends before its end, in a run without the sheet's address."""
    read = open_book.sheet

    def interrupted(_entry_id: int) -> None:
        monkeypatch.setattr(open_book, "sheet", read)
        st.query_params.clear()
        st.rerun()

    monkeypatch.setattr(open_book, "sheet", interrupted)


def opened(app: AppTest) -> list[str]:
    """The heading of the sheet, or of the pair of sheets, that the page shows."""
    return [text for text in said(app) if text.startswith("Sheet ") or ") and " in text]


@pytest.mark.parametrize(
    ("page", "pick", "sheet"),
    [
        ("audit_queue", tick(2), "Sheet 2023-008 – held"),
        ("audit_queue", choose(8), "Sheet 2023-008 – held"),
        ("duplicates", tick(1), "2023-003 (=3) and 2023-007 (=7)"),
        ("duplicates", choose("3-7"), "2023-003 (=3) and 2023-007 (=7)"),
    ],
)
def test_a_sheet_that_is_left_while_it_draws_does_not_open_again(
    open_page: OpenPage, book: Path, monkeypatch: pytest.MonkeyPatch, page: str, pick: Pick, sheet: str
) -> None:
    app = open_page(book, page)
    listed = table(app)
    pick(app)
    assert opened(app.run()) == [sheet]
    app.button[0].click().run()  # back, once all is drawn
    pick(app)
    go_back_while_it_draws(monkeypatch)
    assert opened(app.run()) == []
    assert table(app) == listed


@pytest.mark.parametrize(
    ("page", "parameters", "pick", "sheet"),
    [
        ("rankings", {}, tick(1), "Sheet 2 – accepted"),
        ("rankings", {}, tick(4, place=1), "Sheet 4 – accepted"),
        ("standing", {"group": "Qualifies", "book": "Bow Register"}, tick(1), "Sheet 5 – accepted"),
    ],
    ids=["a place", "a change", "a standing"],
)
def test_a_ticked_row_opens_its_sheet_on_the_page_of_the_queue(
    open_page: OpenPage, tmp_path: Path, page: str, parameters: dict[str, str], pick: Pick, sheet: str
) -> None:
    book = published_book(tmp_path)
    a_year_later(book)
    app = open_page(book, page, **parameters)
    pick(app)
    assert opened(app.run()) == [sheet]
    assert "entry" in app.query_params
