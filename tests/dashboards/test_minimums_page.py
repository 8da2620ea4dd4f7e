from pathlib import Path

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import said, table


def test_counts_by_season_under_the_minimum_of_that_season(open_page: OpenPage, book: Path) -> None:
    rows = table(open_page(book, "minimums", book="Quillmark Record"))
    assert [(row["Season"], row["Meet it"], row["Accepted"], row["Minimum net, inches"]) for row in rows] == [
        ("2022-23", 2, 2, "143 0/8"),
        ("2023-24", 2, 4, "144 0/8"),
    ]


def test_a_minimum_for_bows_counts_bows_only(open_page: OpenPage, book: Path) -> None:
    rows = table(open_page(book, "minimums", book="Bowstave Register"))
    assert [(row["Season"], row["Meet it"], row["Accepted"]) for row in rows] == [("2022-23", 1, 1), ("2023-24", 1, 1)]


def test_the_minimum_is_said_in_words(open_page: OpenPage, book: Path) -> None:
    assert (
        "- White-tailed deer, typical: net 143 0/8 inches or more (any weapon) in season 2022-23; "
        "net 144 0/8 inches or more (any weapon) from season 2023-24 on."
    ) in said(open_page(book, "minimums", book="Quillmark Record"))
    assert "- White-tailed deer, typical: net 125 0/8 inches or more (bow only) from season 2022-23 on." in said(
        open_page(book, "minimums", book="Bowstave Register")
    )


def test_a_book_without_minimums_says_how_to_give_them(open_page: OpenPage, bare_book: Path) -> None:
    app = open_page(bare_book, "minimums")
    assert app.subheader[0].value == "No minimum is set"
    assert app.code[0].value == "beamledger reference minimums.csv --book BOOK --why REASON"
