"""Run a `.sql` file of this folder by its name."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

import duckdb
import polars as pl

Parameter = str | int | None | list[str]


@cache
def text_of_query(name: str) -> str:
    """The text of `name`.sql beside this module."""
    return files("warehouse.book.reading").joinpath(f"{name}.sql").read_text(encoding="utf-8")


def frame(
    connection: duckdb.DuckDBPyConnection, name: str, parameters: Mapping[str, Parameter] | None = None
) -> pl.DataFrame:
    """All rows of the named query, fetched. `parameters` fill its `$name` places, and are never put into its text."""
    fetched: pl.DataFrame = connection.sql(text_of_query(name), params=dict(parameters or {})).pl()
    return fetched
