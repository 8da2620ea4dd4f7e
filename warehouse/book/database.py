"""The one module that opens DuckDB. Everyone opens, does one thing, and closes: a page never holds the book.

DuckDB lets one process write, or many read, never both: so each opening waits a little for the other side, and
then says who holds the book. A damaged or missing write-ahead log opens without an error and loses what it held;
the anchor beside the book (`anchor.py`) is what notices. A book cut short opens too, until a lost block is read;
that, too, the anchor notices.

A process that closes any handle of a file loses its locks on it (fcntl(2)), DuckDB's with them: a load could then
write into a book that a page of this process is reading. So the file is looked at only while this process does not
hold it, and whoever copies a book that is open here closes his own handle after the book (`upgrade.py`, `backup.py`).
"""

import re
import threading
import time
from collections import Counter
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
    # a commit is then one step, the checkpoint; with a log first, a disk that fills up between the two would leave
    # a load in the log that was reported as refused
    "SET wal_autocheckpoint = '1B'",
)
FORBIDDEN = ("Permission denied", "Operation not permitted", "Read-only file system")
# What DuckDB raises for bytes it cannot trust or get. A wrong checksum is the bare duckdb.Error.
DAMAGE = (duckdb.IOException, duckdb.SerializationException, duckdb.FatalException, duckdb.InternalException)
_GATE = threading.Lock()
_held: Counter[Path] = Counter()  # books that this process has open, and how often


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
        anchor.anchor_path(path).unlink(missing_ok=True)  # of a book that stood here before and was taken away
    except duckdb.Error as refusal:
        raise BookRefused(f"{shown(str(path))}: cannot be created: {shown(str(refusal))}") from refusal
    with writing(path, fresh=True) as connection:
        migrations.apply_all(connection)


@contextmanager
def reading(path: Path, wait: float = WAIT_SECONDS, fresh: bool = False) -> Iterator[duckdb.DuckDBPyConnection]:
    """An open read-only book; closed on leaving. Always `fetchall` (or `.pl()`) before leaving.

    `fresh`: as of `writing`. Raises BookRefused, BookLocked, BookDamaged or BookNewer.
    """
    connection = _open(path, read_only=True, wait=wait)
    try:
        if not fresh:
            migrations.check_version(connection, path)
            anchor.check(connection, path)
        yield connection
    except duckdb.Error as refusal:
        if _is_damage(refusal):
            raise _damaged(path, refusal) from refusal
        raise
    finally:
        _close(connection, path)


@contextmanager
def in_memory() -> Iterator[duckdb.DuckDBPyConnection]:
    """An empty database that no file stands behind, with the settings of a book; gone on leaving."""
    with duckdb.connect(":memory:") as connection:
        for setting in SETTINGS:
            connection.execute(setting)
        yield connection


@contextmanager
def writing(path: Path, wait: float = WAIT_SECONDS, fresh: bool = False) -> Iterator[duckdb.DuckDBPyConnection]:
    """An open book in one transaction: committed, checkpointed and anchored on leaving, rolled back on an error.

    `fresh`: of a book whose schema is being made or upgraded neither schema nor anchor is looked at.
    """
    connection = _open(path, read_only=False, wait=wait)
    try:
        if not fresh:
            migrations.check_version(connection, path)
            anchor.check(connection, path)
        connection.execute("BEGIN")
        try:
            yield connection
            _commit(connection, path)
        except BaseException:
            _roll_back(connection)
            raise
    except duckdb.Error as failure:
        _close(connection, path)
        raise _not_written(path, failure) from failure
    except BaseException:
        _close(connection, path)
        raise
    _settle(connection, path)


def settle(path: Path, wait: float = WAIT_SECONDS) -> None:
    """Bring what a crash left in the book's log into its file, and its anchor up to date. Raises as `writing` does.

    Where neither is due nothing is written, and nobody is kept from the book.
    """
    with reading(path, wait):
        due = not is_settled(path)
    if due:
        with writing(path, wait):
            pass


def is_settled(path: Path) -> bool:
    """Whether the book was closed properly: all of it in its file, and its anchor knows that. Raises as `reading` does."""
    return anchor.settled(path) and not path.with_name(path.name + ".wal").exists()


