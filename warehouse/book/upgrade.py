"""Bring a book of an earlier schema up to this program's, keeping the book as it was beside it."""

import os
import shutil
from datetime import UTC, datetime
from pathlib import Path
from typing import BinaryIO

import duckdb

from warehouse.book import anchor, contents, database, events, ledger, migrations
from warehouse.book.marks import MARKS
from warehouse.book.reference.replacing import Told, log_as_it_stands
from warehouse.errors import BookOlder, BookRefused
from warehouse.plain_text import shown


def upgrade(path: Path, wait: float = database.WAIT_SECONDS) -> Path | None:
    """Apply the migrations that the book lacks, in one transaction. Returns the copy's path, None where none was due.

    The copy (`book.duckdb.before-0002`) never overwrites a file, and is taken away where the upgrade fails. Raises as
    `database.reading` does.
    """
    try:
        database.settle(path, wait)  # of one that was killed behind its commit only the anchor is missing
        return None
    except BookOlder:
        pass
    copy = path.with_name(f"{path.name}.before-{max(migrations.known()):04d}")
    kept = False
    try:
        # nobody writes between the copy and the upgrade; the handle is closed last, for the lock would go with it
        with path.open("rb") as source, database.writing(path, wait, fresh=True) as connection:
            anchor.check(connection, path)
            _keep(source, path, copy)
            kept = True
            migrations.apply_all(connection)
            _log_what_is_there(connection)
    except BaseException:
        if kept and _is_older(path):  # otherwise only the anchor failed, and the copy is all there is of the old book
            database.remove(copy)
        raise
    return copy


def _is_older(path: Path) -> bool:
    try:
        with database.reading(path):
            return False
    except BookRefused as refusal:
        return isinstance(refusal, BookOlder)


def _log_what_is_there(connection: duckdb.DuckDBPyConnection) -> None:
    """Mark the rows of a book that was kept before there was a log, and log its loads and corrections in their order, then
    its reference tables as they stand.
    """
    for table, mark in MARKS.items():
        connection.execute(f"UPDATE {table} SET mark = {mark} WHERE mark IS NULL")
    if events.head(connection)[0]:
        return
    loads = connection.execute("SELECT loaded_at, load_id, loaded_by FROM load").fetchall()
    past = [(at, ledger.load_event(connection, load, by)) for at, load, by in loads]
    corrected = connection.execute(
        "SELECT made_at, revision_id, entry_id, author, reason FROM entry_revision "
        "SEMI JOIN corrected_cell USING (revision_id) ORDER BY revision_id"
    ).fetchall()
    written = dict(contents.of_all(connection, "correction").select("key", "written").rows())
    past += [
        (at, events.Event("correct", by, why, entry_id=entry, revision_id=revision, content=written[revision]))
        for at, revision, entry, by, why in corrected
    ]
    for at, event in sorted(past, key=lambda one: one[0]):
        events.append(connection, event, at)
    begun = events.Event(
        "upgrade", "beamledger", "the log begins; what was loaded and corrected before is entered above"
    )
    now = datetime.now(UTC).replace(tzinfo=None)
    events.append(connection, begun, now)
    log_as_it_stands(connection, Told("beamledger", "as it stood when the log began", now))


def _keep(source: BinaryIO, path: Path, copy: Path) -> None:
    """Copy the book, its anchor and the log it was opened with. A copy under its name is a whole one."""
    if copy.exists():
        raise BookRefused(
            f"{shown(str(copy))}: already there, from an upgrade that did not end; move it away and try again"
        )
    fresh = copy.with_name(copy.name + ".new")
    try:
        for ending in (".wal", ".anchor"):
            beside = path.with_name(path.name + ending)
            if beside.exists():
                shutil.copy2(beside, copy.with_name(copy.name + ending))
        with fresh.open("wb") as file:
            shutil.copyfileobj(source, file)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(copy)
    except OSError as failure:
        fresh.unlink(missing_ok=True)
        database.remove(copy)
        raise BookRefused(
            f"{shown(str(copy))}: the copy cannot be made: {failure.strerror}; the book was not touched"
        ) from failure
