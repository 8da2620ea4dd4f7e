import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from dashboards import open_book
from tests.book_builder import copy_of, query
from tests.dashboards.read_page import laid_out, said, table
from tests.dashboards.small_book import HOSTILE_IMAGE, HOSTILE_LINK

PAGE = Path(__file__).parents[2] / "dashboards" / "views" / "duplicates_page.py"
Opened = Callable[..., AppTest]


@pytest.fixture
def open_pairs(monkeypatch: pytest.MonkeyPatch) -> Opened:
    """Opens the page of a book, with query parameters as keywords."""

    def opened(book: Path, **parameters: str) -> AppTest:
        monkeypatch.setattr(sys, "argv", ["app.py"])
        monkeypatch.setenv("BEAMLEDGER_BOOK", str(book))
        st.cache_data.clear()
        app = AppTest.from_file(PAGE, default_timeout=60)
        for name, value in parameters.items():
            app.query_params[name] = value
        app.run()
        assert not app.exception
        return app

    return opened


@pytest.fixture
def own_book(book: Path, tmp_path: Path) -> Path:
    """A copy of the small book that a test may change."""
    return copy_of(book, tmp_path / "own.duckdb")


def fill(
    app: AppTest, decision: str | None, name: str = "Una Reed", reason: str = "held the racks side by side"
) -> AppTest:
    if decision is not None:
        app.radio[0].set_value(decision)
    app.text_input[0].set_value(name)
    app.text_input[1].set_value(reason)
    (button,) = (each for each in app.button if each.label == "Decide")
    return button.click().run()


def events(book: Path) -> list[tuple[object, ...]]:
    return query(book, "SELECT kind, author, reason, entry_id, other_entry_id FROM event ORDER BY event_no")


def test_undecided_pairs_are_listed_those_most_alike_first(open_pairs: Opened, book: Path) -> None:
    app = open_pairs(book)
    assert "5 pairs of 5 undecided, those most alike first." in said(app)
    columns = ("First entry", "Second entry", "Apart, inches", "What is alike")
    near = "The same date and area, and nearly the same measures"
    assert [tuple(row[name] for name in columns) for row in table(app)] == [
        ("2023-001", "2023-002", "0", near), ("2023-003", "2023-007", "4/8", near), ("2023-003", "2023-009", "4/8", near),
        ("2023-004", "2023-005", "1 0/8", near), ("2023-007", "2023-009", "1 0/8", near),
    ]  # fmt: skip


def test_a_hostile_name_stays_text(open_pairs: Opened, book: Path) -> None:
    assert table(open_pairs(book))[2]["Second hunter"] == HOSTILE_IMAGE
    app = open_pairs(book, pair="3-9")
    assert [text for text in said(app) if "Hunter" in text] == [
        ":small[Hunter]  \n:orange-background[≠ Marn Osselby]",
        f":small[Hunter]  \n:orange-background[≠ {HOSTILE_IMAGE}]",
    ]


def test_a_filter_of_the_address_narrows_the_list(open_pairs: Opened, book: Path) -> None:
    app = open_pairs(book, alike="The same tag number")
    assert "0 pairs of 5 undecided, those most alike first." in said(app)
    assert "No pair passes this filter. Take it away to see more." in said(app)


def test_choosing_a_pair_opens_it_and_going_back_closes_it(open_pairs: Opened, book: Path) -> None:
    app = open_pairs(book)
    app.selectbox[0].select("3-7").run()
    assert app.query_params["pair"] == "3-7"
    assert "2023-003 (=3) and 2023-007 (=7)" in said(app)
    app.button[0].click().run()
    assert "pair" not in app.query_params
    assert len(table(app)) == 5


def test_next_and_previous_follow_the_list(open_pairs: Opened, book: Path) -> None:
    app = open_pairs(book, pair="3-7")
    app.button[2].click().run()
    assert app.query_params["pair"] == "3-9"
    app.button[1].click().run()
    assert app.query_params["pair"] == "3-7"


def test_the_sheets_stand_side_by_side_with_a_sign_where_they_differ(open_pairs: Opened, book: Path) -> None:
    app = open_pairs(book, pair="9-3")
    assert [text for text in said(app) if text.startswith("- ")] == [
        "- The same date and area, and nearly the same measures\n- The measures differ by 4/8 inches in all"
    ]
    first, second = laid_out(app, 0), laid_out(app, 2)
    assert first[:3] == [
        ["Main beam", "24 0/8", "23 4/8"],
        ["G1 (brow)", "5 0/8", "4 4/8"],
        ["G2", "10 0/8", ":orange-background[≠ 9 4/8]"],
    ]
    assert second[:3] == [
        ["Main beam", "24 0/8", "23 4/8"],
        ["G1 (brow)", "5 0/8", "4 4/8"],
        ["G2", "10 0/8", ":orange-background[≠ –]"],
    ]
    assert laid_out(app, 1) == [
        ["Inside spread", ":orange-background[≠ 17 4/8]"], ["Gross score, recomputed", ":orange-background[≠ 144 0/8]"],
        ["Deductions, recomputed", ":orange-background[≠ 1 4/8]"], ["Net score, recomputed", ":orange-background[≠ 142 4/8]"],
    ]  # fmt: skip
    assert [text for text in said(app) if text.startswith("**")] == [
        "**2023-003 (=3) – accepted**", "**2023-009 (=9) – held**",
    ]  # fmt: skip


