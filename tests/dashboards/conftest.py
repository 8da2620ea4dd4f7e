import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from tests.dashboards.small_book import small_book
from warehouse.book.database import create

APP = Path(__file__).parents[2] / "dashboards" / "app.py"
OpenPage = Callable[..., AppTest]


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small book, read by many tests and changed by none."""
    return small_book(tmp_path_factory.mktemp("book") / "small.duckdb")


@pytest.fixture(scope="session")
def bare_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book into which nothing was loaded."""
    path = tmp_path_factory.mktemp("bare") / "bare.duckdb"
    create(path)
    return path


@pytest.fixture
def open_page(monkeypatch: pytest.MonkeyPatch) -> OpenPage:
    """Opens a page (the overview for none) of a book, with query parameters as keywords."""

    def opened(book: Path | None, page: str | None = None, /, **parameters: str) -> AppTest:
        monkeypatch.setattr(sys, "argv", ["app.py"])
        monkeypatch.delenv("BEAMLEDGER_BOOK", raising=False)
        if book is not None:
            monkeypatch.setenv("BEAMLEDGER_BOOK", str(book))
        st.cache_data.clear()
        app = AppTest.from_file(APP, default_timeout=60).run()
        if page is not None:
            app.switch_page(f"views/{page}_page.py")
            for name, value in parameters.items():
                app.query_params[name] = value
            app.run()
        assert not app.exception
        return app

    return opened
