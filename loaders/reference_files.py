"""Reference tables as files: read as text, every row checked, problems named by file, row and field."""

from collections.abc import Mapping
from pathlib import Path

import duckdb

from loaders.census_counties import read_census, separator_of
from loaders.reference_csv import read_csv
from loaders.reference_sources import FILES, files_in, sources
from loaders.reference_toml import read_toml
from warehouse.book import reference
from warehouse.errors import ReferenceRefused

__all__ = ["FILES", "files_in", "read_all", "read_reference", "sources", "write_reference"]


def read_reference(table: str, path: Path) -> list[reference.Row]:
    """The checked rows of one table in a file: CSV, TOML or (areas) a list of the Census. Raises ReferenceRefused."""
    if path.suffix.lower() == ".toml":
        return read_toml(table, path)
    separator = separator_of(path) if table == "area" else None
    return read_census(path, separator) if separator else read_csv(table, path)


def read_all(paths: Mapping[str, Path]) -> dict[str, list[reference.Row]]:
    """Table -> its checked rows. Raises ReferenceRefused with the problems of all files."""
    checked: dict[str, list[reference.Row]] = {}
    problems: list[str] = []
    for table in sorted(paths, key=list(reference.TABLES).index):
        try:
            checked[table] = read_reference(table, paths[table])
        except ReferenceRefused as refusal:
            problems.append(str(refusal))
    if problems:
        raise ReferenceRefused("\n".join(problems))
    return checked


def write_reference(
    connection: duckdb.DuckDBPyConnection, paths: Mapping[str, Path], told: reference.Told
) -> tuple[reference.Change, ...]:
    """Read and check every file, then put its tables in place of the book's and log it; returns what changed.

    Raises ReferenceRefused with the problems of all files; nothing is written then.
    """
    return reference.put(connection, read_all(paths), told)
