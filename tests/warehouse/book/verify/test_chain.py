"""Every event of the log, edited, taken out, put in or moved by hand: it is found, and the event is named."""

import hashlib
from typing import Any

import duckdb
import pytest

from tests.logged_book import KINDS, NOW
from tests.warehouse.book.verify.faults import fault
from warehouse.book import events
from warehouse.book.verify.chain import check_chain

LAST = len(KINDS)
COLUMNS = (*events.FIELDS, "hash")
ALTERED = "is not as it was written: its hash is not that of its fields"


def fault_of_chain(connection: duckdb.DuckDBPyConnection) -> str | None:
    return fault(connection, check_chain)


def netstring(text: str | None) -> bytes:
    """D. J. Bernstein's netstring of 1997 (from memory): the length in bytes, a colon, the bytes, a comma; "-," for none."""
    data = b"" if text is None else text.encode()
    return b"-," if text is None else f"{len(data)}:".encode() + data + b","


def by_hand(row: dict[str, Any]) -> str:
    """SHA-256 (FIPS 180-4, of hashlib) of an event's fields, as `warehouse.book.events` describes them."""
    order = (
        "event_no", "happened_at", "author", "kind", "reason", "load_id", "entry_id", "revision_id", "other_entry_id",
        "undoes", "gross", "net", "about", "content", "previous",
    )  # fmt: skip
    texts = {name: None if value is None else str(value) for name, value in row.items()}
    texts["happened_at"] = row["happened_at"].isoformat(timespec="microseconds")
    return hashlib.sha256(b"".join(netstring(texts[name]) for name in order)).hexdigest()


def rows_of(connection: duckdb.DuckDBPyConnection) -> list[dict[str, Any]]:
    rows = connection.execute(f"SELECT {', '.join(COLUMNS)} FROM event ORDER BY event_no").fetchall()
    return [dict(zip(COLUMNS, row, strict=True)) for row in rows]


def test_the_chain_is_that_of_the_documented_form(ledger: duckdb.DuckDBPyConnection) -> None:
    ledger.execute("UPDATE event SET author = 'Zoë Śliwa 🦌' WHERE event_no = 9")  # bytes are counted, not letters
    ledger.execute(f"UPDATE event SET hash = {events.HASH} WHERE event_no = 9")
    previous = "0" * 64
    for number, row in enumerate(rows_of(ledger), start=1):
        assert (row["event_no"], row["hash"]) == (number, by_hand(row))
        assert (row["previous"] == previous) is (number != 10)
        previous = row["hash"]
    assert netstring("hello") == b"5:hello,"


OTHER_VALUES = {
    "happened_at": "happened_at + INTERVAL 1 MICROSECOND", "author": "author || ' '", "reason": "upper(reason) || '.'",
    "kind": "CASE kind WHEN 'hold' THEN 'refuse' ELSE 'hold' END", "about": "coalesce(about || 's', '')",
    "content": "coalesce(reverse(content), '')", "previous": "reverse(previous || 'x')[:64]", "hash": "'1' || left(hash, 63)",
    **{name: f"coalesce({name} + 1, 0)" for name in
       ("load_id", "entry_id", "revision_id", "other_entry_id", "undoes", "gross", "net")},
}  # fmt: skip


@pytest.mark.parametrize("field", OTHER_VALUES)
def test_an_edit_of_any_field_of_any_event_is_found(in_memory: duckdb.DuckDBPyConnection, field: str) -> None:
    assert OTHER_VALUES.keys() == set(COLUMNS) - {"event_no"}
    for number in range(1, LAST + 1):
        in_memory.execute("BEGIN")
        in_memory.execute(f"UPDATE event SET {field} = {OTHER_VALUES[field]} WHERE event_no = {number}")
        kind = in_memory.execute(f"SELECT kind FROM event WHERE event_no = {number}").fetchall()[0][0]
        assert fault_of_chain(in_memory) == f"event {number} ({kind}) {ALTERED}"
        in_memory.execute("ROLLBACK")


def test_an_event_that_is_renumbered_or_taken_out_is_found(in_memory: duckdb.DuckDBPyConnection) -> None:
    for number in range(1, LAST + 1):
        before = f"follows event {number - 1}" if number > 1 else "stands first"
        moved = f"event {1000 + number} ({KINDS[number - 1]})"
        after = f"event {number + 1} ({KINDS[number]})" if number < LAST else moved
        for sql in ("DELETE FROM event", f"UPDATE event SET event_no = {1000 + number}"):
            in_memory.execute("BEGIN")
            in_memory.execute(f"{sql} WHERE event_no = {number}")
            is_cut = number == LAST and sql.startswith("DELETE")
            assert fault_of_chain(in_memory) == (None if is_cut else f"event {number} is missing: {after} {before}")
            in_memory.execute("ROLLBACK")


def test_two_events_that_change_places_are_found(in_memory: duckdb.DuckDBPyConnection) -> None:
    others = ", ".join(f"{column} = o.{column}" for column in COLUMNS if column != "event_no")
    pairs = [(first, first + apart) for apart in (1, 2, 11) for first in range(1, LAST + 1 - apart)]
    for first, second in pairs:
        in_memory.execute("BEGIN")
        in_memory.execute(
            f"UPDATE event e SET {others} FROM event o "
            f"WHERE e.event_no IN ({first}, {second}) AND o.event_no = {first + second} - e.event_no"
        )
        assert fault_of_chain(in_memory) == f"event {first} ({KINDS[second - 1]}) {ALTERED}"
        in_memory.execute("ROLLBACK")


def forge(connection: duckdb.DuckDBPyConnection, number: int) -> None:
    """Put an event that fits the one before into the log after event `number`, and move the later ones up."""
    connection.execute(f"CREATE TEMP TABLE later AS SELECT * FROM event WHERE event_no > {number}")
    connection.execute(f"DELETE FROM event WHERE event_no > {number}")
    forged = events.Event("refuse", "Una Reed", "never decided", entry_id=1, revision_id=1)
    events.append(connection, forged, NOW)
    connection.execute("INSERT INTO event SELECT * REPLACE (event_no + 1 AS event_no) FROM later")


def test_an_event_put_in_between_is_found(in_memory: duckdb.DuckDBPyConnection) -> None:
    for number in range(LAST):
        in_memory.execute("BEGIN")
        forge(in_memory, number)
        # the forged one fits the one before; the next has another number than the one that it was written with
        assert fault_of_chain(in_memory) == f"event {number + 2} ({KINDS[number]}) {ALTERED}"
        in_memory.execute("ROLLBACK")


def test_an_event_that_was_written_anew_is_not_the_one_that_the_next_names(
    in_memory: duckdb.DuckDBPyConnection,
) -> None:
    for number in range(1, LAST):
        in_memory.execute("BEGIN")
        in_memory.execute(f"UPDATE event SET reason = 'another one' WHERE event_no = {number}")
        in_memory.execute(f"UPDATE event SET hash = {events.HASH} WHERE event_no = {number}")
        assert fault_of_chain(in_memory) == (
            f"event {number + 1} ({KINDS[number]}) is not the one that was written here: it does not name the hash of event {number}"
        )
        in_memory.execute("ROLLBACK")


def test_a_log_that_does_not_begin_with_zeros_is_found(ledger: duckdb.DuckDBPyConnection) -> None:
    ledger.execute("UPDATE event SET previous = repeat('1', 64) WHERE event_no = 1")
    ledger.execute(f"UPDATE event SET hash = {events.HASH} WHERE event_no = 1")
    assert fault_of_chain(ledger) == (
        "event 1 (reference) is not the one that was written here: it begins with something else than 64 zeros"
    )
