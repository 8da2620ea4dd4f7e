"""The rankings page: the entries that compete, placed, how their scores lie, and what changed since the last edition."""

from dataclasses import dataclass, replace
from pathlib import Path

import polars as pl

from warehouse.book import editions, rankings
from warehouse.book.database import reading
from warehouse.book.length_text import length_text
from warehouse.book.named_query import frame_over
from warehouse.book.rankings import RankSettings

MOST_ROWS = 5000


@dataclass(frozen=True)
class Ranked:
    """`rows`: those of `rankings.rank` with gross_text and net_text, at most `MOST_ROWS`. `spread_out`: district ('' not
    known), inch, entries, highest_text, middle, middle_text, in_district, unit. `competing`: how many entries pass the
    filters; `listed`: how many of them have a place that is listed.
    """

    rows: pl.DataFrame
    spread_out: pl.DataFrame
    competing: int
    listed: int


@dataclass(frozen=True)
class News:
    """What changed in the lists of all time since the newest edition, named `edition` (None: there is none yet).

    `changes`: book, category, kind (new, moved, corrected, withdrawn), entry_id, entry_no, hunter, place_was, place_is,
    what.
    """

    edition: str | None
    changes: pl.DataFrame


def read_ranked(path: Path, settings: RankSettings) -> Ranked:
    """Ranked entries of the book at `path`. Raises as `warehouse.book.database.reading` does."""
    whole = replace(settings, places=None).parameters()
    with reading(path) as connection:
        rows = rankings.rank(connection, settings)
        spread_out = frame_over(connection, "rankings", "ranked", "net_by_district", whole)
    return Ranked(
        rows=rows.head(MOST_ROWS).with_columns(length_text("gross"), length_text("net")),
        spread_out=spread_out.with_columns(length_text("highest"), length_text("middle")),
        competing=int(spread_out["entries"].sum()),
        listed=rows.height,
    )


def read_news(path: Path) -> News:
    """What a new edition of the book at `path` would tell as changed. Raises as `warehouse.book.database.reading` does."""
    with reading(path) as connection:
        return News(*editions.changes_since_newest(connection))
