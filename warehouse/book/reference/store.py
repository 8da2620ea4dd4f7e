"""Reference tables in the book: read whole, written whole, and as the text that the log keeps of them."""

from collections.abc import Sequence
from typing import Any

import duckdb
import polars as pl

from warehouse.book.reference.tables import TABLES, Row

_LIST, _DAY, _COUNT = pl.List(pl.String()), pl.Date(), pl.Int32()
# what is no text; the frame says it, so that a column without any value has its type too
_TYPES: dict[str, pl.DataType] = {
    "starts_on": _DAY, "ends_on": _DAY, "certified_from": _DAY, "certified_to": _DAY, "changed_on": _DAY,
    "measured_on": _DAY, "length_units": _COUNT, "unit": pl.Int16(),
    "minimum_units": _COUNT, "drying_days": _COUNT, "measured_within_days": _COUNT, "received_within_days": _COUNT,
    "licences_sold": _COUNT, "antlered_harvest": _COUNT, "square_miles": pl.Decimal(12, 2), "takes_found": pl.Boolean(),
    "weapons": _LIST, "certificates": _LIST, "states": _LIST, "districts": _LIST, "areas": _LIST,
}  # fmt: skip


def write_rows(connection: duckdb.DuckDBPyConnection, table: str, rows: Sequence[Row]) -> None:
    """Put checked rows into a reference table, in place of those it had."""
    connection.execute(f"DELETE FROM {table}")
    if not rows:
        return
    schema = {column: _TYPES.get(column, pl.String()) for column in rows[0].values}
    frame = pl.DataFrame([row.values for row in rows], schema=schema)
    connection.register("reference_rows", frame)
    connection.execute(f"INSERT INTO {table} BY NAME SELECT * FROM reference_rows")
    connection.unregister("reference_rows")


def read_rows(connection: duckdb.DuckDBPyConnection, table: str) -> list[Row]:
    """The rows of a reference table, sorted by their columns."""
    found = connection.execute(f"SELECT * FROM {table} ORDER BY ALL")
    columns = [column[0] for column in found.description or ()]
    return [_row(table, dict(zip(columns, row, strict=True))) for row in found.fetchall()]


def _row(table: str, values: dict[str, Any]) -> Row:
    key = ", ".join(str(values[column]) for column in TABLES[table].key)
    return Row(values, f"the book's table {table} ({key})")


def rows_text(connection: duckdb.DuckDBPyConnection, table: str) -> str:
    """The table as it stands, as a JSON list of its rows in the order of their texts."""
    query = f"SELECT coalesce(to_json(list(to_json(t) ORDER BY to_json(t)::VARCHAR))::VARCHAR, '[]') FROM {table} t"
    return str(connection.execute(query).fetchall()[0][0])
