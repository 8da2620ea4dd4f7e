from pathlib import Path

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import said, table
from tests.dashboards.small_book import HOSTILE_IMAGE


def test_ties_share_a_place_and_the_next_is_skipped(open_page: OpenPage, book: Path) -> None:
    rows = table(open_page(book, "rankings"))
    assert [(row["Area"], row["Place"], row["Net, inches"], row["Gross, inches"]) for row in rows] == [
        ("Abberlow", 1, "143 0/8", "144 4/8"),
        ("Abberlow", 1, "143 0/8", "144 4/8"),
        ("Abberlow", 3, "142 4/8", "144 0/8"),
        ("Saint Orvane", 1, "145 0/8", "146 4/8"),
        ("Saint Orvane", 2, "144 0/8", "145 4/8"),
        ("Saint Orvane", 3, "140 0/8", "141 4/8"),
    ]
    assert rows[4]["Hunter"] == HOSTILE_IMAGE


def test_only_accepted_entries_are_listed_and_the_page_says_so(open_page: OpenPage, book: Path) -> None:
    sentences = said(open_page(book, "rankings"))
    assert "6 entries listed of 6 that compete." in sentences
    assert (
        "Only accepted entries count; held sheets are left out until they are settled. Ties share a place, and the "
        "next place is skipped. A book’s own rules outrank this list."
    ) in sentences


def test_one_list_for_the_region(open_page: OpenPage, book: Path) -> None:
    rows = table(open_page(book, "rankings", list="For the whole region"))
    assert [(row["Place"], row["Entry"]) for row in rows] == [
        (1, "2023-004"),
        (2, "2023-005"),
        (3, "2023-001"),
        (3, "2023-002"),
    ]


def test_filters_come_from_the_address(open_page: OpenPage, book: Path) -> None:
    rows = table(open_page(book, "rankings", weapon="Bow", to="2022-23"))
    assert [row["Entry"] for row in rows] == ["2023-002"]


def test_a_season_is_text(open_page: OpenPage, book: Path) -> None:
    assert table(open_page(book, "rankings"))[0]["Season"] == "2022-23"


def test_a_bad_category_is_a_sentence(open_page: OpenPage, book: Path) -> None:
    sentence = "The address asks for category “moose”, which this book does not have; it was left out."
    assert sentence in said(open_page(book, "rankings", category="moose"))


def test_filters_that_nothing_passes_say_so(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "rankings", weapon="Crossbow", to="2022-23")
    assert "No accepted entry passes these filters. Take one away to see more." in said(app)


def test_an_empty_book_says_which_command_fills_it(open_page: OpenPage, bare_book: Path) -> None:
    assert open_page(bare_book, "rankings").code[0].value == "beamledger load SHEETS.csv --book bare.duckdb"