def _commit(connection: duckdb.DuckDBPyConnection, path: Path) -> None:
    try:
        anchor.unsettle(path)
    except OSError as failure:
        raise BookRefused(
            f"{shown(str(path))}: nothing was written: its anchor cannot be renewed: {failure.strerror}"
        ) from failure
    connection.execute("COMMIT")


def _settle(connection: duckdb.DuckDBPyConnection, path: Path) -> None:
    """After the commit: nothing left in a log, the anchor renewed, the book closed."""
    try:
        connection.execute("CHECKPOINT")
        anchor.write(connection, path)
    except (duckdb.Error, OSError) as failure:
        raise BookRefused(
            f"{shown(str(path))}: everything was written, but its anchor could not be renewed: {shown(str(failure))}; "
            "make room on the disk; the next load renews it"
        ) from failure
    finally:
        _close(connection, path)


def _roll_back(connection: duckdb.DuckDBPyConnection) -> None:
    with suppress(duckdb.Error):  # a failed commit has rolled back already; the first error is the one to show
        connection.execute("ROLLBACK")


def _open(path: Path, read_only: bool, wait: float) -> duckdb.DuckDBPyConnection:
    give_up = time.monotonic() + wait
    while True:
        try:
            connection = _connect(path, read_only)
        except duckdb.Error as refusal:
            if any(word in str(refusal) for word in FORBIDDEN):
                raise BookRefused(
                    f"{shown(str(path))}: this account may not write there; check its permissions"
                ) from refusal
            if not _is_lock(refusal):
                raise _damaged(path, refusal) from refusal
            if time.monotonic() >= give_up:
                raise _locked(path, refusal, wait) from refusal
            time.sleep(RETRY_EVERY_SECONDS)
            continue
        for setting in SETTINGS:
            connection.execute(setting)
        return connection


def _connect(path: Path, read_only: bool) -> duckdb.DuckDBPyConnection:
    with _GATE:
        if not _held[path.absolute()]:
            _check_file(path)
        connection = duckdb.connect(str(path), read_only=read_only)
        _held[path.absolute()] += 1
    return connection


def _close(connection: duckdb.DuckDBPyConnection, path: Path) -> None:
    with _GATE:
        connection.close()
        _held[path.absolute()] -= 1


def _check_file(path: Path) -> None:
    if not path.is_file():
        raise BookRefused(f"{shown(str(path))}: no book there; make one with `beamledger init {shown(str(path))}`")
    try:
        with path.open("rb") as book:
            head = book.read(12)
    except OSError as refusal:
        raise BookRefused(f"{shown(str(path))}: cannot be opened: {refusal.strerror}") from refusal
    if head[8:12] != DUCKDB_MAGIC:
        raise BookDamaged(
            f"{shown(str(path))}: not a book of Beamledger (or its first bytes are damaged); {anchor.RECOVERY}"
        )


def remove(path: Path) -> None:
    """Take away a book that has just been made and could not be filled, with what stands beside it."""
    for file in (path, path.with_name(path.name + ".wal"), anchor.anchor_path(path)):
        file.unlink(missing_ok=True)


def _is_lock(refusal: duckdb.Error) -> bool:
    text = str(refusal)
    return "Conflicting lock" in text or "different configuration" in text


def _is_damage(refusal: duckdb.Error) -> bool:
    return type(refusal) is duckdb.Error or isinstance(refusal, DAMAGE)


def _locked(path: Path, refusal: duckdb.Error, wait: float) -> BookLocked:
    holder = re.search(r"held in (.*?) \(PID (\d+)\)", str(refusal))
    who = f"process {holder[2]} ({Path(holder[1]).name})" if holder else "another part of this program"
    return BookLocked(
        f"{shown(str(path))}: {who} holds the book; nothing was done after waiting {wait:.0f} s. "
        "Wait for it to finish, or stop it, and try again"
    )


def _damaged(path: Path, refusal: duckdb.Error) -> BookDamaged:
    return BookDamaged(f"{shown(str(path))}: the book is damaged: {shown(str(refusal))}; {anchor.RECOVERY}")


def _not_written(path: Path, failure: duckdb.Error) -> BookRefused:
    if _is_damage(failure) and "Could not write" not in str(failure):
        return _damaged(path, failure)
    advice = "; make room on the disk and try again" if "Could not write" in str(failure) else ""
    return BookRefused(f"{shown(str(path))}: nothing was written: {shown(str(failure).strip())}{advice}")
