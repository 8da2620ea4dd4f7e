"""The `.sql` files of this folder by their names."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import duckdb
import polars as pl


@cache
def text_of_query(name: str) -> str:
    """The text of `name`.sql beside this module."""
    return files("warehouse.book.verify").joinpath(f"{name}.sql").read_text(encoding="utf-8")


def frame(
    connection: duckdb.DuckDBPyConnection, name: str, parameters: Mapping[str, int] | None = None
) -> pl.DataFrame:
    """All rows of the named query, fetched. `parameters` fill its `$name` places."""
    fetched: pl.DataFrame = connection.sql(text_of_query(name), params=dict(parameters or {})).pl()
    return fetched


def first(connection: duckdb.DuckDBPyConnection, query: str) -> tuple[Any, ...] | None:
    """The first row of a query; None where it has none."""
    rows = connection.execute(query).fetchmany(1)
    return rows[0] if rows else None


def number(connection: duckdb.DuckDBPyConnection, query: str) -> int:
    """The one number that a query gives."""
    return int(connection.execute(query).fetchall()[0][0])
