"""The chain of the log: every event as it was written, each behind the one before, none missing."""

import duckdb

from warehouse.book.events import FIRST_PREVIOUS, HASH
from warehouse.book.verify.check import Check, judged, many
from warehouse.book.verify.queries import number

# grain: one event that is not as it was written, or does not stand behind the one before it
_BROKEN = f"""
WITH linked AS (
    SELECT *, lag(event_no) OVER log AS number_before, lag(hash) OVER log AS hash_before
    FROM event WINDOW log AS (ORDER BY event_no)),
judged AS (
    SELECT event_no, kind, number_before,
           event_no <> coalesce(number_before, 0) + 1 AS is_gap,
           hash <> {HASH} AS is_altered,
           previous <> coalesce(hash_before, $first) AS is_unlinked
    FROM linked)
SELECT event_no, kind, number_before, is_gap, is_altered FROM judged
WHERE is_gap OR is_altered OR is_unlinked ORDER BY event_no LIMIT 1
"""


def check_chain(connection: duckdb.DuckDBPyConnection) -> Check:
    """Recompute the hash of every event, and follow the chain from the first to the last."""
    counted = number(connection, "SELECT count(*) FROM event")
    broken = connection.execute(_BROKEN, {"first": FIRST_PREVIOUS}).fetchall()
    fault = _words(*broken[0]) if broken else None
    fits = ", and it is as it was written" if counted == 1 else ", each as it was written and behind the one before"
    return judged("chain", counted, f"{many(counted, 'event')}{fits if counted else ''}", fault)


def _words(event: int, kind: str, before: int | None, is_gap: bool, is_altered: bool) -> str:
    """What is wrong with an event of the log; a missing one is the worst."""
    if is_gap:
        follows = "stands first" if before is None else f"follows event {before}"
        return f"event {(before or 0) + 1} is missing: event {event} ({kind}) {follows}"
    if is_altered:
        return f"event {event} ({kind}) is not as it was written: its hash is not that of its fields"
    behind = (
        "begins with something else than 64 zeros" if before is None else f"does not name the hash of event {before}"
    )
    return f"event {event} ({kind}) is not the one that was written here: it {behind}"
