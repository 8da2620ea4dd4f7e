"""The anchor: a small file beside the book that holds how much the book held, its length, and the newest event of its log,
when it was last closed.

DuckDB opens a book whose write-ahead log was cut or lost without an error, and smaller. Counts only ever grow in
this book, so counts below the anchor's mean that something was lost; another hash at the anchor's event means that
the log was written anew. It also opens a book that was cut short, as long
as no lost block is read; the length tells. A length of 0 means not known: a write began and was not seen to end.
"""

import json
import os
from collections.abc import Mapping
from pathlib import Path

import duckdb

from warehouse.book import events
from warehouse.errors import BookDamaged
from warehouse.plain_text import shown

COUNTED = ("load", "received_file", "received_row", "entry", "entry_revision", "finding")
LOGGED = ("event", "edition")  # tables that an earlier version did not have
LENGTH, HEAD = "bytes", "head"
Anchored = Mapping[str, int | str]
RECOVERY = (
    "restore your last backup, or make a new book with `beamledger init` and load the kept files again (what was decided "
    "and corrected is then lost)"
)


def anchor_path(book: Path) -> Path:
    """The anchor's place: `book.duckdb` has `book.duckdb.anchor` beside it."""
    return book.with_name(book.name + ".anchor")


def counts(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Rows in each table of the ledger, as far as the book's schema has it."""
    here = {name for (name,) in connection.execute("SELECT table_name FROM duckdb_tables()").fetchall()}
    tables = [table for table in (*COUNTED, *LOGGED) if table in here]
    query = " UNION ALL ".join(f"SELECT '{table}', count(*) FROM {table}" for table in tables)
    return {table: int(count) for table, count in connection.execute(query).fetchall()}


def write(connection: duckdb.DuckDBPyConnection, book: Path) -> None:
    """Renew the anchor of a book that has just been checkpointed. Raises OSError."""
    anchored: Anchored = {**counts(connection), HEAD: events.head(connection)[1], LENGTH: book.stat().st_size}
    _replace(anchor_path(book), anchored)


def settled(book: Path) -> bool:
    """Whether the book was closed properly: it has an anchor, which knows its length. Raises as `check` does."""
    anchored = _read(anchor_path(book))
    return anchored is not None and anchored.get(LENGTH, 0) != 0


def unsettle(book: Path) -> None:
    """Before a commit: the book's length is about to change, and a crash may leave it at any. Raises as `check` does."""
    anchored = _read(anchor_path(book))
    if anchored is not None:
        _replace(anchor_path(book), {**anchored, LENGTH: 0})


def _replace(path: Path, anchored: Anchored) -> None:
    """Replace the anchor whole, so that a crash leaves the old one or the new one."""
    fresh = path.with_name(path.name + ".new")
    with fresh.open("w", encoding="utf-8") as file:
        json.dump(anchored, file, indent=1)
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(path)


def check(connection: duckdb.DuckDBPyConnection, book: Path) -> None:
    """Raise BookDamaged where the book holds less than its anchor says, or another log. No anchor: nothing to hold it against."""
    anchored = _read(anchor_path(book))
    if anchored is None:
        return
    length, expected = book.stat().st_size, int(anchored.get(LENGTH, 0))
    if length < expected:
        raise BookDamaged(f"{shown(str(book))}: the book was cut short: {length} bytes of {expected}; {RECOVERY}")
    present = counts(connection)
    expected_counts = {table: int(anchored.get(table, 0)) for table in present}
    lost = [f"{table}: {present[table]} of {were}" for table, were in expected_counts.items() if present[table] < were]
    if lost:
        raise BookDamaged(
            f"{shown(str(book))}: the book holds less than when it was last closed ({'; '.join(lost)}); "
            f"its .wal file was probably lost or damaged; {RECOVERY}"
        )
    _check_head(connection, book, anchored)


def _check_head(connection: duckdb.DuckDBPyConnection, book: Path, anchored: Anchored) -> None:
    number, head = anchored.get("event", 0), anchored.get(HEAD, "")
    if not number or not head:
        return
    found = connection.execute("SELECT hash FROM event WHERE event_no = ?", [number]).fetchall()
    if found != [(head,)]:
        raise BookDamaged(
            f"{shown(str(book))}: event {number} of the log is not the one that its anchor knows: the log was written anew, "
            f"or the anchor is of another book; {RECOVERY}"
        )


def _read(path: Path) -> Anchored | None:
    """What is anchored, None where there is no anchor."""
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
