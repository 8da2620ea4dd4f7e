"""Reference tables as CSV files: read as text, every row checked, problems named by file, row and field."""

import csv
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any

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


def read_reference(table: str, path: Path, areas: Collection[str] | None = None) -> list[Any]:
    """The checked rows of one CSV file (UTF-8, comma); `areas` as for `reference.check_rows`. Raises ReferenceRefused."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            headings, *rows = list(csv.reader(file, strict=True)) or [[]]
    except (OSError, UnicodeDecodeError, csv.Error) as refusal:
        raise ReferenceRefused(
            f"{shown(str(path))}: cannot be read as a UTF-8 CSV file: {shown(str(refusal))}"
        ) from refusal
    _check_headings(table, path, headings)
    numbered = [(number, row) for number, row in enumerate(rows, start=2) if any(row)]
    long = [f"{shown(str(path))}, row {number}: {len(row)} cells under {len(headings)} headings" for number, row in numbered
            if len(row) > len(headings)]  # fmt: skip
    if long:
        raise ReferenceRefused("\n".join(long[:20]))
    named = [(number, dict(zip(headings, row, strict=False))) for number, row in numbered]
    return reference.check_rows(table, str(path), named, areas)


def _check_headings(table: str, path: Path, headings: list[str]) -> None:
    fields = reference.TABLES[table].model.model_fields
    unknown = [heading for heading in headings if heading not in fields]
    missing = [name for name, field in fields.items() if field.is_required() and name not in headings]
    if unknown or missing or len(set(headings)) < len(headings):
        raise ReferenceRefused(
            f"{shown(str(path))}, row 1: found the columns {', '.join(map(shown, headings)) or '(none)'}; "
            f"expected: {', '.join(fields)}, each once"
        )


def write_reference(connection: duckdb.DuckDBPyConnection, paths: Mapping[str, Path]) -> dict[str, int]:
    """Read and check every file, then fill the tables; returns rows by table.

    Raises ReferenceRefused with the problems of all files; nothing is filled then.
    """
    checked: dict[str, list[Any]] = {}
    problems: list[str] = []
    for table in sorted(paths, key=list(FILES).index):  # areas first: aliases are held against them
        areas = {area.area_code for area in checked["area"]} if "area" in checked else None
        try:
            checked[table] = read_reference(table, paths[table], areas)
        except ReferenceRefused as refusal:
            problems.append(str(refusal))
    if problems:
        raise ReferenceRefused("\n".join(problems))
    for table, rows in checked.items():
        reference.write_rows(connection, table, rows)
    return {table: len(rows) for table, rows in checked.items()}


def files_in(folder: Path) -> dict[str, Path]:
    """The reference files that a folder holds, by table."""
    return {table: folder / name for table, name in FILES.items() if (folder / name).is_file()}
