"""Reference tables as TOML: any of them, each row an element of an array of tables that has the table's name.

[[minimum]]
book = "Quillmark Record"
"""

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

from warehouse.book import reference
from warehouse.errors import ReferenceRefused
from warehouse.plain_text import shown


def _content(path: Path) -> dict[str, Any]:
    try:
        with path.open("rb") as file:
            return tomllib.load(file, parse_float=str)  # as written: no figure passes through a float
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as refusal:
        raise ReferenceRefused(f"{shown(str(path))}: cannot be read as TOML: {shown(str(refusal))}") from refusal


def tables_in(path: Path) -> list[str]:
    """The tables that the file holds rows of, in its order. Raises ReferenceRefused for anything else in it."""
    content = _content(path)
    for name, rows in content.items():
        is_rows = isinstance(rows, list) and all(isinstance(row, dict) for row in rows)
        if name not in reference.TABLES or not is_rows:
            raise ReferenceRefused(
                f"{shown(str(path))}: found {shown(name, 40)!r}; expected rows like [[minimum]], of the tables: "
                f"{', '.join(reference.TABLES)}"
            )
    return list(content)


def read_toml(table: str, path: Path) -> list[reference.Row]:
    """The checked rows of one table of the file. Raises ReferenceRefused naming the element and the field."""
    rows = [{name: _cell(value) for name, value in row.items()} for row in _content(path)[table]]
    return reference.check_rows(table, str(path), enumerate(rows, start=1), spot=f"[[{table}]]")


def _cell(value: Any) -> Any:
    """Numbers and days as a CSV cell would hold them; texts, lists, yes and no as they are."""
    if isinstance(value, list):
        return [_cell(item) for item in value]
    if isinstance(value, date) or (isinstance(value, int) and not isinstance(value, bool)):
        return str(value)
    return value
