"""The small book's heads by hand: nets 143, 143, 142 4/8, 145, 144 and 140 accepted; 7 is held with a net of 143."""

from pathlib import Path

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import figures, said, table


def test_how_the_entries_of_a_record_book_stand(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "standing", book="Quillmark Record", group="Just under the minimum")
    assert figures(app) == {
        "Would qualify if accepted": "0", "Just under the minimum": "2", "Qualifies": "4", "Anything else against it": "4",
    }  # fmt: skip
    assert [(row["Entry"], row["Score, inches"], row["To the minimum"], row["What stands against it"]) for row in table(app)] == [
        ("2023-007", "143 0/8", "-1 0/8", "held for its findings: 2 errors; the net of 143 0/8 is below the minimum of 144 0/8 by 1 0/8"),
        ("2023-003", "142 4/8", "-1 4/8", "the net of 142 4/8 is below the minimum of 144 0/8 by 1 4/8"),
    ]  # fmt: skip


def test_what_would_qualify_comes_first(open_page: OpenPage, book: Path) -> None:
    sentences = said(open_page(book, "standing", book="Quillmark Record"))
    assert "No entry stands so under these filters." in sentences
    assert any(text.startswith("Held entries that meet everything else the book asks for") for text in sentences)


def test_filters_come_from_the_address(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "standing", book="Bowstave Register", group="Qualifies", to="2022-23")
    assert [(row["Entry"], row["To the minimum"]) for row in table(app)] == [("2023-002", "+18 0/8")]


def test_a_book_without_record_books_says_how_to_give_them(open_page: OpenPage, bare_book: Path) -> None:
    assert open_page(bare_book, "standing").code[0].value == "beamledger load SHEETS.csv --book bare.duckdb"
