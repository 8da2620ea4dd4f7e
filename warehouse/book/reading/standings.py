"""The standing page: how the entries of one record book stand, and which of those that do not qualify come nearest."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal, get_args

import polars as pl

from warehouse.book.database import reading
from warehouse.book.named_query import Parameter, frame, frame_over
from warehouse.book.standing import in_words

MOST_ROWS = 500
Group = Literal["would", "near", "other", "qualify"]


@dataclass(frozen=True)
class StandingSettings:
    """Which entries, and which of them are listed. None means any; `near` is a distance in inches.

    `group`: "would" (they would qualify if they were accepted), "near" (accepted or held, under the minimum by `near`
    inches or less, and nothing else against them), "other" (anything else against them), "qualify".
    """

    book: str
    group: Group = "would"
    category: str | None = None
    first_season: str | None = None
    last_season: str | None = None
    near: int = 3

    def parameters(self) -> dict[str, Parameter]:
        """The parameters of the queries."""
        return {
            "book": self.book, "group": self.group, "category": self.category, "near": self.near,
            "first_season": self.first_season, "last_season": self.last_season,
        }  # fmt: skip


@dataclass(frozen=True)
class Standings:
    """`counts`: entries by group of `StandingSettings`. `rows`: the group asked for, nearest first, at most `MOST_ROWS`:
    the columns of `standing.standing`, with hunter, area and season.
    """

    counts: dict[str, int]
    rows: pl.DataFrame


def read_standings(path: Path, settings: StandingSettings) -> Standings:
    """Standings of the book at `path` under `settings`. Raises as `warehouse.book.database.reading` does."""
    parameters = settings.parameters()
    with reading(path) as connection:
        counts = frame(connection, "standing_counts", {key: parameters[key] for key in parameters if key != "group"})
        asked = parameters | {"entry_id": None, "most": MOST_ROWS}
        rows = frame_over(connection, "standing", "found", "standing_group", asked)
    return Standings(dict.fromkeys(get_args(Group), 0) | dict(counts.rows()), in_words(rows))
