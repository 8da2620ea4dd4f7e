"""Decisions: what each makes of an entry, how long it lasts, what is refused, and that the log only grows."""

import re
from pathlib import Path

import duckdb
import pytest

from tests.book_builder import copy_of, file_of, heads, load, new_book, query
from tests.record_books import book_of, decided, head, insert
from warehouse.book.decisions import Decided, Decision, decide
from warehouse.errors import DecisionRefused

LOG = "SELECT event_no, kind, author, reason, entry_id, other_entry_id, undoes, net FROM event WHERE event_no > 1 ORDER BY 1"


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four heads; the second is held for a wrong net, the fourth for a beam nobody can read."""
    folder = tmp_path_factory.mktemp("decisions")
    book = new_book(folder)
    rows = heads(1, 4)
    rows[1]["net"] = "1 0/8"
    rows[3]["beam_r"] = "?"
    load(book, file_of(folder / "heads.csv", rows))
    return book


@pytest.fixture
def book(loaded: Path, tmp_path: Path) -> Path:
    return copy_of(loaded, tmp_path / "book.duckdb")


def by_una(book: Path, kind: str, entry_id: int, **more: object) -> Decided:
    return decide(book, Decision(kind, entry_id, " Una Reed ", " the paper sheet ", **more))  # type: ignore[arg-type]


def status(connection: duckdb.DuckDBPyConnection, entry_id: int = 1) -> str:
    return str(connection.execute("SELECT status FROM current_entry WHERE entry_id = ?", [entry_id]).fetchall()[0][0])


def test_a_life_in_decisions_is_all_in_the_log(book: Path) -> None:
    told = [
        by_una(book, "hold", 1), by_una(book, "accept", 1), by_una(book, "refuse", 1), by_una(book, "undo", 1),
        by_una(book, "panel", 1), by_una(book, "panel", 1, net="150 3/8", gross="151 0/8"),
        by_una(book, "merge", 3, other_entry_id=1), by_una(book, "undo", 3), by_una(book, "distinct", 3, other_entry_id=1),
        by_una(book, "withdraw", 3), by_una(book, "accept", 2, despite_errors=True),
    ]  # fmt: skip
    assert [one.message for one in told] == [
        "entry 1: held with a question",
        "entry 1: accepted",
        "entry 1: refused",
        "entry 1: event 4 is undone; the entry is accepted",
        "entry 1: held for a panel measuring",
        "entry 1: accepted with the panel's score",
        "entry 3: merged into entry =1; it is merged",
        "entry 3: event 8 is undone; the entry is accepted",
        "entry 3: told apart from entry =1; it is accepted",
        "entry 3: withdrawn",
        "entry 2: accepted despite net",
    ]
    assert [one.event_no for one in told] == list(range(2, 13))
    by = ("Una Reed", "the paper sheet")
    assert query(book, LOG) == [
        (2, "hold", *by, 1, None, None, None), (3, "accept", *by, 1, None, None, None),
        (4, "refuse", *by, 1, None, None, None), (5, "undo", *by, 1, None, 4, None),
        (6, "panel", *by, 1, None, None, None), (7, "panel-result", *by, 1, None, None, 1203),
        (8, "merge", *by, 3, 1, None, None), (9, "undo", *by, 3, None, 8, None),
        (10, "distinct", *by, 3, 1, None, None), (11, "withdraw", *by, 3, None, None, None),
        (12, "accept", *by, 2, None, None, None),
    ]  # fmt: skip
    assert query(book, "SELECT entry_id, status, counted_net FROM current_entry ORDER BY 1")[:3] == [
        (1, "accepted", 1203), (2, "accepted", 1103), (3, "withdrawn", 1105),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("decision", "message"),
    [
        (Decision("accept", 1, "Una", "why"), "entry 1: it is accepted already; nothing was changed"),
        (Decision("accept", 2, "Una", "why"), "entry 2: its errors stop acceptance (net); correct them, or say that it is accepted "
         "despite them (--despite-errors); nothing was changed"),
        (Decision("accept", 4, "Una", "why", despite_errors=True), "entry 4: its score is not known, so that it cannot be accepted; correct the "
         "sheet, or record a panel's score with `panel --net ... --gross ...`; nothing was changed"),
        (Decision("accept", 9, "Una", "why"), "entry =9: the book has no such entry; nothing was changed"),
        (Decision("merge", 1, "Una", "why"), "entry 1: merge needs the other entry (--with); nothing was changed"),
        (Decision("merge", 1, "Una", "why", other_entry_id=1), "entry 1: an entry cannot be held against itself; nothing was changed"),
        (Decision("distinct", 1, "Una", "why", other_entry_id=9), "entry =9: the book has no such entry; nothing was changed"),
        (Decision("panel", 1, "Una", "why", net="150 0/8"), "entry 1: a panel's score needs both --net and --gross; nothing was changed"),
        (Decision("panel", 1, "Una", "why", net="150.5", gross="151 0/8"), "entry 1: '150.5' is not a length in 1/8 inch: write it like "
         "'21 0/8' or '3/8'; nothing was changed"),
        (Decision("panel", 1, "Una", "why", net="152 0/8", gross="151 0/8"), "entry 1: the net 152 0/8 is more than the gross 151 0/8; nothing was changed"),
        (Decision("undo", 1, "Una", "why"), "entry 1: nothing was decided about it that could be undone; nothing was changed"),
        (Decision("burn", 1, "Una", "why"), "'burn' is no decision; expected one of: accept, hold, refuse, panel, withdraw, merge, distinct, undo"),
        (Decision("hold", 1, "Una", "why", revision_no=2), "entry 1: revision 1 was made since you looked at revision 2; nothing was changed, look at it again"),
        (Decision("hold", 1, "Una", "why", seen_event=3), "entry 1: somebody decided about it meanwhile; nothing was changed, look at it again"),
        (Decision("hold", 1, " ", "why"), "a decision needs a name; nothing was changed"),
        (Decision("hold", 1, "Una", ""), "a decision needs a reason; nothing was changed"),
        (Decision("hold", 1, "Una", "\udcff"), "the reason '\\udcff' holds bytes that are no letters; nothing was changed"),
    ],
)  # fmt: skip
def test_what_cannot_be_decided_is_refused_in_words(loaded: Path, decision: Decision, message: str) -> None:
    with pytest.raises(DecisionRefused) as refused:
        decide(loaded, decision)
    assert str(refused.value) == message
    assert query(loaded, LOG) == []


def test_a_merged_entry_is_decided_about_where_it_counts(book: Path) -> None:
    by_una(book, "merge", 1, other_entry_id=3)
    for kind in ("accept", "hold", "refuse", "withdraw", "panel"):
        with pytest.raises(
            DecisionRefused, match=r"^entry 1: it is merged into entry =3; undo that first, or decide about that"
        ):
            by_una(book, kind, 1)
    with pytest.raises(DecisionRefused, match=r"^entry 1: it is merged into entry =3 already; nothing was changed$"):
        by_una(book, "merge", 2, other_entry_id=1)


@pytest.mark.parametrize("kind", ["refuse", "withdraw"])
def test_what_is_so_already_is_not_said_twice(book: Path, kind: str) -> None:
    done = by_una(book, kind, 1).status
    with pytest.raises(DecisionRefused, match=re.escape(f"entry 1: it is {done} already; nothing was changed")):
        by_una(book, kind, 1)


@pytest.mark.parametrize(
    ("kind", "held_then", "clean_then"),
    [
        ("accept", "held", "accepted"),  # an acceptance was of the revision that was looked at
        ("hold", "held", "held"),
        ("refuse", "refused", "refused"),
        ("withdraw", "withdrawn", "withdrawn"),
        ("panel", "held", "held"),
        ("panel-result", "accepted", "accepted"),
        ("merge", "merged", "merged"),
    ],
)
def test_how_long_a_decision_lasts(kind: str, held_then: str, clean_then: str) -> None:
    for audit, expected in (("held", held_then), ("accepted", clean_then)):
        with book_of() as connection:
            head(connection, 1, status="held")
            decided(connection, kind, other_entry_id=2)
            insert(connection, "entry_revision", {
                "revision_id": 7, "entry_id": 1, "revision_no": 2, "row_id": 1, "made_at": "2026-11-25", "author": "x",
                "reason": "sent again", "status": audit, "category": "whitetail-typical",
            })  # fmt: skip
            assert status(connection) == expected


def test_a_panels_score_is_of_the_category_it_measured() -> None:
    with book_of() as connection:
        head(connection, 1, status="held")
        decided(connection, "panel-result", net=1290, gross=1300)
        insert(connection, "entry_revision", {
            "revision_id": 7, "entry_id": 1, "revision_no": 2, "row_id": 1, "made_at": "2026-11-25", "author": "x", "unit": 8,
            "reason": "sent again", "status": "held", "category": "whitetail-nontypical", "gross": 1000, "net": 1000, "deductions": 0,
        })  # fmt: skip
        found = connection.execute("SELECT status, counted_net FROM current_entry").fetchall()
    assert found == [("held", 1000)]


@pytest.mark.parametrize("kind", ["refuse", "withdraw"])
def test_a_head_is_merged_only_into_one_that_stands_and_stays(book: Path, kind: str) -> None:
    status = by_una(book, kind, 3).status
    with pytest.raises(
        DecisionRefused, match=f"^entry 3: it is {status}, so that a head merged into it would not count;"
    ):
        by_una(book, "merge", 1, other_entry_id=3)
    by_una(book, "undo", 3)
    by_una(book, "merge", 1, other_entry_id=3)
    with pytest.raises(
        DecisionRefused, match=r"^entry 3: entry =1 counts as this one; undo that merger first; nothing was changed$"
    ):
        by_una(book, kind, 3)
    with pytest.raises(
        DecisionRefused, match=r"^entry 3: entry =1 counts as this one; merge that one into entry =2 first"
    ):
        by_una(book, "merge", 3, other_entry_id=2)
    for one, two in ((1, 3), (3, 1)):
        with pytest.raises(
            DecisionRefused, match=r"^entry 1: it is merged into entry =3; undo that first; nothing was changed$"
        ):
            by_una(book, "distinct", one, other_entry_id=two)


def test_an_undo_uncovers_the_decision_before(book: Path) -> None:
    assert [by_una(book, kind, 1).status for kind in ("refuse", "hold", "withdraw")] == ["refused", "held", "withdrawn"]
    assert [by_una(book, "undo", 1).status for _ in range(3)] == ["held", "refused", "accepted"]
    with pytest.raises(DecisionRefused, match=r"nothing was decided about it that could be undone"):
        by_una(book, "undo", 1)
    assert query(book, "SELECT count(*) FROM event WHERE entry_id = 1") == [(6,)]
