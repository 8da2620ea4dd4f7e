"""Every released schema is upgraded, with the book as it was kept beside it. The old books were made by their own version."""

import gzip
import re
from pathlib import Path

import pytest

from tests.book_builder import beside, file_of, heads, load, new_book, query
from warehouse.book import database, migrations
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
