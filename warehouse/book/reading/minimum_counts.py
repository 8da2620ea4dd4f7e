"""How many accepted entries meet each book's minimum, season by season."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from warehouse.book.database import reading
from warehouse.book.length_text import length_text
from warehouse.book.named_query import frame
from warehouse.categories import all_categories


@dataclass(frozen=True)
class MinimumSettings:
    """Which counts: None means any."""

    book: str | None = None
    category: str | None = None
    first_season: str | None = None
    last_season: str | None = None


@dataclass(frozen=True)
class MinimumCounts:
    """`counts`: book, category, season, minimum_units, minimum_units_text, unit, accepted, meeting.
    `in_force`: book, category, weapon_class, minimum_units, minimum_units_text, first_season, last_season (null: in
    force still).
    """

    counts: pl.DataFrame
    in_force: pl.DataFrame


def read_minimum_counts(path: Path, settings: MinimumSettings) -> MinimumCounts:
    """Counts of the book at `path` under `settings`. Raises as `warehouse.book.database.reading` does."""
    which = {"book": settings.book, "category": settings.category}
    span = {"first_season": settings.first_season, "last_season": settings.last_season}
    units = {code: category.unit for code, category in all_categories().items()}
    with reading(path) as connection:
        counts = frame(connection, "minimum_counts", which | span)
        in_force = frame(connection, "minimums_in_force", which)
    known = in_force.with_columns(unit=pl.col("category").replace_strict(units, default=None, return_dtype=pl.Int32))
    return MinimumCounts(
        counts=counts.with_columns(length_text("minimum_units")),
        in_force=known.with_columns(length_text("minimum_units")),
    )
