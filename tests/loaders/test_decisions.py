"""A correction is a decision too: it is logged, and its undoing puts the cells back as they were, audited again."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from loaders.batch import make_batch
from loaders.corrections import Corrected
from loaders.decisions import Correction, decide
from tests.book_builder import book_with_a_slip, copy_of, file_of, heads, load, new_book, query
from tests.sheet_builder import TODAY
from warehouse.book import database, events
from warehouse.book import decisions as store
from warehouse.book.decisions import Decided, Decision
from warehouse.errors import CorrectionRefused, DecisionRefused

LOG = "SELECT event_no, kind, entry_id, revision_id, undoes, length(content) FROM event ORDER BY 1"
STATES = "SELECT revision_no, status, gross, net FROM entry_revision WHERE entry_id = 2 ORDER BY 1"


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return book_with_a_slip(tmp_path_factory.mktemp("decisions"))


@pytest.fixture
def book(loaded: Path, tmp_path: Path) -> Path:
    return copy_of(loaded, tmp_path / "book.duckdb")


def decision(kind: str, **more: object) -> Decision:
    return Decision(kind, 2, "Una", "paper", **more)  # type: ignore[arg-type]


def test_a_correction_and_its_undoing(book: Path) -> None:
    done = decide(book, decision("correct"), TODAY, Correction({}, accept=True))
    assert isinstance(done, Corrected)
    assert (done.revision_no, done.status) == (2, "accepted")
    undone = decide(book, decision("undo"), TODAY)
    assert isinstance(undone, Corrected)
    assert (undone.revision_no, undone.status, undone.cells) == (3, "held", {"gross": ("145 6/8", "148 7/8")})
    assert query(book, LOG) == [
        (1, "load", None, None, None, 64),
        (2, "correct", 2, 4, None, 64),
        (3, "undo", 2, 5, 2, 64),
    ]
    assert query(book, STATES) == [(1, "held", 1166, 1103), (2, "accepted", 1166, 1103), (3, "held", 1166, 1103)]
    with pytest.raises(
        DecisionRefused, match=r"^entry 2: nothing was decided about it that could be undone; nothing was"
    ):
        decide(book, decision("undo"), TODAY)


def test_the_newest_is_undone_first(book: Path) -> None:
    decide(book, decision("correct"), TODAY, Correction({"hunter": "Somebody"}))
    decide(book, decision("refuse"), TODAY)
    assert isinstance(decide(book, decision("undo"), TODAY), Decided)
    assert isinstance(decide(book, decision("undo"), TODAY), Corrected)
    assert query(book, "SELECT hunter FROM current_entry WHERE entry_id = 2") == [("Hunter 2",)]


def test_a_refused_entry_stays_refused_when_it_is_corrected(book: Path) -> None:
    decide(book, decision("refuse"), TODAY)
    done = decide(book, decision("correct"), TODAY, Correction({}, accept=True))
    assert isinstance(done, Corrected)
    assert done.status == "refused"


def test_a_correction_of_a_row_that_was_sent_again_is_not_undone(book: Path, tmp_path: Path) -> None:
    decide(book, decision("correct"), TODAY, Correction({"net": "137 7/8", "gross": "145 6/8"}))
    load(book, file_of(tmp_path / "again.csv", [heads(2, 2)[0] | {"weapon": "bow"}]))
    with pytest.raises(DecisionRefused) as refused:
        decide(book, decision("undo"), TODAY)
    assert str(refused.value) == "entry 2: nothing was decided about it that could be undone; nothing was changed"


def test_a_merger_before_it_can_still_be_undone(book: Path, tmp_path: Path) -> None:
    decide(book, decision("merge", other_entry_id=1), TODAY)
    decide(book, decision("correct"), TODAY, Correction({"hunter": "Somebody"}))
    load(book, file_of(tmp_path / "again.csv", [heads(2, 2)[0] | {"weapon": "bow"}]))
    undone = decide(book, decision("undo"), TODAY)
    assert isinstance(undone, Decided)
    assert undone.message == "entry 2: event 2 is undone; the entry is accepted"


@pytest.mark.parametrize(
    ("cell", "was", "now", "status"),
    [("g2_r", "??", "9 1/8", "held"), ("entry_no", "", "18", "accepted"), ("beam_l", "", "21 6/8", "held")],
)
def test_what_could_not_be_read_comes_back_with_an_undo(
    tmp_path: Path, cell: str, was: str, now: str, status: str
) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [heads(0, 0)[0] | {cell: was}]))
    one = Decision("refuse", 1, "Una", "paper")
    decide(book, one, TODAY)
    decide(book, replace(one, kind="correct"), TODAY, Correction({cell: now}))
    undone = decide(book, replace(one, kind="undo"), TODAY)
    assert isinstance(undone, Corrected)
    assert undone.cells == {cell: (now, was)}
    again = decide(book, replace(one, kind="undo"), TODAY)
    assert isinstance(again, Decided)
    assert again.message.endswith(f"event 2 is undone; the entry is {status}")


@pytest.mark.parametrize("between", ["refuse", "reference"])
def test_a_correction_notices_what_came_between(book: Path, monkeypatch: pytest.MonkeyPatch, between: str) -> None:
    def meanwhile(placed: Any) -> Any:
        if between == "refuse":
            store.decide(book, decision("refuse"))
        else:
            with database.writing(book) as connection:
                events.append(connection, events.Event("reference", "Una", "x", about="season"), datetime(2026, 11, 25))
        return make_batch(placed)

    monkeypatch.setattr("loaders.corrections.make_batch", meanwhile)
    with pytest.raises(CorrectionRefused) as refused:
        decide(book, decision("correct"), TODAY, Correction({}, accept=True))
    assert str(refused.value) == (
        "entry 2: something was decided about it, or a reference table was changed, meanwhile; nothing was changed, "
        "look at it again"
    )


def test_what_is_refused_leaves_no_event(book: Path) -> None:
    with pytest.raises(CorrectionRefused, match=r"^nothing to correct: no cell was named$"):
        decide(book, decision("correct"), TODAY)
    with pytest.raises(DecisionRefused, match=r"revision 1 was made since you looked at revision 9"):
        decide(book, decision("correct", revision_no=9), TODAY, Correction({"net": "1 0/8"}))
    assert len(query(book, LOG)) == 1
