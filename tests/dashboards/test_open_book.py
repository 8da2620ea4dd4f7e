import subprocess
import sys
from pathlib import Path

import pytest
import streamlit as st

from dashboards import open_book
from tests.dashboards.small_book import small_book
from warehouse.book.database import writing
from warehouse.errors import BookRefused

ROOT = Path(__file__).resolve().parents[2]


def test_the_flag_outranks_the_variable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BEAMLEDGER_BOOK", "from_variable.duckdb")
    monkeypatch.setattr(sys, "argv", ["app.py", "--book", "from_flag.duckdb"])
    assert open_book.book_path() == Path("from_flag.duckdb")
    monkeypatch.setattr(sys, "argv", ["app.py"])
    assert open_book.book_path() == Path("from_variable.duckdb")


def test_neither_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("BEAMLEDGER_BOOK", raising=False)
    monkeypatch.setattr(sys, "argv", ["app.py"])
    with pytest.raises(BookRefused) as refused:
        open_book.book_path()
    assert str(refused.value) == (
        "no book is named; start the pages with `beamledger serve --book FILE`, or set BEAMLEDGER_BOOK"
    )


def test_a_changed_book_gives_new_answers(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    book = small_book(tmp_path / "changing.duckdb")
    monkeypatch.setenv("BEAMLEDGER_BOOK", str(book))
    monkeypatch.setattr(sys, "argv", ["app.py"])
    st.cache_data.clear()
    assert open_book.overview().figures.loads == 1
    with writing(book) as connection:
        connection.execute("INSERT INTO load VALUES (2, TIMESTAMP '2026-03-02 08:00:00', 'Secretary', '0.1')")
    assert open_book.overview().figures.loads == 2


def test_no_page_waits_for_statistics_that_it_does_not_show() -> None:
    code = (
        "import sys, dashboards.open_book, dashboards.commands, dashboards.serve; "
        "print(sorted({'scipy', 'statsmodels'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout == "[]\n"
