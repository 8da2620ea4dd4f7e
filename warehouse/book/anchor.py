"""The anchor: a small file beside the book that holds how much the book held, and its length, when it was last closed.

DuckDB opens a book whose write-ahead log was cut or lost without an error, and smaller. Counts only ever grow in
this book, so counts below the anchor's mean that something was lost. It also opens a book that was cut short, as long
as no lost block is read; the length tells. A length of 0 means not known: a write began and was not seen to end.
"""

import json
import os
from pathlib import Path

import duckdb

from warehouse.errors import BookDamaged
from warehouse.plain_text import shown

COUNTED = ("load", "received_file", "received_row", "entry", "entry_revision", "finding")


LENGTH = "bytes"
RECOVERY = "restore your last backup, or make a new book with `beamledger init` and load the kept files again"


def anchor_path(book: Path) -> Path:
    """The anchor's place: `book.duckdb` has `book.duckdb.anchor` beside it."""
    return book.with_name(book.name + ".anchor")


def counts(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Rows in each table of the ledger."""
    query = " UNION ALL ".join(f"SELECT '{table}', count(*) FROM {table}" for table in COUNTED)
    return {table: int(count) for table, count in connection.execute(query).fetchall()}


def write(connection: duckdb.DuckDBPyConnection, book: Path) -> None:
    """Renew the anchor of a book that has just been checkpointed. Raises OSError."""
    _replace(anchor_path(book), counts(connection) | {LENGTH: book.stat().st_size})


def unsettle(book: Path) -> None:
    """Before a commit: the book's length is about to change, and a crash may leave it at any. Raises as `check` does."""
    anchored = _read(anchor_path(book))
    if anchored is not None:
        _replace(anchor_path(book), anchored | {LENGTH: 0})


def _replace(path: Path, anchored: dict[str, int]) -> None:
    """Replace the anchor whole, so that a crash leaves the old one or the new one."""
    fresh = path.with_name(path.name + ".new")
    with fresh.open("w", encoding="utf-8") as file:
        json.dump(anchored, file, indent=1)
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(path)


def check(connection: duckdb.DuckDBPyConnection, book: Path) -> None:
    """Raise BookDamaged where the book holds less than its anchor says. No anchor: nothing to hold it against."""
    anchored = _read(anchor_path(book))
    if anchored is None:
        return
    length, expected = book.stat().st_size, anchored.get(LENGTH, 0)
    if length < expected:
        raise BookDamaged(f"{shown(str(book))}: the book was cut short: {length} bytes of {expected}; {RECOVERY}")
    present = counts(connection)
    lost = [
        f"{table}: {present[table]} of {anchored.get(table, 0)}"
        for table in COUNTED
        if present[table] < anchored.get(table, 0)
    ]
    if lost:
        raise BookDamaged(
            f"{shown(str(book))}: the book holds less than when it was last closed ({'; '.join(lost)}); "
            f"its .wal file was probably lost or damaged; {RECOVERY}"
        )


def _read(path: Path) -> dict[str, int] | None:
    """The anchored counts, None where there is no anchor."""
    try:
        anchored = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return None
    except (ValueError, OSError) as damage:
        raise _unreadable(path, str(damage)) from damage
    if not isinstance(anchored, dict) or not all(isinstance(anchored.get(table), int) for table in COUNTED):
        raise _unreadable(path, f"expected the counts of {', '.join(COUNTED)}")
    return anchored


def _unreadable(path: Path, why: str) -> BookDamaged:
    return BookDamaged(
        f"{shown(str(path))}: the anchor cannot be read: {shown(why)}; the book was not touched. Put the anchor of your "
        "last backup in its place, or take it away to open the book without it"
    )
