"""The form on a sheet's page by which a person decides, and the log beneath it."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.book_builder import copy_of, query
from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import said

LOG = "SELECT event_no, kind, entry_id, author, reason FROM event"


@pytest.fixture
def fresh(book: Path, tmp_path: Path) -> Path:
    return copy_of(book, tmp_path / "fresh.duckdb")


def decide(app: AppTest, decision: str, name: str, why: str) -> AppTest:
    (chosen,) = [box for box in app.selectbox if box.label == "Decision"]
    chosen.set_value(decision)
    for field in app.text_input:
        if field.label == "Your name" and "decision" in str(field.key):
            field.set_value(name)
        if field.label == "Reason, or the question":
            field.set_value(why)
    (button,) = [button for button in app.button if button.label == "Decide"]
    return button.click().run()


def test_a_decision_is_told_logged_and_undone(open_page: OpenPage, fresh: Path) -> None:
    app = decide(open_page(fresh, "audit_queue", entry="1"), "refuse", "Una Reed", "high fence")
    assert "Event 1: entry 2023-001: refused." in said(app)
    assert "Sheet 2023-001 – refused" in said(app)
    assert "Decide. The entry is refused." in [text.replace("*", "") for text in said(app)]
    assert any("1. Refused, 20" in text and "by Una Reed: high fence" in text for text in said(app))
    assert query(fresh, LOG) == [(1, "refuse", 1, "Una Reed", "high fence")]
    assert [field.value for field in app.text_input if "decision.by" in str(field.key)] == ["Una Reed"]
    again = decide(app, "undo", "Una Reed", "a mistake")
    assert "Event 2: entry 2023-001: event 1 is undone; the entry is accepted." in said(again)


def test_the_name_is_known_again_after_another_page(open_page: OpenPage, fresh: Path) -> None:
    app = decide(open_page(fresh, "audit_queue", entry="1"), "refuse", "Una Reed", "high fence")
    app.switch_page("views/minimums_page.py").run()
    app.switch_page("views/audit_queue_page.py")
    app.query_params["entry"] = "7"
    app.run()
    assert [field.value for field in app.text_input if "decision.by" in str(field.key)] == ["Una Reed"]


def test_a_decision_without_a_reason_is_refused_on_the_page(open_page: OpenPage, fresh: Path) -> None:
    app = decide(open_page(fresh, "audit_queue", entry="7"), "hold", "Una Reed", "")
    assert "a decision needs a reason; nothing was changed" in said(app)
    assert query(fresh, LOG) == []


def test_errors_stop_acceptance_until_they_are_waved_through(open_page: OpenPage, fresh: Path) -> None:
    app = decide(open_page(fresh, "audit_queue", entry="7"), "accept", "Una Reed", "looked at the head")
    assert any(text.startswith("entry 2023-007: its errors stop acceptance (g2_diff, net)") for text in said(app))
    (box,) = [box for box in app.checkbox if box.label == "Accept it although the audit found errors"]
    box.check()
    assert "Event 1: entry 2023-007: accepted despite g2_diff, net." in said(
        decide(app, "accept", "Una Reed", "looked at the head")
    )


def test_the_standing_is_on_the_sheet(open_page: OpenPage, book: Path) -> None:
    (lines,) = [text for text in said(open_page(book, "audit_queue", entry="4")) if text.startswith("- **Bowstave")]
    assert lines.splitlines() == [
        "- **Bowstave Register**: qualifies, net 145 0/8, 20 0/8 over the minimum of 125 0/8",
        "- **Quillmark Record**: qualifies, net 145 0/8, 1 0/8 over the minimum of 144 0/8",
    ]


def test_a_book_that_cannot_be_written_shows_no_form(
    open_page: OpenPage, fresh: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("dashboards.open_book.may_write", lambda: False)
    app = open_page(fresh, "audit_queue", entry="1")
    assert "This book cannot be written to from here, so that nothing can be decided on this page." in said(app)
    assert [button for button in app.button if button.label == "Decide"] == []
