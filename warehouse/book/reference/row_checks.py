"""Each row of a reference table by itself, and rows that come twice."""

from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import ValidationError

from warehouse.book.reference.cells import EXPECTED
from warehouse.book.reference.tables import TABLES, Row, refuse
from warehouse.plain_text import shown

Given = Mapping[str, Any]


def check_rows(table: str, file: str, rows: Iterable[tuple[int, Given]], spot: str = "row") -> list[Row]:
    """Check the rows (number, field -> text or native value) of one table; every problem is named, not only the first.

    `spot` and the number say where in the file a row stands: "row 3". A blank cell of a field that may be left out
    counts as left out. Raises ReferenceRefused naming file, row and field.
    """
    kind = TABLES[table]
    good: list[Row] = []
    problems: list[str] = []
    first_seen: dict[tuple[Any, ...], int] = {}
    for number, given in rows:
        place = f"{shown(file)}, {spot} {number}"
        try:
            checked = kind.model.model_validate(_stated(table, given))
        except ValidationError as refusal:
            problems += [_problem(table, place, error, given) for error in refusal.errors()]
            continue
        row = Row(checked.stored(), place)
        key = row.key(*kind.key)
        if kind.unique and key in first_seen:
            again = ", ".join(repr(str(value)) for value in key)
            verb = "stands" if len(key) == 1 else "stand"
            problems.append(
                f"{place}, {', '.join(kind.fields or kind.key)}: {again} {verb} in {spot} {first_seen[key]} already"
            )
        first_seen.setdefault(key, number)
        good.append(row)
    refuse(problems)
    return good


def _stated(table: str, given: Given) -> dict[str, Any]:
    fields = TABLES[table].model.model_fields
    needed = {name for name, field in fields.items() if field.is_required()}
    cells = {name: "" if cell is None else cell for name, cell in given.items() if name}
    return {name: cell for name, cell in cells.items() if not _is_blank(cell) or name in needed}


def _is_blank(cell: Any) -> bool:
    return isinstance(cell, str) and not cell.strip()


def _problem(table: str, place: str, error: Any, given: Given) -> str:
    name = str(error["loc"][0]) if error["loc"] else "row"
    where = f"{place}, {shown(name, 40)}"
    if error["type"] == "value_error":  # a rule of ours, which says it all
        return f"{where}: {shown(error['msg'].removeprefix('Value error, '))}"
    if error["type"] == "extra_forbidden":
        return f"{where}: the table has no such field; expected: {', '.join(TABLES[table].model.model_fields)}"
    cell = given.get(name)
    found = "" if cell is None else cell if isinstance(cell, str) else str(cell)
    return f"{where}: found {shown(found, 40)!r}; expected {EXPECTED.get(name, 'a text')}"
