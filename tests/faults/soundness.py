"""What must hold of a book whatever happened to it."""

from pathlib import Path

import duckdb

from tests.book_builder import beside
from warehouse.book import database, events
from warehouse.book.balance import balance
from warehouse.book.book_hash import book_hash
from warehouse.book.verify import check_book

FILES = "SELECT row_count, (SELECT count(*) FROM received_row r WHERE r.file_id = f.file_id) FROM received_file f"
CHAIN = (
    f"SELECT event_no, hash = {events.HASH}, previous = coalesce(lag(hash) OVER (ORDER BY event_no), repeat('0', 64)) "
    "FROM event ORDER BY event_no"
)


def sound_rows(connection: duckdb.DuckDBPyConnection, verified: bool = True) -> int:
    """Rows received of an open book that is whole; every row of it must be another head.

    `verified`: also by the book's own check, which takes longer than a load of 40 sheets.
    """
    assert not verified or [check.message for check in check_book(connection) if not check.holds] == []
    became = balance(connection)
    files = connection.execute(FILES).fetchall()
    chain = connection.execute(CHAIN).fetchall()
    (counts,) = connection.execute(
        "SELECT (SELECT count(*) FROM entry), (SELECT count(*) FROM entry_revision), (SELECT count(*) FROM load), "
        "(SELECT count(*) FROM event WHERE kind = 'load'), (SELECT count(DISTINCT revision_id) FROM measurement)"
    ).fetchall()
    assert became.holds
    assert all(said == found for said, found in files)
    assert chain == [(number, True, True) for number in range(1, len(chain) + 1)]
    assert counts[0] == counts[1] == counts[4] == became.received
    assert counts[2] == counts[3]
    return became.received


def rows_of(book: Path, wait: float = 5, verified: bool = True) -> int:
    """Rows received of a book that opens and is whole (see `sound_rows`)."""
    with database.reading(book, wait) as connection:
        return sound_rows(connection, verified)


def hash_of(book: Path) -> str:
    """The book hash of a book that opens."""
    with database.reading(book, wait=5) as connection:
        return book_hash(connection)


def nothing_beside(book: Path) -> None:
    """Only the book and its anchor may stand in its folder."""
    assert {path.name for path in book.parent.iterdir()} == {book.name, beside(book, ".anchor").name}
