"""Freeze the accepted state of the book as an edition: its lists, the rules they rest on, what changed since the last."""

from datetime import datetime

import duckdb
import polars as pl

from warehouse.book import contents, events, ledger
from warehouse.book.editions import changes, lists
from warehouse.book.editions.frozen import edition_number
from warehouse.book.editions.names import checked_name, checked_text
from warehouse.errors import EditionRefused


def freeze(connection: duckdb.DuckDBPyConnection, name: str, by: str, why: str, now: datetime) -> int:
    """Freeze what the book holds as the edition `name`, in the caller's transaction; returns its number.

    `by` and `why` are kept in the log; `now` is in UTC. Raises EditionRefused for a name that is none or is taken, and
    where no accepted entry qualifies for any record book.
    """
    name, by, why = checked_name(name), checked_text("name of who publishes it", by), checked_text("reason", why)
    _check_new(connection, name)
    lines = lists.ranked_lists(connection)
    if not lines.height:
        raise EditionRefused(
            f"edition '{name}': no accepted entry qualifies for any record book, so there is nothing to print; "
            "`beamledger standing` says why of each entry; nothing was published"
        )
    number = _write_edition(connection, name, by, now, lists.newest_season(lines))
    changed = changes.since_edition_before(connection, number, lines)
    for table, frame in (
        ("edition_line", lines), ("edition_minimum", lists.minimums(connection)), ("edition_change", changed),
    ):  # fmt: skip
        ledger.insert(connection, table, frame.with_columns(edition_no=pl.lit(number, pl.Int32)))
    content = contents.of_edition(connection, number)
    events.append(connection, events.Event("publish", by, why, about=name, content=content), now)
    return number


def _check_new(connection: duckdb.DuckDBPyConnection, name: str) -> None:
    if edition_number(connection, name) is not None:
        raise EditionRefused(
            f"edition '{name}': was published before, and an edition is frozen only once; publish the changes under "
            "another name; nothing was published"
        )


def _write_edition(connection: duckdb.DuckDBPyConnection, name: str, by: str, now: datetime, season: str) -> int:
    row = connection.execute(
        "INSERT INTO edition "
        "SELECT (SELECT coalesce(max(edition_no), 0) + 1 FROM edition), $name, $day, $author, $season, "
        "(SELECT count(*) FROM current_entry WHERE status = 'accepted'), $head RETURNING edition_no",
        {"name": name, "day": now.date(), "author": by, "season": season, "head": events.head(connection)[1]},
    ).fetchall()
    return int(row[0][0])
