"""Prove that a book is whole and every score in it right: the store's checks, then every score recomputed."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from loaders.check import silent
from loaders.recompute import recompute
from warehouse.book import anchor, database, events
from warehouse.book.verify import Check, check_book


@dataclass(frozen=True)
class Verified:
    """Every check, the newest event and its hash, and how many rows and entries the book holds."""

    checks: tuple[Check, ...]
    head: str
    event_no: int
    rows: int
    entries: int

    @property
    def is_sound(self) -> bool:
        """Whether every check holds."""
        return all(check.holds for check in self.checks)


def verify(book: Path, wait: float = database.WAIT_SECONDS, tell: Callable[[str, int, int], None] = silent) -> Verified:
    """Check a book; nothing is written. Raises as `database.reading` does, which holds the book against its anchor."""
    tell("checking the log and what it tells of", 0, 0)
    with database.reading(book, wait) as connection:
        checks = [_anchor_there(book), *check_book(connection)]
        number, head = events.head(connection)
        counts = connection.execute(
            "SELECT (SELECT count(*) FROM received_row), (SELECT count(*) FROM entry)"
        ).fetchall()
    rows, entries = counts[0]
    return Verified((*checks, *recompute(book, wait, tell)), head, number, int(rows), int(entries))


def _anchor_there(book: Path) -> Check:
    """Opening the book has held it against its anchor, if it has one."""
    path = anchor.anchor_path(book)
    if path.exists():
        return Check("anchor", True, 1, "the book ends where its anchor says")
    return Check(
        "anchor", False, 0, f"{path.name} is not there: whether the end of the log was cut off cannot be told; compare the "
        "head below with the one you kept; the next change of the book writes a new anchor",
    )  # fmt: skip
