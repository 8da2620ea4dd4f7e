"""Why a sheet may disagree with itself, and what was done about it: its explanations and its revisions."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from warehouse.eighths import text_of


@dataclass(frozen=True)
class SheetExplanation:
    """One explanation. `cells` are our field names; `proposed` and `net` are score sheet text, `net` None for none."""

    place: int
    tie: bool
    kind: str
    cells: tuple[str, ...]
    proposed: tuple[str, ...]
    net: str | None
    why: str


@dataclass(frozen=True)
class SheetRevision:
    """One state of the entry: who made it and why; `corrected` is (field, text before or None, text after) of each cell."""

    revision_no: int
    made_at: str
    author: str
    reason: str
    status: str
    row_id: int
    corrected: tuple[tuple[str, str | None, str], ...]


def explanations_of(rows: Sequence[dict[str, Any]], unit: int) -> tuple[SheetExplanation, ...]:
    """The rows of `sheet_explanations.sql`, lengths of so many parts of an inch as text."""
    return tuple(
        SheetExplanation(
            row["place"], row["tie"], row["kind"], tuple(row["cells"]),
            tuple(text_of(units, unit) for units in row["proposed"]),
            None if row["net"] is None else text_of(row["net"], unit), row["why"],
        )
        for row in rows
    )  # fmt: skip


def history_of(rows: Sequence[dict[str, Any]]) -> tuple[SheetRevision, ...]:
    """The rows of `sheet_history.sql`, one revision each."""
    by_number: dict[int, list[dict[str, Any]]] = {}
    for row in rows:
        by_number.setdefault(row["revision_no"], []).append(row)
    return tuple(_revision(number, group) for number, group in by_number.items())


def corrected_texts(history: Sequence[SheetRevision], row_id: int) -> dict[str, str]:
    """Field -> text of what was corrected of the received row `row_id`. `history`: newest revision first."""
    of_row = [one for one in reversed(history) if one.row_id == row_id]
    return {field: after for one in of_row for field, _, after in one.corrected}


def _revision(number: int, rows: Sequence[dict[str, Any]]) -> SheetRevision:
    cells = tuple((row["field"], row["stated_text"], row["corrected_text"]) for row in rows if row["field"])
    first = rows[0]
    return SheetRevision(
        number, first["made_at"], first["author"], first["reason"], first["status"], first["row_id"], cells
    )
