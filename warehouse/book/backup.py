"""Write a backup of a book, and make a book of a backup; both prove by the book's hash that nothing was lost on the way.

Copying a book's file is no backup: without its write-ahead log it opens smaller, and says nothing. Everything is made in
a folder of its own beside the place it is for and put there by renaming, so that what stands under a name is whole.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path
from tempfile import mkdtemp

import duckdb

from warehouse.book import anchor, backup_file, database, events, migrations
from warehouse.book.backup_file import ANCHOR, BOOK, Holds, Manifest
from warehouse.book.book_hash import book_hash, table_counts
from warehouse.errors import BackupRefused, BookNewer, BookOlder, BookRefused
from warehouse.plain_text import shown


def back_up(book: Path, file: Path, wait: float = database.WAIT_SECONDS) -> Manifest:
    """Write the book, its anchor and what they hold to `file`, one ZIP file; read it back; returns its manifest.

    Nobody writes to the book meanwhile. Raises BackupRefused where `file` exists, cannot be written or does not read
    back as it was written, and as `database.reading` does; the book is not touched, and no file is left.
    """
    _refuse_existing(file)
    database.settle(book, wait)
    try:
        with _beside(file) as folder:
            fresh = folder / "backup.zip"
            written = _write(book, fresh, wait)
            _sync(fresh)
            _read_back(fresh, written, file)
            _refuse_existing(file)
            fresh.rename(file)
            _sync_folder_of(file)
    except OSError as failure:
        raise _not_written(file, failure, "the backup was not written") from failure
    return written


def restore(file: Path, book: Path) -> Manifest:
    """Make the book of a backup, as it was backed up; returns the backup's manifest.

    A book of an earlier schema stays one: compare `is_older`. Raises BackupRefused where anything of a book is there
    already, or where the backup is damaged, hostile, or of a newer schema; nothing is left behind then.
    """
    for path in (book, _log(book), anchor.anchor_path(book)):
        _refuse_existing(path)
    try:
        with backup_file.opened(file) as packed, _beside(book) as folder:
            _refuse_newer(file, packed.manifest.holds)
            backup_file.check_room(packed, book.parent)
            for name in (BOOK, ANCHOR):
                packed.unpack(name, folder / name)
                _sync(folder / name)
            _compare(file, folder / BOOK, packed.manifest.holds)
            _put_in_place(folder, book)
    except OSError as failure:
        raise _not_written(book, failure, "the book was not restored") from failure
    return packed.manifest


def is_older(holds: Holds) -> bool:
    """Whether a book that holds this must be upgraded before this program reads it."""
    return holds.schema_number < max(migrations.known())


def _write(book: Path, out: Path, wait: float) -> Manifest:
    # the handle is closed last: with it this process loses its lock on the book
    with book.open("rb") as source, database.reading(book, wait) as connection:
        if not database.is_settled(book):
            raise BackupRefused(f"{shown(str(book))}: a load was stopped meanwhile; nothing was written, try again")
        told = Manifest(
            format_version=backup_file.FORMAT_VERSION, program=f"beamledger {version('beamledger')}",
            storage_version=_storage_version(connection), made_at=datetime.now(UTC).replace(microsecond=0),
            holds=_holds(connection), files={},
        )  # fmt: skip
        return backup_file.write(out, source, anchor.anchor_path(book).read_bytes(), told)


def _read_back(fresh: Path, written: Manifest, file: Path) -> None:
    failed = BackupRefused(
        f"{shown(str(file))}: the backup did not read back as it was written; look after that disk, and write it to another "
        "one; nothing was kept"
    )
    try:
        with backup_file.opened(fresh) as packed:
            packed.check()
            same = packed.manifest == written
    except BackupRefused as refusal:
        raise failed from refusal
    if not same:
        raise failed


def _holds(connection: duckdb.DuckDBPyConnection) -> Holds:
    counts = table_counts(connection)
    number, head = events.head(connection) if "event" in counts else (0, events.FIRST_PREVIOUS)
    (name,) = connection.execute("SELECT max_by(name, number) FROM migration").fetchall()[0]
    return Holds(schema_name=name, book_hash=book_hash(connection), events=number, head=head, counts=counts)


def _storage_version(connection: duckdb.DuckDBPyConnection) -> str:
    query = "SELECT tags['storage_version'] FROM duckdb_databases() WHERE database_name = current_database()"
    return str(connection.execute(query).fetchall()[0][0])


def _refuse_newer(file: Path, holds: Holds) -> None:
    if holds.schema_number > max(migrations.known()):
        raise BackupRefused(
            f"{shown(str(file))}: of a book made by a newer version of Beamledger (its schema is {holds.schema_name}, this "
            f"program knows up to {migrations.known()[max(migrations.known())]}); update the program, nothing was unpacked"
        )


def _compare(file: Path, book: Path, said: Holds) -> None:
    """Raise BackupRefused where the unpacked book does not open, or does not hold what its manifest says."""
    try:
        found = _found(book)
    except (BookRefused, duckdb.Error) as refusal:
        why = str(refusal).replace(f"{book}: ", "")
        raise BackupRefused(f"{shown(str(file))}: the book in it does not open: {why}") from refusal
    names = [name for name in Holds.model_fields if getattr(found, name) != getattr(said, name)]
    if names:
        raise BackupRefused(
            f"{shown(str(file))}: the book in it is not the one that its manifest tells of ({', '.join(names)}); take "
            "another backup; nothing was kept"
        )


def _found(book: Path) -> Holds:
    try:
        with database.reading(book) as connection:
            return _holds(connection)
    except BookNewer:
        raise
    except BookOlder:
        with database.reading(book, fresh=True) as connection:
            return _holds(connection)


def _put_in_place(folder: Path, book: Path) -> None:
    """The anchor first: a stop in between leaves an anchor without a book, never a book without its anchor."""
    _refuse_existing(book)
    beside = anchor.anchor_path(book)
    (folder / ANCHOR).rename(beside)
    try:
        (folder / BOOK).rename(book)
        _sync_folder_of(book)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


@contextmanager
def _beside(path: Path) -> Iterator[Path]:
    """A fresh folder beside `path`, taken away on leaving; one that a killed run for the same path left goes first."""
    prefix = f".{path.name}.unfinished-"
    for left in path.parent.iterdir():
        if left.name.startswith(prefix):
            shutil.rmtree(left, ignore_errors=True)
    folder = Path(mkdtemp(prefix=prefix, dir=path.parent))
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _sync_folder_of(path: Path) -> None:
    """Make the name last too; where that fails, `path` is taken away, for it may not be there after a power cut."""
    try:
        _sync(path.parent)
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def _log(book: Path) -> Path:
    return book.with_name(book.name + ".wal")


def _refuse_existing(path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise BackupRefused(f"{shown(str(path))}: already there, and never overwritten; name another, or move it away")


def _not_written(path: Path, failure: OSError, what: str) -> BackupRefused:
    return BackupRefused(
        f"{shown(str(path))}: {what}: {failure.strerror or shown(str(failure))}; make room, or choose another place, and "
        "try again; nothing was left behind"
    )
