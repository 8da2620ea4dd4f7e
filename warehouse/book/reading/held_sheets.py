"""The audit queue: held sheets, each with its worst finding."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from warehouse.book.database import reading
from warehouse.book.named_query import frame

MOST_ROWS = 2000


@dataclass(frozen=True)
class QueueSettings:
    """Filters of the queue; an empty tuple means any."""

    severities: tuple[str, ...] = ()
    areas: tuple[str, ...] = ()
    measurers: tuple[str, ...] = ()
    seasons: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()


@dataclass(frozen=True)
class HeldSheets:
    """`rows`: entry_id, entry_no, severity, code, message, findings, hunter, area, season, measurer; errors first.

    `matching` counts every sheet that passes the filters, `held` every held entry of the book; `rows` has at most
    `MOST_ROWS` of them.
    """

    rows: pl.DataFrame
    matching: int
    held: int

    def neighbours(self, entry_id: int) -> tuple[int | None, int | None]:
        """The entries before and after this one in the queue, None at an end or where it is not in the queue."""
        order = self.rows["entry_id"].to_list()
        if entry_id not in order:
            return (None, None)
        place = order.index(entry_id)
        return (order[place - 1] if place else None, order[place + 1] if place + 1 < len(order) else None)


def read_held_sheets(path: Path, settings: QueueSettings) -> HeldSheets:
    """Held sheets of the book at `path` that pass `settings`. Raises as `warehouse.book.database.reading` does."""
    with reading(path) as connection:
        rows = frame(
            connection,
            "held_sheets",
            {
                "severities": list(settings.severities),
                "areas": list(settings.areas),
                "measurers": list(settings.measurers),
                "seasons": list(settings.seasons),
                "codes": list(settings.codes),
                "most": MOST_ROWS,
            },
        )
        held = int(frame(connection, "held_count")["held"].item())
    matching = int(rows["matching"].item(0)) if rows.height else 0
    return HeldSheets(rows=rows.drop("matching"), matching=matching, held=held)
