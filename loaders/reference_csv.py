"""One reference table as a CSV file: UTF-8, comma, a row of headings that are the table's fields."""

import csv
from collections.abc import Sequence
from pathlib import Path

from warehouse.book import reference
from warehouse.errors import ReferenceRefused
from warehouse.plain_text import shown


def cells_of(path: Path) -> list[list[str]]:
    """All rows of the file, the headings first; one empty row for an empty file. Raises ReferenceRefused."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            return list(csv.reader(file, strict=True)) or [[]]
    except (OSError, UnicodeDecodeError, csv.Error) as refusal:
        raise ReferenceRefused(
            f"{shown(str(path))}: cannot be read as a UTF-8 CSV file: {shown(str(refusal))}"
        ) from refusal


def read_csv(table: str, path: Path) -> list[reference.Row]:
    """The checked rows of the file. Raises ReferenceRefused naming row and field."""
    headings, *rows = cells_of(path)
    if not fits(table, headings):
        fields = ", ".join(reference.TABLES[table].model.model_fields)
        raise ReferenceRefused(
            f"{shown(str(path))}, row 1: found the columns {', '.join(map(shown, headings)) or '(none)'}; "
            f"expected: {fields}, each once"
        )
    numbered = [(number, row) for number, row in enumerate(rows, start=2) if any(row)]
    reference.refuse(
        [f"{shown(str(path))}, row {number}: {len(row)} cells under {len(headings)} headings"
         for number, row in numbered if len(row) > len(headings)]
    )  # fmt: skip
    named = [(number, dict(zip(headings, row, strict=False))) for number, row in numbered]
    return reference.check_rows(table, str(path), named)


def fits(table: str, headings: Sequence[str]) -> bool:
    """Whether the headings are fields of the table, each once, none that it needs left out."""
    fields = reference.TABLES[table].model.model_fields
    needed = {name for name, field in fields.items() if field.is_required()}
    return needed <= set(headings) <= set(fields) and len(set(headings)) == len(headings)
