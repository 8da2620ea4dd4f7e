"""What the loaders read of the reference tables, and the heading mappings that are kept beside them."""

from collections.abc import Mapping
from typing import Any

import duckdb
import polars as pl


def read_names(connection: duckdb.DuckDBPyConnection) -> tuple[list[Any], list[Any], list[Any], pl.DataFrame]:
    """Areas (code, name, state, district), aliases (alias, code), measurers (number, name), and the seasons."""
    areas = connection.execute("SELECT area_code, name, state, district FROM area ORDER BY area_code").fetchall()
    aliases = connection.execute("SELECT alias, area_code FROM area_alias ORDER BY ALL").fetchall()
    measurers = connection.execute("SELECT DISTINCT measurer_no, name FROM measurer ORDER BY ALL").fetchall()
    seasons = connection.sql("SELECT season, starts_on, ends_on FROM season ORDER BY starts_on").pl()
    return areas, aliases, measurers, seasons


def read_area_history(connection: duckdb.DuckDBPyConnection) -> tuple[list[Any], list[Any]]:
    """Changes of codes (old code, new code, date, kind), and districts (code, district, first season, last season)."""
    changes = connection.execute(
        "SELECT old_code, new_code, changed_on, kind FROM area_change ORDER BY old_code, new_code"
    ).fetchall()
    districts = connection.execute(
        "SELECT area_code, district, first_season, last_season FROM area_district ORDER BY area_code, first_season"
    ).fetchall()
    return changes, districts


def save_mapping(connection: duckdb.DuckDBPyConnection, name: str, mapping: Mapping[str, str]) -> None:
    """Keep a heading mapping under a name, in place of an older one of that name."""
    connection.execute("DELETE FROM heading_mapping WHERE name = ?", [name])
    for heading, target in mapping.items():
        connection.execute("INSERT INTO heading_mapping VALUES (?, ?, ?)", [name, heading, target])


def read_mapping(connection: duckdb.DuckDBPyConnection, name: str) -> dict[str, str]:
    """A saved mapping, heading -> field; empty where there is none of that name."""
    rows = connection.execute(
        "SELECT heading, field FROM heading_mapping WHERE name = ? ORDER BY heading", [name]
    ).fetchall()
    return dict(rows)
