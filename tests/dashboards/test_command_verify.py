"""The command `verify`, and what it prints: for a sound book, for one that was altered, for one that cannot be read."""

import json
from pathlib import Path

import duckdb
import pytest

from dashboards.arguments import NOTICE
from tests.book_builder import beside, copy_of, new_book, query
from tests.dashboards.run_command import run
from tests.logged_book import logged_book

SOUND = """\
anchor: the book ends where its anchor says
chain: 23 events, each as it was written and behind the one before
contents: what 14 events wrote into other tables is as it was written
marks: 10 received rows and 14 revisions, each as it was written
counts: 2 files, 10 rows, 8 entries, 14 revisions, 23 events; each has what it belongs to
balance: 10 rows received = 5 accepted + 0 held + 1 refused + 1 withdrawn + 2 sent again + 1 merged
statuses: 14 revisions; held where something that was found asks for a person, and only there
reference: 5 tables put in place, and as the newest event left them
scores: 9 rows as received, recomputed and the same
corrections: 5 corrected rows, recomputed and the same
"""
CHECKS = [line.partition(":")[0] for line in SOUND.splitlines()]
MARK = "entry 5, revision 1: it is not as it was written: its mark is not that of its fields"
CONTENT = "event 6 (load): what it wrote is not as it was written (load 1: first.csv)"
SCORE = "first.csv, row 6, gross: revision 1 holds 147 1/8, the row as received gives 146 1/8"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return logged_book(tmp_path_factory.mktemp("verify") / "book.duckdb")


@pytest.fixture(scope="module")
def altered(book: Path) -> Path:
    """A copy whose fifth head was made an inch larger by hand, and an error made a note."""
    copy = copy_of(book, book.with_name("altered.duckdb"))
    with duckdb.connect(str(copy)) as connection:
        connection.execute("UPDATE entry_revision SET gross = gross + 8, net = net + 8 WHERE revision_id = 5")
        connection.execute("UPDATE finding SET severity = 'note' WHERE revision_id = 2")
    return copy


def test_a_sound_book_is_told_so_with_its_head(book: Path) -> None:
    ran = run("verify", "--book", book)
    ((head,),) = query(book, "SELECT hash FROM event WHERE event_no = 23")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        f"{SOUND}sound: 10 rows, 8 entries; the log ends with event 23, head {head}\n"
        "Keep the head where nobody can change it: whoever has it can tell whether the log was written anew.\n"
        f"{NOTICE}\n"
    )


def test_as_json(book: Path) -> None:
    ran = run("verify", "--book", book, "--json")
    ((head,),) = query(book, "SELECT hash FROM event WHERE event_no = 23")
    counted = [1, 23, 14, 24, 57, 10, 14, 5, 9, 5]
    messages = [line.partition(": ")[2] for line in SOUND.splitlines()]
    assert ran.code == 0
    assert ran.lines() == [
        *({"check": name, "holds": True, "counted": count, "message": message}
          for name, count, message in zip(CHECKS, counted, messages, strict=True)),
        {"summary": True, "sound": True, "events": 23, "head": head, "rows": 10, "entries": 8},
    ]  # fmt: skip


def test_what_does_not_hold_is_named_and_what_to_do(altered: Path) -> None:
    ran = run("verify", "--book", altered)
    lines = ran.out.splitlines()
    assert (ran.code, ran.err) == (1, "")
    assert [line for line in lines if "DOES NOT HOLD" in line] == [
        f"contents: DOES NOT HOLD: {CONTENT}",
        f"marks: DOES NOT HOLD: {MARK}",
        "statuses: DOES NOT HOLD: first.csv, row 3: revision 1 is held, but nothing was found that holds it",
        f"scores: DOES NOT HOLD: {SCORE}",
    ]
    assert lines[-2:] == [
        "NOT SOUND: 4 of 10 checks do not hold; the book was not touched. Keep it as it is, and restore your last backup beside "
        "it with `beamledger restore BACKUP NEWBOOK`; verify that, then load, decide and correct again what came after it "
        f"(`beamledger entries --book {altered}` lists what this book holds)",
        NOTICE,
    ]


def test_what_does_not_hold_as_json(altered: Path) -> None:
    ran = run("verify", "--book", altered, "--json")
    lines = ran.lines()
    assert ran.code == 1
    assert [line["check"] for line in lines if not line.get("holds", True)] == [
        "contents",
        "marks",
        "statuses",
        "scores",
    ]
    assert lines[CHECKS.index("scores")] == {"check": "scores", "holds": False, "counted": 9, "message": SCORE}
    assert (lines[-1]["summary"], lines[-1]["sound"]) == (True, False)


def test_a_message_cannot_act_on_the_terminal(book: Path, tmp_path: Path) -> None:
    copy = copy_of(book, tmp_path / "copy.duckdb")
    with duckdb.connect(str(copy)) as connection:
        connection.execute("UPDATE entry_revision SET hunter = chr(27) || '[2J' || chr(8238) WHERE revision_id = 1")
    found = [line for line in run("verify", "--book", copy, "--json").lines() if line.get("check") == "scores"]
    assert found[0]["message"] == (
        "first.csv, row 2, hunter: revision 1 holds '\\x1b[2J\\u202e', the row as received gives 'Hunter 1'"
    )


@pytest.mark.parametrize("harm", ["no book", "no database", "cut short", "another log"])
def test_a_book_that_cannot_be_read_is_a_refusal(book: Path, tmp_path: Path, harm: str) -> None:
    copy = copy_of(book, tmp_path / "copy.duckdb")
    if harm == "no book":
        copy.unlink()
    elif harm == "no database":
        copy.write_bytes(b"Dear secretary, here are the scores.\n")
    elif harm == "cut short":
        copy.write_bytes(copy.read_bytes()[:-1])
    else:
        anchored = json.loads(beside(copy, ".anchor").read_text())
        beside(copy, ".anchor").write_text(json.dumps(anchored | {"head": "1" * 64}))
    ran = run("verify", "--book", copy)
    message = {
        "no book": f"no book there; make one with `beamledger init {copy}`",
        "no database": "not a book of Beamledger (or its first bytes are damaged); ",
        "cut short": "the book was cut short: ",
        "another log": "event 23 of the log is not the one that its anchor knows: ",
    }[harm]
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"beamledger: {copy}: {message}")


def test_an_empty_book_is_sound(tmp_path: Path) -> None:
    ran = run("verify", "--book", new_book(tmp_path))
    assert ran.code == 0
    assert f"sound: 0 rows, 0 entries; the log ends with event 0, head {'0' * 64}" in ran.out.splitlines()


def test_a_missing_anchor_is_no_proof_of_the_end(book: Path, tmp_path: Path) -> None:
    copy = copy_of(book, tmp_path / "book.duckdb")
    copy.with_name("book.duckdb.anchor").unlink()
    ran = run("verify", "--book", copy, "--json")
    assert (ran.code, ran.lines()[0]) == (1, {
        "check": "anchor", "holds": False, "counted": 0,
        "message": "book.duckdb.anchor is not there: whether the end of the log was cut off cannot be told; compare the head below "
        "with the one you kept; the next change of the book writes a new anchor",
    })  # fmt: skip
