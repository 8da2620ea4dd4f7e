from pathlib import Path

import pytest

from tests.book_builder import book_with_a_slip, copy_of, query
from tests.dashboards.run_command import Ran, run

NOTICE = "A book's own rules and local law outrank this program."


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return book_with_a_slip(tmp_path_factory.mktemp("decide"))


@pytest.fixture
def book(loaded: Path, tmp_path: Path) -> Path:
    return copy_of(loaded, tmp_path / "book.duckdb")


def decide(book: Path, *asked: str) -> Ran:
    return run("decide", "--book", book, *asked, "--by", "Una Reed", "--why", "the paper sheet says so")


def test_decisions_one_after_the_other(book: Path) -> None:
    ran = decide(book, "1", "hold")
    assert (ran.code, ran.out.splitlines()) == (1, ["event 2: entry 1: held with a question", NOTICE])
    assert (
        decide(book, "=1", "undo").out.splitlines()[0] == "event 3: entry 1: event 2 is undone; the entry is accepted"
    )
    assert (
        decide(book, "3", "merge", "--with", "1").out.splitlines()[0]
        == "event 4: entry 3: merged into entry =1; it is merged"
    )
    panel = decide(book, "1", "panel", "--net", "140 0/8", "--gross", "146 0/8", "--json")
    assert (panel.code, panel.lines()) == (0, [{
        "entry": "1", "entry_id": 1, "decision": "panel", "by": "Una Reed", "why": "the paper sheet says so", "event_no": 5,
        "status": "accepted", "message": "entry 1: accepted with the panel's score",
    }])  # fmt: skip


def test_a_correction_is_a_decision_and_can_be_undone(book: Path) -> None:
    ran = decide(book, "2", "correct", "--accept")
    assert (ran.code, ran.out.splitlines()) == (0, [
        "entry 2: revision 2 written; the entry is accepted", "    gross: 148 7/8 -> 145 6/8", "    net: 137 7/8", NOTICE,
    ])  # fmt: skip
    undone = decide(book, "2", "undo", "--json")
    assert (undone.code, undone.lines()[0]["status"], undone.lines()[0]["revision_no"]) == (1, "held", 3)


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (("1", "hold", "--net", "140 0/8"), "--net goes with panel, not with hold; nothing was changed"),
        (("1", "accept", "--with", "2"), "--with goes with merge or distinct, not with accept; nothing was changed"),
        (("1", "refuse", "--despite-errors"), "--despite-errors goes with accept, not with refuse; nothing was changed"),
        (("1", "refuse", "--cell", "net=1"), "--cell goes with correct, not with refuse; nothing was changed"),
        (("2", "correct"), "correct needs either --cell FIELD=TEXT or --accept; nothing was changed"),
        (("2", "correct", "--accept", "--cell", "net=1"), "correct needs either --cell FIELD=TEXT or --accept; nothing was changed"),
        (("2", "accept"), "entry 2: its errors stop acceptance (gross); correct them, or say that it is accepted despite them "
         "(--despite-errors); nothing was changed"),
        (("9", "hold"), "no entry of the book has the number '9'; for the entry with the ID 9 write =9"),
        (("1", "merge", "--with", "9"), "no entry of the book has the number '9'; for the entry with the ID 9 write =9"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_a_sentence(loaded: Path, asked: tuple[str, ...], message: str) -> None:
    ran = decide(loaded, *asked)
    assert (ran.code, ran.out, ran.err) == (2, "", f"beamledger: {message}\n")
    assert query(loaded, "SELECT count(*) FROM event") == [(1,)]


def test_a_name_and_a_reason_are_asked_for(loaded: Path) -> None:
    ran = run("decide", "--book", loaded, "1", "hold")
    assert ran.code == 2
    assert "the following arguments are required: --by, --why" in ran.err
