from pathlib import Path

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import figures, said, table

CAUTION = (
    "A book’s own rules and local law outrank this program. It recomputes and compares what sheets say; "
    "it decides nothing for a book."
)


def test_the_figures_of_the_small_book_are_printed(open_page: OpenPage, book: Path) -> None:
    assert figures(open_page(book)) == {
        "Entries": "10", "Accepted": "6", "Held": "4", "Errors": "5", "Questions": "2", "Notes": "1",
        "Rows received": "10",
    }  # fmt: skip


def test_the_last_load_is_listed(open_page: OpenPage, book: Path) -> None:
    assert table(open_page(book)) == [
        {"Loaded (UTC)": "2026-03-01 18:30", "By": "Secretary", "Files": 1, "Rows": 10, "New": 6, "Revised": 0,
         "Unchanged": 0, "Held": 4}
    ]  # fmt: skip


def test_every_page_ends_with_the_caution(open_page: OpenPage, book: Path) -> None:
    for page in (None, "audit_queue", "rankings", "minimums"):
        assert open_page(book, page).caption[-1].value == CAUTION


def test_an_empty_book_says_which_command_fills_it(open_page: OpenPage, bare_book: Path) -> None:
    app = open_page(bare_book)
    assert app.subheader[0].value == "Nothing has been received yet"
    assert app.code[0].value == "beamledger load SHEETS.csv --book bare.duckdb"
    assert app.code[1].value == "beamledger demo"
    assert len(app.metric) == 0
    assert CAUTION in said(app)


def test_no_book_named_is_a_sentence(open_page: OpenPage) -> None:
    assert "no book is named; start the pages with `beamledger serve --book FILE`, or set BEAMLEDGER_BOOK" in said(
        open_page(None)
    )


def test_a_missing_book_is_a_sentence_without_its_folder(open_page: OpenPage, tmp_path: Path) -> None:
    sentences = said(open_page(tmp_path / "gone.duckdb"))
    assert "gone.duckdb: no book there; make one with `beamledger init gone.duckdb`" in sentences
    assert not any(str(tmp_path) in sentence for sentence in sentences)
