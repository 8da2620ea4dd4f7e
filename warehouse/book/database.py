"""The one module that opens DuckDB. Everyone opens, does one thing, and closes: a page never holds the book.

DuckDB lets one process write, or many read, never both: so each opening waits a little for the other side, and
then says who holds the book. A damaged or missing write-ahead log opens without an error and loses what it held;
the anchor beside the book (`anchor.py`) is what notices.
"""

import re
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import duckdb

from warehouse.book import anchor, migrations
from warehouse.errors import BookDamaged, BookLocked, BookRefused
from warehouse.plain_text import shown

STORAGE_VERSION = "v2.0.0"
WAIT_SECONDS = 10.0
RETRY_EVERY_SECONDS = 0.05
DUCKDB_MAGIC = b"DUCK"
SETTINGS = (
    "SET enable_progress_bar = false",  # it would print into --json output
    "SET TimeZone = 'UTC'",
    "SET autoinstall_known_extensions = false",
    "SET autoload_known_extensions = false",
)


def create(path: Path) -> None:
    """Make an empty book at `path`, with every migration applied.

    Raises BookRefused where something is already there or the folder cannot be written.
    """
    if path.exists():
        raise BookRefused(f"{shown(str(path))}: already exists; name a new file, or load into this book with --book")
    try:
        connection = duckdb.connect(":memory:")
        quoted = str(path).replace("'", "''")
        connection.execute(f"ATTACH '{quoted}' AS book (STORAGE_VERSION '{STORAGE_VERSION}')")
        connection.close()
    except duckdb.Error as refusal:
        raise BookRefused(f"{shown(str(path))}: cannot be created: {shown(str(refusal))}") from refusal
    with writing(path, fresh=True) as connection:
        migrations.apply_all(connection)


@contextmanager
def reading(path: Path, wait: float = WAIT_SECONDS) -> Iterator[duckdb.DuckDBPyConnection]:
    """An open read-only book; closed on leaving. Always `fetchall` (or `.pl()`) before leaving.

    Raises BookRefused, BookLocked, BookDamaged or BookNewer.
    """
    connection = _open(path, read_only=True, wait=wait)
    try:
        migrations.check_version(connection, path)
        anchor.check(connection, path)
        yield connection
    except duckdb.SerializationException as damage:
        raise _damaged(path, damage) from damage
    finally:
        connection.close()


@contextmanager
def writing(path: Path, wait: float = WAIT_SECONDS, fresh: bool = False) -> Iterator[duckdb.DuckDBPyConnection]:
    """An open book in one transaction: committed, checkpointed and anchored on leaving, rolled back on an error."""
    connection = _open(path, read_only=False, wait=wait)
    try:
        if not fresh:
            migrations.check_version(connection, path)
            anchor.check(connection, path)
        connection.execute("BEGIN")
        try:
            yield connection
            connection.execute("COMMIT")
        except BaseException:
            _roll_back(connection)
            raise
        connection.execute("CHECKPOINT")
        anchor.write(connection, path)
    except duckdb.Error as failure:
        raise BookRefused(f"{shown(str(path))}: nothing was written: {shown(str(failure))}") from failure
    finally:
        connection.close()


def _roll_back(connection: duckdb.DuckDBPyConnection) -> None:
    with suppress(duckdb.Error):  # a failed commit has rolled back already; the first error is the one to show
        connection.execute("ROLLBACK")


def _open(path: Path, read_only: bool, wait: float) -> duckdb.DuckDBPyConnection:
    _check_file(path)
    give_up = time.monotonic() + wait
    while True:
        try:
            connection = duckdb.connect(str(path), read_only=read_only)
            for setting in SETTINGS:
                connection.execute(setting)
            return connection
        except duckdb.Error as refusal:
            if not _is_lock(refusal):
                raise _damaged(path, refusal) from refusal
            if time.monotonic() >= give_up:
                raise _locked(path, refusal, wait) from refusal
            time.sleep(RETRY_EVERY_SECONDS)


def _check_file(path: Path) -> None:
    if not path.is_file():
        raise BookRefused(f"{shown(str(path))}: no book there; make one with `beamledger init {shown(str(path))}`")
    try:
        with path.open("rb") as book:
            head = book.read(12)
    except OSError as refusal:
        raise BookRefused(f"{shown(str(path))}: cannot be opened: {refusal.strerror}") from refusal
    if head[8:12] != DUCKDB_MAGIC:
        raise BookDamaged(f"{shown(str(path))}: not a book of Beamledger (or its first bytes are damaged); {RECOVERY}")


def remove(path: Path) -> None:
    """Take away a book that has just been made and could not be filled, with what stands beside it."""
    for file in (path, path.with_name(path.name + ".wal"), anchor.anchor_path(path)):
        file.unlink(missing_ok=True)


RECOVERY = "restore your last backup, or make a new book with `beamledger init` and load the kept files again"


def _is_lock(refusal: duckdb.Error) -> bool:
    text = str(refusal)
    return "Conflicting lock" in text or "different configuration" in text


def _locked(path: Path, refusal: duckdb.Error, wait: float) -> BookLocked:
    holder = re.search(r"held in (.*?) \(PID (\d+)\)", str(refusal))
    who = f"process {holder[2]} ({Path(holder[1]).name})" if holder else "another part of this program"
    return BookLocked(
        f"{shown(str(path))}: {who} holds the book; nothing was done after waiting {wait:.0f} s. "
        "Wait for it to finish, or stop it, and try again"
    )


def _damaged(path: Path, refusal: duckdb.Error) -> BookDamaged:
    return BookDamaged(f"{shown(str(path))}: the book is damaged: {shown(str(refusal))}; {RECOVERY}")
