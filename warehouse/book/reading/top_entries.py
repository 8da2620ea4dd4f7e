"""The highest accepted net scores, a list per area, per district or one for the whole region."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import polars as pl

from warehouse.book.database import reading
from warehouse.book.reading.length_text import length_text
from warehouse.book.reading.named_query import Parameter, frame

MOST_ROWS = 5000


@dataclass(frozen=True)
class TopSettings:
    """Which entries compete: an empty tuple or None means any. `places` is the last place that is listed."""

    category: str
    list_by: Literal["area", "district", "region"] = "area"
    weapon_class: str | None = None
    first_season: str | None = None
    last_season: str | None = None
    districts: tuple[str, ...] = ()
    areas: tuple[str, ...] = ()
    places: int = 3

    def filters(self) -> dict[str, Parameter]:
        """The query parameters that say which entries compete."""
        return {
            "category": self.category,
            "weapon_class": self.weapon_class,
            "first_season": self.first_season,
            "last_season": self.last_season,
            "districts": list(self.districts),
            "areas": list(self.areas),
        }


@dataclass(frozen=True)
class TopEntries:
    """`rows`: place, entry_id, entry_no, area, district, hunter, weapon, season, taken_on, gross, net, gross_text,
    net_text, in list order. `spread_out`: district ('' not known), inch, entries, highest_text, middle, middle_text,
    in_district, unit. `competing`: how many accepted entries pass the filters.
    """

    rows: pl.DataFrame
    spread_out: pl.DataFrame
    competing: int


def read_top_entries(path: Path, settings: TopSettings) -> TopEntries:
    """Ranked entries of the book at `path`; ties share a place and the next place is skipped (1, 2, 2, 4).

    At most `MOST_ROWS` rows. Raises as `warehouse.book.database.reading` does.
    """
    bounds: dict[str, Parameter] = {"list": settings.list_by, "places": settings.places, "most": MOST_ROWS}
    with reading(path) as connection:
        rows = frame(connection, "top_entries", settings.filters() | bounds)
        spread_out = frame(connection, "net_by_district", settings.filters())
    return TopEntries(
        rows=rows.with_columns(length_text("gross"), length_text("net")),
        spread_out=spread_out.with_columns(length_text("highest"), length_text("middle")),
        competing=int(spread_out["entries"].sum()),
    )
