"""The book as it was known at the end of a day."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

import duckdb
import pytest

from tests.record_books import AREAS, BOOK, MINIMUM, head, insert
from warehouse.book import database, events
from warehouse.book.as_of import reading_as_of
from warehouse.book.standing import standing
from warehouse.errors import NotInBook

STATES = "SELECT entry_id, status, counted_net FROM current_revision ORDER BY entry_id"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Head 1 is received on March 2, head 2 on March 9, and head 1 is corrected on March 5; on the 12th head 1 is refused,
    on the 20th that is undone.
    """
    path = tmp_path_factory.mktemp("as_of") / "book.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        insert(connection, "record_book", BOOK)
        insert(connection, "minimum", MINIMUM)
        for code, name, district in AREAS:
            connection.execute("INSERT INTO area VALUES (?, ?, 'county', 'ZZ', ?, 'High')", [code, name, district])
        _event(connection, "load", 2)
        head(connection, 1, made_at=datetime(2026, 3, 2, 23, 59))
        head(connection, 2, made_at=datetime(2026, 3, 9, 8))
        insert(connection, "entry_revision", {"revision_id": 3, "entry_id": 1, "revision_no": 2, "row_id": 1, "made_at": datetime(2026, 3, 5),
               "author": "Una Reed", "reason": "beam", "status": "accepted", "category": "whitetail-typical", "unit": 8, "net": 1145, "gross": 1191, "deductions": 46})  # fmt: skip
        refused = _event(connection, "refuse", 12, entry_id=1, revision_id=3)
        _event(connection, "undo", 20, entry_id=1, undoes=refused)
    return path


def _event(connection: duckdb.DuckDBPyConnection, kind: str, day: int, **more: Any) -> int:
    return events.append(connection, events.Event(kind, "Una Reed", "as told", **more), datetime(2026, 3, day, 9))


@contextmanager
def on(book: Path, day: int) -> Iterator[duckdb.DuckDBPyConnection]:
    with reading_as_of(book, date(2026, 3, day)) as connection:
        yield connection


@pytest.mark.parametrize(("day", "states"), [
    (2, [(1, "accepted", 1137)]),
    (4, [(1, "accepted", 1137)]),
    (5, [(1, "accepted", 1145)]),
    (9, [(1, "accepted", 1145), (2, "accepted", 1137)]),
    (12, [(1, "refused", 1145), (2, "accepted", 1137)]),
    (20, [(1, "accepted", 1145), (2, "accepted", 1137)]),
])  # fmt: skip
def test_what_had_been_received_corrected_and_decided_by_then(
    book: Path, day: int, states: list[tuple[int, str, int]]
) -> None:
    with on(book, day) as connection:
        assert connection.execute(STATES).fetchall() == states


def test_the_newest_day_is_the_book_as_it_stands(book: Path) -> None:
    with on(book, 31) as then, reading_as_of(book, None) as now:
        assert then.execute(STATES).fetchall() == now.execute(STATES).fetchall()
        assert standing(then).equals(standing(now))


def test_reference_tables_are_those_of_today(book: Path) -> None:
    with on(book, 2) as connection:
        assert connection.execute("SELECT count(*) FROM minimum").fetchall() == [(1,)]
        assert connection.execute("SELECT count(*) FROM weapon WHERE weapon = 'rifle'").fetchall() == [(1,)]


def test_before_the_book_began_nothing_can_be_told(book: Path) -> None:
    expected = f"^{book}: cannot tell what was known on 2026-03-01, for its first event is of 2026-03-02; expected a later day$"
    with pytest.raises(NotInBook, match=expected), on(book, 1):
        pass


def test_a_book_without_an_event_cannot_tell(tmp_path: Path) -> None:
    database.create(tmp_path / "new.duckdb")
    with (
        pytest.raises(NotInBook, match=r"for it has no event yet; expected a later day$"),
        on(tmp_path / "new.duckdb", 1),
    ):
        pass


def test_the_book_is_only_read(book: Path) -> None:
    before = book.read_bytes()
    with on(book, 12) as connection:
        connection.execute("DELETE FROM entry_revision")
    assert book.read_bytes() == before
