"""The reference tables: as they were last put in place, by the log?"""

import json
from collections import Counter
from collections.abc import Iterable
from itertools import chain

import duckdb

from warehouse.book.reference import TABLES, rows_text
from warehouse.book.verify.check import Check, judged, many

# grain: one reference table that an event has put in place, as the newest did
_NEWEST = "SELECT table_name, max(event_no), max_by(rows_text, event_no) FROM reference_version GROUP BY table_name ORDER BY 2, 1"
LONGEST_ROW = 200


def check_reference(connection: duckdb.DuckDBPyConnection) -> Check:
    """Hold each table against what the newest event put in its place; a table that no event put in place has no rows."""
    newest = connection.execute(_NEWEST).fetchall()
    put = {table for table, _, _ in newest}
    unlogged = (
        f"table {table} has rows, and no event put them in place"
        for table in TABLES
        if table not in put and rows_text(connection, table) != "[]"
    )
    differing = (
        f"table {table} is not as event {event} put it in place: {difference}"
        for table, event, text in newest
        if (difference := _difference(connection, table, text)) is not None
    )
    sound = f"{many(len(newest), 'table')} put in place, and as the newest event left {'it' if len(newest) == 1 else 'them'}"
    return judged("reference", len(newest), sound, next(chain(differing, unlogged), None))


def _difference(connection: duckdb.DuckDBPyConnection, table: str, text: str) -> str | None:
    """The first row that was put in place and is not there, or is there and was not put in place."""
    if table not in TABLES:
        return "there is no such table"
    if (now := rows_text(connection, table)) == text:
        return None
    try:
        put, there = _rows(json.loads(text)), _rows(json.loads(now))
    except ValueError:
        return "what the log keeps of it cannot be read"
    for words, rows in (("this row is missing", put - there), ("this row is too much", there - put)):
        for row in sorted(rows):
            return f"{words}: {row[:LONGEST_ROW]}"
    return "its rows are in another order"


def _rows(parsed: Iterable[object]) -> Counter[str]:
    return Counter(json.dumps(row, ensure_ascii=False) for row in parsed)
