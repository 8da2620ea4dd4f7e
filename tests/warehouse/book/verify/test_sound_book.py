"""Verifying a book that is sound, and what only its anchor finds."""

from pathlib import Path

import duckdb
import pytest

from tests.book_builder import beside, copy_of
from tests.logged_book import KINDS, WHO
from warehouse.book import contents, database, events, migrations
from warehouse.book.decisions import Decision, decide
from warehouse.book.verify import Check, check_book
from warehouse.errors import BookDamaged

LAST = len(KINDS)
SOUND = [
    Check("chain", True, 23, "23 events, each as it was written and behind the one before"),
    Check("contents", True, 14, "what 14 events wrote into other tables is as it was written"),
    Check("marks", True, 24, "10 received rows and 14 revisions, each as it was written"),
    Check("counts", True, 57, "2 files, 10 rows, 8 entries, 14 revisions, 23 events; each has what it belongs to"),
    Check("balance", True, 10, "10 rows received = 5 accepted + 0 held + 1 refused + 1 withdrawn + 2 sent again + 1 merged"),
    Check("statuses", True, 14, "14 revisions; held where something that was found asks for a person, and only there"),
    Check("reference", True, 5, "5 tables put in place, and as the newest event left them"),
]  # fmt: skip


def test_everything_that_a_log_can_tell_of_is_sound(book: Path) -> None:
    with database.reading(book) as connection:
        assert [kind for (kind,) in connection.execute("SELECT kind FROM event ORDER BY event_no").fetchall()] == KINDS
        assert check_book(connection) == SOUND


def test_an_empty_book_is_sound(tmp_path: Path) -> None:
    connection = duckdb.connect(":memory:")
    migrations.apply_all(connection)
    assert [(check.holds, check.counted) for check in check_book(connection)] == [(True, 0)] * len(SOUND)
    connection.close()


@pytest.fixture
def decided(book: Path, tmp_path: Path) -> Path:
    """A copy of the book whose newest event is a decision, number 24."""
    copy = copy_of(book, tmp_path / "decided.duckdb")
    decide(copy, Decision("hold", 8, *WHO))
    return copy


def alone(connection: duckdb.DuckDBPyConnection) -> list[bool]:
    """Whether each check holds, without the anchor."""
    return [check.holds for check in check_book(connection)]


def test_a_log_cut_at_its_end_is_found_by_the_anchor_alone(decided: Path) -> None:
    with duckdb.connect(str(decided)) as connection:
        connection.execute(f"DELETE FROM event WHERE event_no = {LAST + 1}")
        assert alone(connection) == [True] * len(SOUND)
    with pytest.raises(BookDamaged) as refused, database.reading(decided):
        pass
    assert str(refused.value).startswith(
        f"{decided}: the book holds less than when it was last closed (event: 23 of 24); "
    )
    beside(decided, ".anchor").unlink()
    with database.reading(decided) as connection:
        assert check_book(connection) == SOUND


def rewrite(connection: duckdb.DuckDBPyConnection, first: int) -> None:
    """Write the log anew from one event on, with everything in other tables that rests on it."""
    for number in range(first, LAST + 2):
        connection.execute(
            f"UPDATE event SET previous = (SELECT hash FROM event WHERE event_no = {number - 1}) WHERE event_no = {number}"
        )
        if number <= LAST and KINDS[number - 1] == "publish":
            connection.execute(f"UPDATE edition SET head = (SELECT previous FROM event WHERE event_no = {number})")
            content = contents.of_edition(connection, 1)
            connection.execute(f"UPDATE event SET content = '{content}' WHERE event_no = {number}")
        connection.execute(f"UPDATE event SET hash = {events.HASH} WHERE event_no = {number}")


def test_a_log_written_anew_is_found_by_the_anchor_alone(decided: Path) -> None:
    with duckdb.connect(str(decided)) as connection:
        connection.execute("UPDATE event SET reason = 'the owner asked for it' WHERE kind = 'withdraw'")
        rewrite(connection, 1 + KINDS.index("withdraw"))
        assert alone(connection) == [True] * len(SOUND)
    with pytest.raises(BookDamaged) as refused, database.reading(decided):
        pass
    assert str(refused.value).startswith(f"{decided}: event 24 of the log is not the one that its anchor knows: ")
    beside(decided, ".anchor").unlink()
    with database.reading(decided) as connection:
        assert alone(connection) == [True] * len(SOUND)


def test_a_table_that_is_gone_cannot_be_checked(ledger: duckdb.DuckDBPyConnection) -> None:
    ledger.execute("DROP TABLE corrected_cell")
    with pytest.raises(BookDamaged) as refused:
        check_book(ledger)
    assert str(refused.value).startswith(
        "the book cannot be checked: Catalog Error: Table with name corrected_cell does not exist!"
    )
    assert str(refused.value).endswith("; restore your last backup")
