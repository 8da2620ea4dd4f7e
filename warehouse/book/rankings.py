"""Rankings: who stands at which place, by record book, category, area, district, seasons and weapon.

Entries with the same score share a place and the next place is skipped (competition ranking: 1, 2, 2, 4), unless the
record book has a second rule for them: "gross", the higher gross goes first, or "taken", the head taken earlier.
"""

from dataclasses import dataclass
from typing import Literal

import duckdb
import polars as pl

from warehouse.book.named_query import Parameter, frame


@dataclass(frozen=True)
class RankSettings:
    """Which entries compete, and in which lists. None and () mean any.

    `book`: those that qualify in this record book (or in each of several), by its own score and second rule; None: every
    accepted entry, by net. `weapons` are weapons or classes of weapons, `areas` codes; `score` overrides what is
    ranked; `list_by`: one list for the region, for each area or for each district; `places`: the last place listed.
    """

    book: str | tuple[str, ...] | None = None
    categories: tuple[str, ...] = ()
    areas: tuple[str, ...] = ()
    districts: tuple[str, ...] = ()
    first_season: str | None = None
    last_season: str | None = None
    weapons: tuple[str, ...] = ()
    score: Literal["net", "gross"] | None = None
    list_by: Literal["region", "area", "district"] = "region"
    places: int | None = None

    def parameters(self) -> dict[str, Parameter]:
        """The parameters of the query."""
        books = [self.book] if isinstance(self.book, str) else self.book
        return {
            "books": None if books is None else list(books), "categories": list(self.categories), "areas": list(self.areas),
            "districts": list(self.districts), "first_season": self.first_season, "last_season": self.last_season,
            "weapons": list(self.weapons), "score": self.score, "list": self.list_by, "places": self.places,
        }  # fmt: skip


def rank(connection: duckdb.DuckDBPyConnection, settings: RankSettings) -> pl.DataFrame:
    """The entries that compete, each with its `place` and whether that is `tied`, list by list.

    Further columns: entry_id, revision_id, entry_no, category, book, area, area_code (the present one), district,
    region, season, weapon, weapon_class, antler_state, hunter, taken_on, unit, gross and net (as counted, in units),
    score (what is ranked, in units), ranked_by ("net" or "gross"), tie_rule.
    """
    return frame(connection, "rankings", settings.parameters(), folder=".")


def districts(connection: duckdb.DuckDBPyConnection) -> list[str]:
    """Every district that an area is or was in."""
    query = "SELECT district FROM area UNION SELECT district FROM area_district ORDER BY 1"
    return [district for (district,) in connection.execute(query).fetchall() if district]
