"""A book in which everything has happened, as a file and in memory, for the tests of verifying."""

from collections.abc import Iterator
from pathlib import Path

import duckdb
import pytest

from tests.logged_book import logged_book
from warehouse.book import migrations

TABLES = (
    "load", "received_file", "received_row", "entry", "entry_revision", "measurement", "finding", "explanation",
    "corrected_cell", "event", "reference_version", "edition", "edition_line", "edition_minimum", "edition_change",
    "area", "measurer", "season", "minimum", "record_book",
)  # fmt: skip


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return logged_book(tmp_path_factory.mktemp("verify") / "book.duckdb")


@pytest.fixture(scope="module")
def in_memory(book: Path) -> Iterator[duckdb.DuckDBPyConnection]:
    """The tables of the book without their file, where tampering is quick."""
    connection = duckdb.connect(":memory:")
    migrations.apply_all(connection)
    connection.execute(f"ATTACH '{book}' AS book (READ_ONLY)")
    for table in TABLES:
        connection.execute(f"DELETE FROM {table}")
        connection.execute(f"INSERT INTO {table} BY NAME SELECT * FROM book.{table}")
    connection.execute("DETACH book")
    yield connection
    connection.close()


@pytest.fixture
def ledger(in_memory: duckdb.DuckDBPyConnection) -> Iterator[duckdb.DuckDBPyConnection]:
    """The same; whatever a test alters is taken back."""
    in_memory.execute("BEGIN")
    yield in_memory
    in_memory.execute("ROLLBACK")
