"""An edition reads the same for ever, whatever becomes of the book, and notices when its own rows were touched."""

from pathlib import Path

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from tests.warehouse.book.editions.edition_book import LATER, a_year_later, publish, published_book, read_again
from warehouse.book import database
from warehouse.book.editions import Edition, edition_number, events_since
from warehouse.book.editions.printed import ALLOWED
from warehouse.errors import EditionRefused

TOUCHED = (
    "edition '2026': its rows are not the ones that were frozen, by the log; run `beamledger verify`; "
    "nothing was written"
)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return published_book(tmp_path)


def same(first: Edition, second: Edition) -> bool:
    """Whether two readings agree; a frame that differs raises, and shows where."""
    for frame in ("lines", "minimums", "changes", "errata"):
        assert_frame_equal(getattr(first, frame), getattr(second, frame))
    plain = ("number", "name", "published_on", "season", "entries", "events", "head", "before")
    return [getattr(first, name) for name in plain] == [getattr(second, name) for name in plain]


def test_it_reads_the_same_after_a_year_of_changes(book: Path) -> None:
    before = read_again(book, "2026")
    a_year_later(book)
    publish(book, "2027", LATER)
    with database.writing(book) as connection:
        connection.execute("UPDATE area SET name = 'Elsewhere'")
        connection.execute("UPDATE minimum SET minimum_units = 1")
        connection.execute("UPDATE weapon SET label = 'Longbow' WHERE weapon = 'bow'")
    assert same(read_again(book, "2026"), before)
    assert read_again(book, "2027").lines.height > 0


def test_the_events_since_are_counted(book: Path) -> None:
    with database.reading(book) as connection:
        assert events_since(connection, "2026") == 0
    a_year_later(book)
    with database.reading(book) as connection:
        assert events_since(connection, "2026") == 5


def test_it_holds_no_more_of_an_entry_than_may_be_published(book: Path) -> None:
    edition = read_again(book, "2026")
    assert ALLOWED == (
        "place", "tied", "net", "gross", "hunter", "area", "district", "season", "weapon", "antler_state", "entry_no",
    )  # fmt: skip
    assert edition.lines.columns == ["book", "category", "span", "unit", *ALLOWED]
    assert edition.changes.columns == [
        "book", "category", "kind", "entry_no", "hunter", "place_was", "place_is", "what",
    ]  # fmt: skip
    assert edition.lines.schema["net"] == pl.Int32


@pytest.mark.parametrize(
    "touch",
    [
        "UPDATE edition_line SET net = net + 1 WHERE entry_no = '4'",
        "DELETE FROM edition_minimum WHERE first_season = '2023-24'",
        "UPDATE edition SET entries = 7",
        "INSERT INTO edition_change VALUES (1, 'Quillmark Record', 'whitetail-typical', 'new', 1, '1', 'x', NULL, 1, 'x')",
    ],
)
def test_rows_that_were_touched_are_not_printed(book: Path, touch: str) -> None:
    with database.writing(book) as connection:
        connection.execute(touch)
    with pytest.raises(EditionRefused) as refusal:
        read_again(book, "2026")
    assert str(refusal.value) == TOUCHED


def test_a_log_that_does_not_tell_of_it(book: Path) -> None:
    with database.writing(book) as connection:
        connection.execute("UPDATE event SET about = '2025' WHERE kind = 'publish'")
    with pytest.raises(EditionRefused) as refusal:
        read_again(book, "2026")
    assert str(refusal.value) == (
        "edition '2026': the log does not tell of its publishing; run `beamledger verify`; nothing was written"
    )


def test_an_edition_that_is_not_there(book: Path) -> None:
    with database.reading(book) as connection:
        assert (edition_number(connection, "2026"), edition_number(connection, "2025")) == (1, None)
    with pytest.raises(EditionRefused) as refusal:
        read_again(book, "20\u202e25")
    assert str(refusal.value) == r"edition '20\u202e25': no edition of this book has that name"
