"""Reference tables as CSV files: read as text, every row checked, problems named by file, row and field."""

import csv
from collections.abc import Mapping
from pathlib import Path

import duckdb

from warehouse.book import reference
from warehouse.errors import ReferenceRefused
from warehouse.plain_text import shown

FILES = {
    "area": "areas.csv",
    "area_alias": "area_aliases.csv",
    "measurer": "measurers.csv",
    "season": "seasons.csv",
    "minimum": "minimums.csv",
}


def read_reference(table: str, path: Path) -> list[object]:
    """The checked rows of one CSV file (UTF-8, comma). Raises ReferenceRefused."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.DictReader(file, strict=True, restkey=None)
            rows = list(enumerate(reader, start=2))
            headings = reader.fieldnames or []
    except (OSError, UnicodeDecodeError, csv.Error) as refusal:
        raise ReferenceRefused(f"{shown(str(path))}: cannot be read as a UTF-8 CSV file: {shown(str(refusal))}") from refusal
    known = list(reference.TABLES[table].model.model_fields)
    unknown = [heading for heading in headings if heading not in known]
    if unknown or not headings:
        raise ReferenceRefused(
            f"{shown(str(path))}, row 1: found the columns {', '.join(map(shown, headings)) or '(none)'}; "
            f"expected: {', '.join(known)}"
        )
    return reference.check_rows(table, str(path), rows)


def write_reference(connection: duckdb.DuckDBPyConnection, paths: Mapping[str, Path]) -> dict[str, int]:
    """Read and check every file, then fill the tables; returns rows by table."""
    checked = {table: read_reference(table, path) for table, path in paths.items()}
    for table, rows in checked.items():
        reference.write_rows(connection, table, rows)
    return {table: len(rows) for table, rows in checked.items()}


def files_in(folder: Path) -> dict[str, Path]:
    """The reference files that a folder holds, by table."""
    return {table: folder / name for table, name in FILES.items() if (folder / name).is_file()}
