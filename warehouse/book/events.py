"""The log of everything that was done to the book: one event after the other, each chained to the one before.

An event's hash is the SHA-256 of its fields, written as netstrings ("5:hello," with the length in bytes; "-," for
none) in the order of `FIELDS`, the last of which is the hash of the event before. Events are only ever added: what
was wrong is undone by another event.
"""

from dataclasses import dataclass
from datetime import datetime

import duckdb

FIELDS = (
    "event_no", "happened_at", "author", "kind", "reason", "load_id", "entry_id", "revision_id", "other_entry_id",
    "undoes", "gross", "net", "about", "content", "previous",
)  # fmt: skip
FIRST_PREVIOUS = "0" * 64


def _netstring(column: str) -> str:
    text = f"strftime({column}, '%Y-%m-%dT%H:%M:%S.%f')" if column == "happened_at" else f"{column}::VARCHAR"
    return f"coalesce(strlen({text})::VARCHAR || ':' || {text}, '-') || ','"


HASH = f"sha256({' || '.join(map(_netstring, FIELDS))})"
"""The SQL expression of an event's hash, over the columns of its row."""


@dataclass(frozen=True)
class Event:
    """One event to append; fields as in the table `event`."""

    kind: str
    author: str
    reason: str
    load_id: int | None = None
    entry_id: int | None = None
    revision_id: int | None = None
    other_entry_id: int | None = None
    undoes: int | None = None
    gross: int | None = None
    net: int | None = None
    about: str | None = None
    content: str | None = None


def append(connection: duckdb.DuckDBPyConnection, event: Event, now: datetime) -> int:
    """Write the event behind the newest one, in the caller's transaction; returns its number."""
    row = connection.execute(
        f"""
        INSERT INTO event
        WITH before AS (SELECT coalesce(max(event_no), 0) + 1 AS event_no, coalesce(max_by(hash, event_no), $first) AS previous FROM event),
        fresh AS (SELECT event_no, $now::TIMESTAMP AS happened_at, $author AS author, $kind AS kind, $reason AS reason,
                         $load_id::INTEGER AS load_id, $entry_id::BIGINT AS entry_id, $revision_id::BIGINT AS revision_id,
                         $other_entry_id::BIGINT AS other_entry_id, $undoes::BIGINT AS undoes, $gross::INTEGER AS gross,
                         $net::INTEGER AS net, $about::VARCHAR AS about, $content::VARCHAR AS content, previous FROM before)
        SELECT *, {HASH} FROM fresh RETURNING event_no
        """,
        {**vars(event), "now": now, "first": FIRST_PREVIOUS},
    ).fetchall()
    return int(row[0][0])


def head(connection: duckdb.DuckDBPyConnection) -> tuple[int, str]:
    """The number and the hash of the newest event; 0 and 64 zeros for an empty log."""
    number, newest = connection.execute(
        "SELECT coalesce(max(event_no), 0), coalesce(max_by(hash, event_no), ?) FROM event", [FIRST_PREVIOUS]
    ).fetchall()[0]
    return int(number), str(newest)
