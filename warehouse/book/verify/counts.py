"""The counts: is everything there that belongs together, and does the log tell of all of it?"""

import duckdb

from warehouse.book.balance import balance
from warehouse.book.verify.check import Check, judged, many
from warehouse.book.verify.queries import frame, number

_COUNTED = {
    "received_file": "file", "received_row": "row", "entry": "entry", "entry_revision": "revision", "event": "event",
}  # fmt: skip


def check_counts(connection: duckdb.DuckDBPyConnection) -> Check:
    """Every row, entry, revision, finding and event has what it belongs to, and the log tells of every load and correction."""
    counts = {table: number(connection, f"SELECT count(*) FROM {table}") for table in _COUNTED}
    words = ", ".join(many(count, _COUNTED[table]) for table, count in counts.items())
    fault = _first(connection, "counts_ledger") or _first(connection, "counts_log")
    return judged("counts", sum(counts.values()), f"{words}; each has what it belongs to", fault)


def check_balance(connection: duckdb.DuckDBPyConnection) -> Check:
    """Rows received are those accepted, held, refused, withdrawn, sent again and merged."""
    found = balance(connection)
    parts = " + ".join(f"{count:,} {words}" for words, count in found.parts.items())
    came = f"{many(found.received, 'row')} received"
    fault = None if found.holds else f"{came}, but {parts}; the check of counts says which is too much or missing"
    return judged("balance", found.received, f"{came} = {parts}", fault)


def check_statuses(connection: duckdb.DuckDBPyConnection) -> Check:
    """A revision is held exactly where something found of it holds it, and each row's verdict says so."""
    counted = number(connection, "SELECT count(*) FROM entry_revision")
    sound = f"{many(counted, 'revision')}; held where something that was found asks for a person, and only there"
    return judged("statuses", counted, sound, _first(connection, "statuses"))


def _first(connection: duckdb.DuckDBPyConnection, query: str) -> str | None:
    found = frame(connection, query)["message"]
    return str(found[0]) if len(found) else None
