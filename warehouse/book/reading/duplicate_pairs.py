"""Pairs of entries that may be one head, for the page and the command."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from warehouse.book import duplicates
from warehouse.book.database import WAIT_SECONDS, reading
from warehouse.errors import EntryNotFound


@dataclass(frozen=True)
class DuplicatePairs:
    """`rows`: columns of `warehouse.book.duplicates.COLUMNS`, the strongest kind and the nearest first."""

    rows: pl.DataFrame

    @property
    def undecided(self) -> pl.DataFrame:
        """The pairs that nobody has decided about."""
        return self.rows.filter(pl.col("decided").is_null())

    def pair(self, first_id: int, second_id: int) -> pl.DataFrame:
        """The row of this pair, in whichever order it is named; no row where nothing brings it up."""
        low, high = sorted((first_id, second_id))
        return self.rows.filter((pl.col("first_id") == low) & (pl.col("second_id") == high))


def read_duplicate_pairs(
    path: Path, entry_id: int | None = None, with_decided: bool = False, wait: float = WAIT_SECONDS
) -> DuplicatePairs:
    """The pairs of the book at `path`, of one entry where it is given, the decided ones too where asked for.

    Raises EntryNotFound where the book has no such entry, and as `warehouse.book.database.reading` does.
    """
    with reading(path, wait) as connection:
        if entry_id is not None:
            _check_there(
                connection.execute("SELECT count(*) FROM entry WHERE entry_id = ?", [entry_id]).fetchall(), entry_id
            )
        return DuplicatePairs(duplicates.pairs(connection, entry_id, with_decided))


def _check_there(counted: list[tuple[int]], entry_id: int) -> None:
    if not counted[0][0]:
        raise EntryNotFound(f"entry ={entry_id}: the book has no such entry")
