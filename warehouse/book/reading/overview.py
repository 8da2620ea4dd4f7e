"""The state of the whole book in figures."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from warehouse.book.database import reading
from warehouse.book.named_query import frame


@dataclass(frozen=True)
class Figures:
    """Counts over the whole book. `errors`, `questions` and `notes` count open findings."""

    entries: int
    accepted: int
    held: int
    errors: int
    questions: int
    notes: int
    rows_received: int
    files: int
    loads: int


@dataclass(frozen=True)
class Overview:
    """`figures`, and frames: `by_season` (season, weapon_class, entries), `by_district` (district, status, entries),
    `by_code` (code, severity, findings, sheets), `last_loads` (load_id, loaded_at, loaded_by, files, rows_received,
    new, revised, unchanged, held). A null season, weapon class or district is one that is not known.
    """

    figures: Figures
    by_season: pl.DataFrame
    by_district: pl.DataFrame
    by_code: pl.DataFrame
    last_loads: pl.DataFrame

    @property
    def is_empty(self) -> bool:
        """Whether nothing was ever received."""
        return self.figures.rows_received == 0 and self.figures.entries == 0


def read_overview(path: Path) -> Overview:
    """The overview of the book at `path`. Raises as `warehouse.book.database.reading` does."""
    with reading(path) as connection:
        return Overview(
            figures=Figures(**frame(connection, "figures").row(0, named=True)),
            by_season=frame(connection, "entries_by_season"),
            by_district=frame(connection, "entries_by_district"),
            by_code=frame(connection, "findings_by_code"),
            last_loads=frame(connection, "last_loads"),
        )
