"""The anchor: a small file beside the book that holds how much the book held when it was last closed.

DuckDB opens a book whose write-ahead log was cut or lost without an error, and smaller. Counts only ever grow in
this book, so counts below the anchor's mean that something was lost.
"""

import json
import os
from pathlib import Path

import duckdb

from warehouse.errors import BookDamaged
from warehouse.plain_text import shown

COUNTED = ("load", "received_file", "received_row", "entry", "entry_revision", "finding")


def anchor_path(book: Path) -> Path:
    """The anchor's place: `book.duckdb` has `book.duckdb.anchor` beside it."""
    return book.with_name(book.name + ".anchor")


def counts(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Rows in each table of the ledger."""
    query = " UNION ALL ".join(f"SELECT '{table}', count(*) FROM {table}" for table in COUNTED)
    return {table: int(count) for table, count in connection.execute(query).fetchall()}


def write(connection: duckdb.DuckDBPyConnection, book: Path) -> None:
    """Replace the anchor whole, so that a crash leaves the old one or the new one."""
    fresh = anchor_path(book).with_name(anchor_path(book).name + ".new")
    with fresh.open("w", encoding="utf-8") as file:
        json.dump(counts(connection), file, indent=1)
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(anchor_path(book))


def check(connection: duckdb.DuckDBPyConnection, book: Path) -> None:
    """Raise BookDamaged where the book holds less than its anchor says. No anchor: nothing to hold it against."""
    try:
        anchored = json.loads(anchor_path(book).read_text(encoding="utf-8"))
    except FileNotFoundError:
        return
    except ValueError as damage:
        raise BookDamaged(f"{shown(str(anchor_path(book)))}: the anchor cannot be read: {damage}") from damage
    present = counts(connection)
    lost = [f"{table}: {present[table]} of {anchored.get(table, 0)}" for table in COUNTED if present[table] < anchored.get(table, 0)]
    if lost:
        raise BookDamaged(
            f"{shown(str(book))}: the book holds less than when it was last closed ({'; '.join(lost)}); "
            "its .wal file was probably lost or damaged: restore your last backup, or load the kept files into a new book"
        )
