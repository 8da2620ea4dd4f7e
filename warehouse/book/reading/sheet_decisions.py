"""What was decided about a sheet, and where it stands in each record book."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from warehouse.eighths import text_of


@dataclass(frozen=True)
class SheetStanding:
    """The sheet in one record book; `score` and `minimum` are text, `reasons` say why it does not qualify.

    `would_qualify`: it is held, and nothing else stands against it. `over` is "0" exactly at the minimum, "-4 7/8" below it.
    """

    book: str
    qualifies: bool
    would_qualify: bool
    score: str | None
    ranked_by: str | None
    minimum: str | None
    over: str | None
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class SheetEvent:
    """One event of the log about this sheet. `net` is a panel's, as text; `about` the
    errors that an acceptance overrode; `other` the other entry of a merger."""

    event_no: int
    happened_at: str
    author: str
    kind: str
    reason: str
    net: str | None
    about: str | None
    undoes: int | None
    other: int | None
    is_undone: bool
    is_own: bool


def standings_of(found: pl.DataFrame) -> tuple[SheetStanding, ...]:
    """The rows of `standing.standing` of one entry."""
    return tuple(
        SheetStanding(
            row["book"], row["qualifies"], row["would_qualify"], row["score_units_text"], row["score"], row["minimum_units_text"],
            row["margin_text"], tuple(row["reasons"]),
        )
        for row in found.iter_rows(named=True)
    )  # fmt: skip


def events_of(rows: Sequence[dict[str, Any]], unit: int) -> tuple[SheetEvent, ...]:
    """The rows of `sheet_events.sql`, newest first."""
    return tuple(
        SheetEvent(
            row["event_no"], row["happened_at"], row["author"], row["kind"], row["reason"],
            None if row["net"] is None else text_of(row["net"], unit), row["about"], row["undoes"], row["other_entry_id"],
            row["is_undone"], row["is_own"],
        )
        for row in rows
    )  # fmt: skip
