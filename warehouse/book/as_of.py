"""The book as it was known at the end of a day: what had been received, corrected and decided by then, and no more.

The ledger and the log keep the time of everything, so an earlier state is the rows up to that time, seen through the
same views. It is put together in memory; the book's file is only read.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import duckdb

from warehouse.book import database, migrations
from warehouse.book.reference import TABLES
from warehouse.errors import NotInBook
from warehouse.plain_text import shown

# Of the ledger, each with what was known before $until. Reference tables are today's: a minimum, an effort or a
# certificate that was put right later was as true then, and only written down late.
_KNOWN = {
    "event": "FROM event WHERE happened_at < $until",
    "entry_revision": "FROM entry_revision WHERE made_at < $until",
    "entry": "FROM entry WHERE entry_id IN (SELECT entry_id FROM entry_revision WHERE made_at < $until)",
    "panel_measure": "FROM panel_measure WHERE measured_on < $until",  # a session is no rule: before it was held it told nothing
    "measurement": "FROM measurement WHERE revision_id IN (SELECT revision_id FROM entry_revision WHERE made_at < $until)",
}
_AS_TODAY = ("weapon", *(table for table in TABLES if table not in _KNOWN))


@contextmanager
def reading_as_of(
    path: Path, day: date | None, wait: float = database.WAIT_SECONDS
) -> Iterator[duckdb.DuckDBPyConnection]:
    """The book at `path` as it was known when `day` (UTC) ended; None: as it is now.

    Entries, revisions, measurements, decisions and reference tables can be asked for; received rows and findings of
    an earlier day are not put together. Raises NotInBook for a day before the book's first event, else as
    `database.reading` does.
    """
    with database.reading(path, wait) as connection:
        if day is None:
            yield connection
            return
        _check(connection, path, day)
        with database.in_memory() as known:
            _fill(connection, known, day)
            yield known


def _check(connection: duckdb.DuckDBPyConnection, path: Path, day: date) -> None:
    began = connection.execute("SELECT min(happened_at)::DATE FROM event").fetchall()[0][0]
    if began is None or day < began:
        since = "it has no event yet" if began is None else f"its first event is of {began}"
        raise NotInBook(f"{shown(str(path))}: cannot tell what was known on {day}, for {since}; expected a later day")


def _fill(book: duckdb.DuckDBPyConnection, known: duckdb.DuckDBPyConnection, day: date) -> None:
    migrations.apply_all(known)
    until = day + timedelta(days=1)
    for table, query in _KNOWN.items():
        _copy(table, book.sql(query, params={"until": until}), known)
    for table in _AS_TODAY:
        known.execute(f"DELETE FROM {table}")  # a fresh schema has its own weapons
        _copy(table, book.sql(f"FROM {table}"), known)


def _copy(table: str, rows: duckdb.DuckDBPyRelation, known: duckdb.DuckDBPyConnection) -> None:
    known.register("rows_known", rows.to_arrow_table())
    known.execute(f"INSERT INTO {table} BY NAME SELECT * FROM rows_known")
    known.unregister("rows_known")
