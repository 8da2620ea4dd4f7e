"""What the book holds of one received table: its rows as received, their revisions, lines and corrections."""

from dataclasses import dataclass

import duckdb
import polars as pl

from warehouse.book.corrections import rows_of_file
from warehouse.book.verify.queries import frame


@dataclass(frozen=True)
class StoredFile:
    """One received table: its headings, our field for each ('' for none), and how many revisions rest on its rows."""

    file_id: int
    name: str
    sheet: str | None
    sha256: str
    headings: tuple[str, ...]
    fields: tuple[str, ...]
    row_count: int
    as_received: int
    corrected: int


@dataclass(frozen=True)
class Stored:
    """`rows`: row_id, row and cells as received, in their order.

    `revisions`: revision_id, row_id, revision_no, corrections (0: as received; n: with the n-th correction of the row),
    tells_number (whether entry_no was taken from this row), and what follows from the row's cells, as in the table
    `entry_revision`; by corrections and row_id. `lines`: as the table `measurement`. `corrected`: row_id, corrections,
    field, corrected_text ('' for an emptied cell).
    """

    rows: pl.DataFrame
    revisions: pl.DataFrame
    lines: pl.DataFrame
    corrected: pl.DataFrame


def stored_files(connection: duckdb.DuckDBPyConnection) -> list[StoredFile]:
    """Every received table, in the order received."""
    return [
        StoredFile(file, name, sheet, sha256, tuple(headings), tuple(fields), *counts)
        for file, name, sheet, sha256, headings, fields, *counts in frame(connection, "stored_files").rows()
    ]


def read_stored(connection: duckdb.DuckDBPyConnection, file_id: int) -> Stored:
    """What the book holds of one received table."""
    revisions, lines, corrected = (
        frame(connection, f"stored_{name}", {"file": file_id}) for name in ("revisions", "lines", "corrections")
    )
    return Stored(rows_of_file(connection, file_id), revisions, lines, corrected)
