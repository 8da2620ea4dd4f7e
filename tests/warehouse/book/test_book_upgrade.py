"""Every released schema is upgraded, with the book as it was kept beside it. The old books were made by their own version."""

import gzip
import re
from pathlib import Path

import duckdb
import pytest

from loaders.verify import verify
from tests.book_builder import beside, file_of, heads, load, new_book, query
from warehouse.book import database, migrations
from warehouse.book.backup import back_up, restore
from warehouse.book.upgrade import upgrade
from warehouse.errors import BookOlder, BookRefused

OLD_BOOKS = Path(__file__).parent / "old_books"
STATES = "SELECT entry_id, entry_no, status, gross, net, reason FROM current_entry ORDER BY entry_id"
# three heads of tests/book_builder.py, the second with a gross that does not add up
HELD = [
    (1, "1", "accepted", 1165, 1101, "first received"),
    (2, "2", "held", 1166, 1103, "first received"),
    (3, "3", "accepted", 1167, 1105, "first received"),
]


def old_book(number: int, folder: Path) -> Path:
    """The old book of this schema, unpacked."""
    book = folder / "old.duckdb"
    book.write_bytes(gzip.decompress((OLD_BOOKS / f"schema_{number:04d}.duckdb.gz").read_bytes()))
    return book


def test_there_is_an_old_book_of_every_schema_before_this_one() -> None:
    assert [int(path.name[7:11]) for path in sorted(OLD_BOOKS.iterdir())] == list(migrations.known())[:-1]


@pytest.mark.parametrize("number", list(migrations.known())[:-1])
def test_an_old_book_is_refused_until_it_is_upgraded_and_then_says_the_same(tmp_path: Path, number: int) -> None:
    book = old_book(number, tmp_path)
    name = migrations.known()[number]
    message = (
        f"{book}: made by an earlier version of Beamledger (its schema is {name}); bring it up to date with "
        f"`beamledger upgrade {book}`, which keeps a copy"
    )
    with pytest.raises(BookOlder, match=f"^{re.escape(message)}$"), database.reading(book):
        pass
    with pytest.raises(BookOlder), database.writing(book):
        pass
    before = book.read_bytes()
    copy = upgrade(book)
    assert copy == beside(book, f".before-{max(migrations.known()):04d}")
    assert copy.read_bytes() == before
    assert query(book, STATES) == HELD
    assert load(book, file_of(tmp_path / "more.csv", heads(4, 4))).counts()["new"] == 1
    assert upgrade(book) is None


@pytest.mark.parametrize("number", list(migrations.known())[:-1])
def test_an_upgraded_book_proves_itself_and_can_be_backed_up(tmp_path: Path, number: int) -> None:
    book = old_book(number, tmp_path)
    upgrade(book)
    load(book, file_of(tmp_path / "more.csv", heads(4, 4)))
    assert [check.name for check in verify(book).checks if not check.holds] == []
    back_up(book, tmp_path / "backup.zip")
    restore(tmp_path / "backup.zip", tmp_path / "restored.duckdb")
    assert query(tmp_path / "restored.duckdb", STATES) == query(book, STATES)
    assert verify(tmp_path / "restored.duckdb").is_sound


@pytest.mark.parametrize("number", list(migrations.known())[:-1])
def test_an_upgraded_book_has_the_columns_of_a_new_one(tmp_path: Path, number: int) -> None:
    book = old_book(number, tmp_path)
    upgrade(book)
    columns = "SELECT table_name, column_name, data_type FROM duckdb_columns() WHERE NOT internal ORDER BY ALL"
    assert query(book, columns) == query(new_book(tmp_path), columns)


def test_what_was_marked_and_logged_before_stays_as_it_was(tmp_path: Path) -> None:
    book = old_book(3, tmp_path)
    queries = ("SELECT row_id, mark FROM received_row", "SELECT revision_id, mark FROM entry_revision",
               "SELECT event_no, content, hash FROM event", "FROM reference_version")  # fmt: skip
    with duckdb.connect(str(book), read_only=True) as connection:
        before = [sorted(connection.execute(sql).fetchall()) for sql in queries]
    upgrade(book)
    assert [sorted(query(book, sql)) for sql in queries] == before
    assert [len(rows) for rows in before] == [3, 3, 8, 7]


def test_a_copy_that_is_there_is_not_overwritten(tmp_path: Path) -> None:
    book = old_book(1, tmp_path)
    copy = beside(book, f".before-{max(migrations.known()):04d}")
    copy.write_text("somebody's")
    with pytest.raises(
        BookRefused, match=r"already there, from an upgrade that did not end; move it away and try again$"
    ):
        upgrade(book)
    assert copy.read_text() == "somebody's"


def test_a_book_of_this_version_is_left_alone(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    assert upgrade(book) is None
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book.duckdb", "book.duckdb.anchor"]
