"""Record books and heads in memory, for the tests of standing and ranking: each test says only what differs.

A head here is what the ledger says of it; how sheets become heads is tested elsewhere. The head's net is 142 1/8
(1137), its gross 147 7/8 (1183), taken with a rifle on 2025-11-08 and measured 73 days later by M-12.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from functools import cache
from typing import Any

import duckdb

from warehouse.book import events, migrations, standing

NOW = datetime(2026, 11, 25, 12, 0)
BOOK: dict[str, Any] = {
    "book": "State Book", "first_season": "2000-01", "last_season": None, "score": "net", "tie_rule": "shared",
    "weapons": [], "takes_found": True, "drying_days": 60, "certificates": [], "states": [], "districts": [],
    "areas": [], "measured_within_days": None, "received_within_days": None,
}  # fmt: skip
MINIMUM: dict[str, Any] = {
    "book": "State Book", "category": "whitetail-typical", "weapon_class": "any", "minimum_units": 1000,
    "first_season": "2000-01", "last_season": None, "antler_state": "any",
}  # fmt: skip
HEAD: dict[str, Any] = {
    "revision_no": 1, "made_at": NOW, "author": "tester", "reason": "first received", "status": "accepted",
    "category": "whitetail-typical", "unit": 8, "hunter": "Tarn Holtquarry", "area_written": "Abberlow",
    "area_code": "07001", "taken_on": "2025-11-08", "season": "2025-26", "weapon": "rifle", "measured_on": "2026-01-20",
    "measurer": "M-12", "abnormal_total": 0, "deductions": 46, "gross": 1183, "net": 1137,
}  # fmt: skip
AREAS = (("07001", "Abberlow", "North"), ("07003", "Brackwater", "South"), ("07005", "Corrow", "South"))


@cache
def _connection() -> duckdb.DuckDBPyConnection:
    connection = duckdb.connect(":memory:")
    migrations.apply_all(connection)
    for code, name, district in AREAS:
        connection.execute("INSERT INTO area VALUES (?, ?, 'county', 'ZZ', ?, 'High')", [code, name, district])
    return connection


@contextmanager
def book_of(*rows: tuple[str, Mapping[str, Any]]) -> Iterator[duckdb.DuckDBPyConnection]:
    """A book in memory with these rows (table, values); nothing of it stays."""
    connection = _connection()
    connection.execute("BEGIN")
    try:
        for table, values in rows:
            insert(connection, table, values)
        yield connection
    finally:
        connection.execute("ROLLBACK")


def insert(connection: duckdb.DuckDBPyConnection, table: str, values: Mapping[str, Any]) -> None:
    """Put one row into a table."""
    marks = ", ".join("?" for _ in values)
    connection.execute(f"INSERT INTO {table} ({', '.join(values)}) VALUES ({marks})", list(values.values()))


def head(connection: duckdb.DuckDBPyConnection, entry_id: int = 1, **changes: Any) -> None:
    """Put one head into the book: entry, row and revision have this ID."""
    connection.execute("INSERT INTO entry VALUES (?, ?)", [entry_id, str(entry_id)])
    connection.execute(
        "INSERT INTO received_row (row_id, file_id, row, cells, verdict, entry_id) VALUES (?, 1, ?, '', 'new', ?)",
        [entry_id, entry_id + 1, entry_id],
    )
    insert(
        connection,
        "entry_revision",
        {"revision_id": entry_id, "entry_id": entry_id, "row_id": entry_id, **HEAD, **changes},
    )


def decided(connection: duckdb.DuckDBPyConnection, kind: str, entry_id: int = 1, **more: Any) -> int:
    """Log a decision of Una Reed."""
    event = events.Event(
        kind, "Una Reed", more.pop("why", "high fence"), entry_id=entry_id, revision_id=entry_id, **more
    )
    return events.append(connection, event, NOW)


def standing_of(connection: duckdb.DuckDBPyConnection, entry_id: int = 1) -> dict[str, Any]:
    """The standing of one entry in the state book."""
    return standing.standing(connection, "State Book", entry_id).row(0, named=True)