@pytest.mark.parametrize("asked", ["1-99", "1", "1-1", "a-b", "-", "9" * 30 + "-1", "<img src=x>", "1-²"])
def test_a_pair_that_the_book_does_not_have_is_a_sentence(open_pairs: Opened, book: Path, asked: str) -> None:
    sentence = f"The address asks for the pair “{asked}”, which this book does not have. Go back to the list."
    assert sentence in said(open_pairs(book, pair=asked))


def test_any_two_entries_can_be_looked_at_and_told_apart(open_pairs: Opened, own_book: Path) -> None:
    app = open_pairs(own_book, pair="1-8")
    assert "Nothing brings these two up by itself: no tag, no equal measures, no date and area with near ones." in said(
        app
    )
    fill(app, "two")
    assert events(own_book) == [("distinct", "Una Reed", "held the racks side by side", 8, 1)]


@pytest.mark.parametrize(
    ("decision", "event", "sentence"),
    [
        ("first", ("merge", 7, 3), "entry 2023-007: merged into entry =3; it is merged"),
        ("second", ("merge", 3, 7), "entry 2023-003: merged into entry =7; it is merged"),
        ("two", ("distinct", 7, 3), "entry 2023-007: told apart from entry =3; it is held, until it is accepted"),
    ],
)
def test_a_decision_is_written_told_and_followed_by_the_next_pair(
    open_pairs: Opened, own_book: Path, decision: str, event: tuple[str, int, int], sentence: str
) -> None:
    app = fill(open_pairs(own_book, pair="3-7"), decision)
    kind, entry, other = event
    assert events(own_book) == [(kind, "Una Reed", "held the racks side by side", entry, other)]
    assert [text for text in said(app) if text == sentence] == [sentence]
    assert app.query_params["pair"] == "3-9"
    assert app.text_input[0].value == "Una Reed"
    app.run()
    assert sentence not in said(app)


def test_the_name_is_known_again_after_the_list(open_pairs: Opened, own_book: Path) -> None:
    app = fill(open_pairs(own_book, pair="3-7"), "two")
    app.button[0].click().run()
    assert not app.text_input
    app.selectbox[0].select("1-2").run()
    assert [field.value for field in app.text_input] == ["Una Reed", ""]


def test_a_decided_pair_says_so_and_how_it_is_undone(open_pairs: Opened, own_book: Path) -> None:
    fill(open_pairs(own_book, pair="3-7"), "two")
    app = open_pairs(own_book, pair="3-7")
    assert "Decided: two heads. A decision is undone with the command:" in said(app)
    assert app.code[0].value == "beamledger decide --book own.duckdb =7 undo --by NAME --why TEXT"
    assert not app.radio
    assert len(table(open_pairs(own_book))) == 4


@pytest.mark.parametrize(
    ("decision", "name", "reason", "sentence"),
    [
        (None, "Una Reed", "looked", "choose whether it is one head or two; nothing was changed"),
        ("two", " ", "looked", "a decision needs a name; nothing was changed"),
        ("first", "Una Reed", "", "a decision needs a reason; nothing was changed"),
    ],
)
def test_nothing_is_decided_without_a_choice_a_name_and_a_reason(
    open_pairs: Opened, own_book: Path, decision: str | None, name: str, reason: str, sentence: str
) -> None:
    app = fill(open_pairs(own_book, pair="3-7"), decision, name, reason)
    assert sentence in said(app)
    assert events(own_book) == []
    assert app.query_params["pair"] == "3-7"


def test_a_book_that_cannot_be_written_to_has_no_form(
    open_pairs: Opened, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(open_book, "may_write", lambda: False)
    app = open_pairs(book, pair="1-2")
    assert "This book cannot be written to from here, so that nothing can be decided on this page." in said(app)
    assert not app.radio


def test_an_empty_book_says_which_command_fills_it(open_pairs: Opened, bare_book: Path) -> None:
    assert open_pairs(bare_book).code[0].value == "beamledger load SHEETS.csv --book bare.duckdb"


def test_a_hostile_address_is_only_quoted(open_pairs: Opened, book: Path) -> None:
    app = open_pairs(book, alike=HOSTILE_LINK)
    sentence = f"The address asks for alike “{HOSTILE_LINK}”, which this book does not have; it was left out."
    assert sentence in said(app)
    assert len(table(app)) == 5
