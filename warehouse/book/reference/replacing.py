"""Reference tables put in place of the book's, whole and checked, each with an event of the log."""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import duckdb

from warehouse.book import contents, events
from warehouse.book.reference.default_books import with_default_books
from warehouse.book.reference.store import read_rows, rows_text, write_rows
from warehouse.book.reference.table_checks import table_problems
from warehouse.book.reference.tables import TABLES, Row, Rows, refuse
from warehouse.errors import ReferenceRefused


@dataclass(frozen=True)
class Told:
    """Who puts the tables in place, when and why."""

    by: str
    why: str
    now: datetime

    def check(self) -> None:
        """Raise ReferenceRefused where a name or a reason is missing."""
        for what, text in (("name", self.by), ("reason", self.why)):
            if not text.strip():
                raise ReferenceRefused(f"a change of reference tables needs a {what}; nothing was changed")


@dataclass(frozen=True)
class Change:
    """What becomes of one table: rows before and after, and how many were added, removed or changed.

    A changed row has the same key (`Table.key`) and other values. `by_default`: it was not given, but follows from
    the minimums.
    """

    table: str
    before: int
    after: int
    added: int
    removed: int
    changed: int
    by_default: bool

    @property
    def is_none(self) -> bool:
        """Whether the table stays as it is."""
        return not (self.added or self.removed or self.changed)


@dataclass(frozen=True)
class Plan:
    """The tables as they shall be, and what changes in each, in the order of `TABLES`."""

    rows: Rows
    changes: tuple[Change, ...]

    @property
    def changed(self) -> list[str]:
        """The tables that are written."""
        return [change.table for change in self.changes if not change.is_none]


def plan(connection: duckdb.DuckDBPyConnection, given: Rows) -> Plan:
    """Hold the given tables against each other and against those that stay. Raises ReferenceRefused; writes nothing."""
    book = {table: read_rows(connection, table) for table in TABLES}
    fresh = with_default_books(given, book)
    tables = {**book, **fresh}
    problems = table_problems(tables, fresh)
    if "area" in fresh:
        problems += _homeless(connection, book["area"], fresh["area"])
    refuse(problems)
    changes = [_change(table, book[table], fresh[table], table not in given) for table in TABLES if table in fresh]
    return Plan(fresh, tuple(changes))


def put(connection: duckdb.DuckDBPyConnection, given: Rows, told: Told) -> tuple[Change, ...]:
    """Replace tables in the caller's transaction and log each that changed. Raises ReferenceRefused before writing."""
    told.check()
    done = plan(connection, given)
    for table in done.changed:
        write_rows(connection, table, done.rows[table])
        _log(connection, table, told)
    return done.changes


def log_as_it_stands(connection: duckdb.DuckDBPyConnection, told: Told) -> None:
    """Log every reference table that has rows, in the caller's transaction: for a book that has no such events yet."""
    for table in TABLES:
        if read_rows(connection, table):
            _log(connection, table, told)


def _log(connection: duckdb.DuckDBPyConnection, table: str, told: Told) -> None:
    """Keep the table as it stands, and append the event of it."""
    number = events.head(connection)[0] + 1
    connection.execute(
        "INSERT INTO reference_version (event_no, table_name, rows_text) VALUES (?, ?, ?)",
        [number, table, rows_text(connection, table)],
    )
    content = contents.of_reference(connection, number)
    event = events.Event("reference", told.by.strip(), told.why.strip(), about=table, content=content)
    events.append(connection, event, told.now)


def _homeless(connection: duckdb.DuckDBPyConnection, before: Sequence[Row], after: Sequence[Row]) -> Iterator[str]:
    """Areas that are taken out although entries of the book lie in them."""
    gone = {row.values["area_code"] for row in before} - {row.values["area_code"] for row in after}
    query = "SELECT area_code, count(DISTINCT entry_id) FROM entry_revision WHERE list_contains(?, area_code) GROUP BY 1 ORDER BY 1"
    for code, entries in connection.execute(query, [sorted(gone)]).fetchall() if gone else ():
        lie = "1 entry of the book lies" if entries == 1 else f"{entries} entries of the book lie"
        yield (
            f"areas: no row for {code}, where {lie}; keep its row, and say in area_changes.csv which code took over from it"
        )


def _change(table: str, before: Sequence[Row], after: Sequence[Row], by_default: bool) -> Change:
    was, now = _counted(before), _counted(after)
    removed, added = was - now, now - was
    columns = TABLES[table].key
    changed = sum((_keys(removed, columns) & _keys(added, columns)).values())
    return Change(
        table, len(before), len(after), added.total() - changed, removed.total() - changed, changed, by_default
    )


Item = tuple[tuple[str, Any], ...]


def _counted(rows: Collection[Row]) -> Counter[Item]:
    return Counter(tuple(sorted((column, _hashable(value)) for column, value in row.values.items())) for row in rows)


def _hashable(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def _keys(items: Counter[Item], columns: Sequence[str]) -> Counter[tuple[Any, ...]]:
    keys: Counter[tuple[Any, ...]] = Counter()
    for item, count in items.items():
        values = dict(item)
        keys[tuple(values[column] for column in columns)] += count
    return keys
