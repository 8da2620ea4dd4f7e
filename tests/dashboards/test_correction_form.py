"""The form on the sheet keeps to what the person saw, and asks each time for a reason."""

import os
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from loaders.corrections import Author, Target, correct_cells
from tests.book_builder import file_of, heads, load, new_book, query
from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import laid_out, said
from tests.sheet_builder import TODAY
from warehouse.book import database

LOST = {"right_total": "64 7/8", "gross": "144 6/8", "net": "136 7/8"}
BUTTON = "Accept this correction"


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    """A book of two held heads; each one's right total lost an inch, with all that follows."""
    first, second = heads(1, 2)
    book = new_book(tmp_path)
    lost = [first | LOST | {"gross": "144 5/8", "net": "136 5/8"}, second | LOST]
    load(book, file_of(tmp_path / "show.csv", lost))
    return book


def fill(app: AppTest, name: str, reason: str) -> AppTest:
    by, why = [one for one in app.text_input if "correction" in str(one.key)]
    by.input(name)
    why.input(reason)
    return app


def press(app: AppTest) -> AppTest:
    (button,) = [one for one in app.button if one.label == BUTTON]
    return button.click().run()


def current(book: Path) -> list[tuple[object, ...]]:
    return query(book, "SELECT entry_id, revision_no, status, author, reason FROM current_entry ORDER BY 1")


def test_a_revision_made_while_the_sheet_was_looked_at_is_not_corrected(open_page: OpenPage, fresh: Path) -> None:
    app = fill(open_page(fresh, "audit_queue", entry="2"), "Una Reed", "compared")
    correct_cells(Target(fresh, 2), {"tag_no": "T-9"}, Author("Bo", "seen"), TODAY)
    press(app)
    assert [error.value.replace("\\", "") for error in app.error] == [
        "entry 2: revision 2 was made since you looked at revision 1; nothing was changed, look at it again"
    ]
    assert current(fresh)[1] == (2, 2, "held", "Bo", "seen")
    assert not press(fill(app, "Una Reed", "looked again")).error
    assert current(fresh)[1] == (2, 3, "accepted", "Una Reed", "looked again")


def test_the_name_stays_for_the_next_sheet_and_the_reason_does_not(open_page: OpenPage, fresh: Path) -> None:
    app = press(fill(open_page(fresh, "audit_queue", entry="2"), "Una Reed", "compared"))
    assert current(fresh)[1] == (2, 2, "accepted", "Una Reed", "compared")
    assert BUTTON not in [one.label for one in app.button]  # nothing is left to accept
    app.query_params["entry"] = "1"
    app.run()
    assert not app.success  # told once, and of its own sheet only
    assert [one.value for one in app.text_input if "correction" in str(one.key)] == ["Una Reed", ""]
    press(app)
    assert [error.value.replace("\\", "") for error in app.error] == [
        "a correction needs a reason; nothing was changed"
    ]
    assert current(fresh)[0][:3] == (1, 1, "held")


def test_the_name_is_known_again_after_another_page(open_page: OpenPage, fresh: Path) -> None:
    app = press(fill(open_page(fresh, "audit_queue", entry="2"), "Una Reed", "compared"))
    app.switch_page("views/minimums_page.py").run()
    app.switch_page("views/audit_queue_page.py")
    app.query_params["entry"] = "1"
    app.run()
    assert [one.value for one in app.text_input if "correction" in str(one.key)] == ["Una Reed", ""]


def test_another_explanation_can_be_chosen(open_page: OpenPage, fresh: Path) -> None:
    app = open_page(fresh, "audit_queue", entry="2")
    choice = next(one for one in app.selectbox if one.label == "Explanation")
    assert choice.options[1].startswith("2: G4, right 4 2/8, net 136 7/8")
    choice.select(1)
    press(fill(app, "Una Reed", "measured again"))
    assert query(fresh, "SELECT field, stated_text, corrected_text FROM corrected_cell") == [("g4_r", "5 2/8", "4 2/8")]
    assert query(fresh, "SELECT net FROM current_entry WHERE entry_id = 2") == [(1095,)]


def test_a_book_that_cannot_be_written_to_shows_no_form(
    open_page: OpenPage, fresh: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK)
    app = open_page(fresh, "audit_queue", entry="2")
    assert "This book cannot be written to from here, so that no correction can be accepted on this page." in said(app)
    assert BUTTON not in [one.label for one in app.button]


def test_a_book_that_is_held_is_a_sentence_without_its_folder(
    open_page: OpenPage, fresh: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = fill(open_page(fresh, "audit_queue", entry="2"), "Una Reed", "compared")
    fresh.with_name(fresh.name + ".anchor").write_text("{}")
    press(app)
    told = [error.value.replace("\\", "") for error in app.error]
    assert told
    assert all(str(fresh.parent) not in one for one in told)
    assert told[0].startswith("book.duckdb.anchor: the anchor cannot be read: ")


def test_a_corrected_cell_shows_as_corrected_beside_the_row_as_received(open_page: OpenPage, fresh: Path) -> None:
    correct_cells(Target(fresh, 2), {"net": "", "h1_r": "4 1/8"}, Author("Bo", "as on paper"), TODAY)
    app = open_page(fresh, "audit_queue", entry="2")
    assert [row[1] for row in laid_out(app, 2) if row[0] == "Net score"] == ["–"]
    assert [row[1] for row in laid_out(app, 0) if row[0] == "H1"] == [":violet-background[◆ 4 1/8]"]
    received = {row["Heading"]: row["As received"] for row in app.dataframe[-1].value.to_dict("records")}
    assert (received["net"], received["h1_r"]) == ("136 7/8", "4 3/8")


def test_every_cell_of_a_tie_is_marked(open_page: OpenPage, fresh: Path) -> None:
    with database.writing(fresh) as connection:
        connection.execute("UPDATE explanation SET tie = true")
    app = open_page(fresh, "audit_queue", entry="2")
    assert any(
        text.startswith("**One of several as likely.** The right total was worked out wrong") for text in said(app)
    )
    assert ["Right total", ":violet-background[◆▲ 64 7/8]", "65 7/8"] in laid_out(app, 2)
    assert [row[1] for row in laid_out(app, 0) if row[0] == "G4"] == [":violet-background[◆ 5 2/8]"]
