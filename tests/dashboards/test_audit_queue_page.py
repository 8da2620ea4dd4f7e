from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import said, table
from tests.dashboards.small_book import HOSTILE_IMAGE


def entries(app: AppTest) -> list[object]:
    return [row["Entry"] for row in table(app)]


def test_held_sheets_are_listed_errors_first_with_the_slip_before_what_it_carries(
    open_page: OpenPage, book: Path
) -> None:
    app = open_page(book, "audit_queue")
    assert "4 held sheets of 4, errors before questions." in said(app)
    assert [(row["Entry"], row["Worst"], row["What is wrong"], row["Findings"]) for row in table(app)] == [
        ("2023-007", "▲ Error", "G2 difference does not add up", 2),
        ("2023-010", "▲ Error", "Unknown county or parish", 2),
        ("2023-008", "▲ Error", "Cell cannot be read", 1),
        ("2023-009", "? Question", "A point blank on one side only", 2),
    ]


def test_a_hostile_name_stays_text_in_the_table(open_page: OpenPage, book: Path) -> None:
    assert table(open_page(book, "audit_queue"))[3]["Hunter"] == HOSTILE_IMAGE


@pytest.mark.parametrize(
    ("parameters", "expected"),
    [
        ({"season": "2022-23"}, ["2023-008"]),
        ({"severity": "Question"}, ["2023-009"]),
        ({"area": "Abberlow"}, ["2023-007", "2023-009"]),
        ({"measurer": HOSTILE_IMAGE}, ["2023-009"]),
        ({"code": "Cell cannot be read"}, ["2023-008"]),
        ({"area": "Abberlow", "severity": "Error"}, ["2023-007"]),
    ],
)
def test_filters_come_from_the_address(
    open_page: OpenPage, book: Path, parameters: dict[str, str], expected: list[str]
) -> None:
    assert entries(open_page(book, "audit_queue", **parameters)) == expected


def test_a_filter_chosen_on_the_page_narrows_the_queue(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue")
    app.multiselect(key="season").select("2022-23").run()
    assert entries(app) == ["2023-008"]


def test_a_bad_parameter_is_a_sentence(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue", season="2099-00", severity="<b>x</b>")
    assert [warning.replace("\\", "") for warning in (element.value for element in app.warning)] == [
        "The address asks for severity “<b>x</b>”, which this book does not have; it was left out.",
        "The address asks for season “2099-00”, which this book does not have; it was left out.",
    ]
    assert len(entries(app)) == 4


def test_filters_that_nothing_passes_say_so(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue", season="2022-23", severity="Question")
    assert "No held sheet passes these filters. Take one away to see more." in said(app)


@pytest.mark.parametrize("asked", ["99", "abc", "-7", "9" * 30, "<img src=x>", "²"])
def test_an_entry_the_book_does_not_have_is_a_sentence(open_page: OpenPage, book: Path, asked: str) -> None:
    sentence = f"The address asks for entry “{asked}”, which this book does not have. Go back to the queue."
    assert sentence in said(open_page(book, "audit_queue", entry=asked))


def test_choosing_a_sheet_opens_it_and_going_back_closes_it(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue")
    app.selectbox[0].select(8).run()
    assert app.query_params["entry"] == "8"
    assert "Sheet 2023-008 – held" in said(app)
    app.button[0].click().run()
    assert "entry" not in app.query_params
    assert len(entries(app)) == 4


def test_next_and_previous_follow_the_queue(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue", entry="10")
    app.button[2].click().run()
    assert "Sheet 2023-008 – held" in said(app)
    app.button[1].click().run()
    assert "Sheet 2023-010 – held" in said(app)


def test_an_empty_book_says_which_command_fills_it(open_page: OpenPage, bare_book: Path) -> None:
    app = open_page(bare_book, "audit_queue")
    assert app.code[0].value == "beamledger load SHEETS.csv --book bare.duckdb"
