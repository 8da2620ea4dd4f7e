import hashlib
import re
from pathlib import Path

import duckdb
import pytest

from tests.book_builder import beside, new_book, query
from warehouse.book import database, migrations
from warehouse.errors import BookDamaged, BookNewer, BookRefused


def test_each_migration_is_applied_once_and_its_record_kept(tmp_path: Path) -> None:
    book = tmp_path / "book.duckdb"
    database.create(book)
    record = query(book, "SELECT number, name, applied_at FROM migration ORDER BY number")
    assert [(number, name) for number, name, _ in record] == list(migrations.known().items())
    with database.writing(book) as connection:
        migrations.apply_all(connection)  # the baseline would fail if it were run again: its tables are there
    assert query(book, "SELECT number, name, applied_at FROM migration ORDER BY number") == record


def test_migrations_are_numbered_without_a_gap() -> None:
    assert list(migrations.known()) == list(range(1, len(migrations.known()) + 1))


def test_a_migration_that_fails_leaves_neither_its_tables_nor_its_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = new_book(tmp_path)
    newest = max(migrations.known())
    with database.writing(book) as connection:
        connection.execute("DELETE FROM migration WHERE number = ?", [newest])
    with pytest.raises(BookRefused, match="nothing was written"), database.writing(book, fresh=True) as connection:
        connection.execute("CREATE TABLE half_done (a INTEGER)")
        migrations.apply_all(connection)
    assert query_raw(book, "SELECT count(*) FROM duckdb_tables() WHERE table_name = 'half_done'") == [(0,)]
    assert query_raw(book, "SELECT count(*) FROM migration WHERE number = " + str(newest)) == [(0,)]


def query_raw(book: Path, sql: str) -> list[tuple[int, ...]]:
    with duckdb.connect(str(book), read_only=True) as connection:
        return connection.execute(sql).fetchall()


def test_an_existing_file_is_never_overwritten(tmp_path: Path) -> None:
    there = tmp_path / "there.duckdb"
    there.write_text("my notes")
    with pytest.raises(BookRefused) as refused:
        database.create(there)
    assert str(refused.value) == f"{there}: already exists; name a new file, or load into this book with --book"
    assert there.read_text() == "my notes"


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(BookRefused, match=r"gone/book\.duckdb: cannot be created: IO Error"):
        database.create(tmp_path / "gone" / "book.duckdb")
    assert list(tmp_path.iterdir()) == []


def test_a_stale_log_and_anchor_of_a_removed_book_do_not_enter_the_new_one(tmp_path: Path) -> None:
    book = tmp_path / "book.duckdb"
    beside(book, ".anchor").write_text('{"load": 99}')
    beside(book, ".wal").write_bytes(b"left over")
    database.create(book)
    assert query(book, "SELECT count(*) FROM load") == [(0,)]


def test_a_newer_book_is_refused_in_words_and_not_touched(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    with database.writing(book) as connection:
        connection.execute("INSERT INTO migration VALUES (9001, '9001_from_the_future.sql', now()::TIMESTAMP)")
    before = hashlib.sha256(book.read_bytes()).hexdigest()
    newest = migrations.known()[max(migrations.known())]
    message = re.escape(
        f"{book}: made by a newer version of Beamledger (its schema is 9001_from_the_future.sql, this program knows "
        f"up to {newest}); update the program, the book was not touched"
    )
    with pytest.raises(BookNewer, match=f"^{message}$"), database.reading(book):
        pass
    with pytest.raises(BookNewer, match=f"^{message}$"), database.writing(book):
        pass
    assert hashlib.sha256(book.read_bytes()).hexdigest() == before


def test_another_duckdb_file_is_no_book(tmp_path: Path) -> None:
    other = tmp_path / "other.duckdb"
    with duckdb.connect(str(other)) as connection:
        connection.execute("CREATE TABLE recipes (name VARCHAR)")
    with pytest.raises(BookDamaged) as refused, database.reading(other):
        pass
    assert str(refused.value) == f"{other}: a DuckDB file, but not a book of Beamledger; check the file name"


def test_an_error_inside_rolls_everything_back(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    with pytest.raises(ZeroDivisionError), database.writing(book) as connection:
        connection.execute("INSERT INTO load VALUES (1, now()::TIMESTAMP, 'a', 'b')")
        raise ZeroDivisionError
    assert query(book, "SELECT count(*) FROM load") == [(0,)]


def test_reading_cannot_write(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    with pytest.raises(duckdb.InvalidInputException, match="read-only"), database.reading(book) as connection:
        connection.execute("INSERT INTO load VALUES (1, now()::TIMESTAMP, 'a', 'b')")
