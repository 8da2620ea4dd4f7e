"""The reference tables by name: their row models, what makes a row another row, and the rows as they are handed about."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from warehouse.book.reference.area_rows import AliasRow, AreaRow, ChangeRow, DistrictRow, EffortRow
from warehouse.book.reference.book_rows import MinimumRow, RecordBookRow
from warehouse.book.reference.cells import TableRow
from warehouse.book.reference.measuring_rows import MeasurerRow, SeasonRow
from warehouse.book.reference.panel_rows import PanelRow
from warehouse.errors import ReferenceRefused


@dataclass(frozen=True)
class Table:
    """A reference table: its row model, the columns of the book that tell its rows apart, and its name in words.

    `unique`: whether those columns must not come twice (`periods` finds it elsewhere). `fields`: the fields of a file
    that fill those columns, where they are called otherwise.
    """

    model: type[TableRow]
    key: tuple[str, ...]
    words: str
    unique: bool = False
    fields: tuple[str, ...] = ()


TABLES: dict[str, Table] = {
    "area": Table(AreaRow, ("area_code",), "areas", unique=True),
    "area_alias": Table(AliasRow, ("alias", "area_code"), "area aliases"),
    "area_district": Table(DistrictRow, ("area_code", "first_season"), "districts of areas"),
    "area_change": Table(ChangeRow, ("old_code", "new_code"), "changes of area codes", unique=True),
    "measurer": Table(MeasurerRow, ("measurer_no", "certificate", "certified_from"), "measurers' certificates"),
    "season": Table(SeasonRow, ("season",), "seasons", unique=True),
    "record_book": Table(RecordBookRow, ("book", "first_season"), "record books"),
    "minimum": Table(MinimumRow, ("book", "category", "weapon_class", "antler_state", "first_season"), "minimums"),
    "effort": Table(EffortRow, ("area_code", "season"), "rows of effort", unique=True),
    "panel_measure": Table(
        PanelRow, ("session", "head", "measurer_no", "line"), "measures of panels", unique=True,
        fields=("session", "head", "measurer", "line"),
    ),
}  # fmt: skip
"""Areas come first: other tables are held against them."""


@dataclass(frozen=True)
class Row:
    """One checked row: `values` by column of the book's table; `place` says where it stands, for a person."""

    values: dict[str, Any]
    place: str = field(compare=False, default="")

    def key(self, *columns: str) -> tuple[Any, ...]:
        """The values of these columns."""
        return tuple(self.values[column] for column in columns)


Rows = Mapping[str, Sequence[Row]]
"""Table -> its rows."""
MOST_PROBLEMS = 20


def refuse(problems: Sequence[str]) -> None:
    """Raise ReferenceRefused with the problems, if there are any; a long list is cut and counted."""
    if problems:
        more = f"\n... and {len(problems) - MOST_PROBLEMS} more" if len(problems) > MOST_PROBLEMS else ""
        raise ReferenceRefused("\n".join(problems[:MOST_PROBLEMS]) + more)
