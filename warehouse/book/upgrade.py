"""Bring a book of an earlier schema up to this program's, keeping the book as it was beside it."""

import shutil
from pathlib import Path

from warehouse.book import anchor, database, migrations
from warehouse.errors import BookOlder, BookRefused
from warehouse.plain_text import shown


def upgrade(path: Path, wait: float = database.WAIT_SECONDS) -> Path | None:
    """Apply the migrations that the book lacks, in one transaction. Returns the copy's path, None where none was due.

    The copy (`book.duckdb.before-0002`) never overwrites a file, and is taken away where the upgrade fails. Raises as
    `database.reading` does.
    """
    try:
        with database.reading(path, wait):
            return None
    except BookOlder:
        pass
    copy = path.with_name(f"{path.name}.before-{max(migrations.known()):04d}")
    with database.writing(path, wait, fresh=True) as connection:  # nobody writes between the copy and the upgrade
        anchor.check(connection, path)
        _keep(path, copy)
        try:
            migrations.apply_all(connection)
        except BaseException:
            database.remove(copy)
            raise
    return copy


def _keep(path: Path, copy: Path) -> None:
    if copy.exists():
        raise BookRefused(
            f"{shown(str(copy))}: already there, from an upgrade that did not end; move it away and try again"
        )
    try:
        shutil.copy2(path, copy)
        beside = anchor.anchor_path(path)
        if beside.exists():
            shutil.copy2(beside, anchor.anchor_path(copy))
    except OSError as failure:
        database.remove(copy)
        raise BookRefused(
            f"{shown(str(copy))}: the copy cannot be made: {failure.strerror}; the book was not touched"
        ) from failure
