"""Run a `.sql` file of the store by its name: a query stands in a file that says what one row is (its grain)."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

import duckdb
import polars as pl

Parameter = str | int | None | list[str] | list[int]


@cache
def text_of_query(name: str, folder: str = "reading") -> str:
    """The text of `name`.sql in a folder beside this module; "." for the folder of this module itself."""
    # by path, not by package: a query must not import what stands beside it
    return files("warehouse.book").joinpath(folder, f"{name}.sql").read_text(encoding="utf-8")


def frame(
    connection: duckdb.DuckDBPyConnection,
    name: str,
    parameters: Mapping[str, Parameter] | None = None,
    folder: str = "reading",
) -> pl.DataFrame:
    """All rows of the named query, fetched. `parameters` fill its `$name` places, and are never put into its text."""
    fetched: pl.DataFrame = connection.sql(text_of_query(name, folder), params=dict(parameters or {})).pl()
    return fetched


def frame_over(
    connection: duckdb.DuckDBPyConnection, source: str, alias: str, name: str, parameters: Mapping[str, Parameter]
) -> pl.DataFrame:
    """All rows of the query `name` (of "reading"), which reads the rows of the query `source` (of ".") as `alias`."""
    text = f"WITH {alias} AS ({text_of_query(source, '.')}) {text_of_query(name)}"
    fetched: pl.DataFrame = connection.sql(text, params=dict(parameters)).pl()
    return fetched
