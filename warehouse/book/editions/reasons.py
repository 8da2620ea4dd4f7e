"""Why an entry is no longer what an edition printed: the newest thing done to it since, by the log.

A reason that a person gave is quoted. What a load says of a row that came again is not: it names fields that are
never published, such as the tag number.
"""

import duckdb
import polars as pl

from warehouse.book.named_query import frame


def publishing_event(connection: duckdb.DuckDBPyConnection, edition_no: int) -> int:
    """The number of the event that published an edition; 0 where the log tells of none."""
    found = connection.execute(
        "SELECT coalesce(max(event_no), 0) FROM event WHERE kind = 'publish' AND about = "
        "(SELECT edition FROM edition WHERE edition_no = ?)",
        [edition_no],
    ).fetchall()
    return int(found[0][0])


def entry_states(connection: duckdb.DuckDBPyConnection, entries: pl.Series, since: int) -> pl.DataFrame:
    """Columns of entry_states.sql for the entries of these ids: what they are now, and what was done behind `since`."""
    return frame(connection, "entry_states", {"entries": entries.unique().sort().to_list(), "since": since}, "editions")


def sentence(reason: pl.Expr) -> pl.Expr:
    """The reason with an end to its sentence."""
    return reason.str.strip_chars().str.replace(r"([^.!?…])$", "${1}.")


_DONE_WHY = pl.col("done_why")
REASON: pl.Expr = (
    pl.when(pl.col("done") == "load")
    .then(pl.format("its row was received again, changed, on {}", "done_on"))
    .when(pl.col("done") == "panel-result")
    .then(pl.format("a panel measured the head: {}", _DONE_WHY))
    .when(pl.col("done") == "undo")
    .then(pl.format("what was done before was taken back: {}", _DONE_WHY))
    .when(_DONE_WHY.is_not_null())
    .then(_DONE_WHY)
    .when(pl.col("table_changed").is_not_null())
    .then(pl.format("the reference table {} was changed: {}", "table_changed", "table_why"))
    .otherwise(pl.lit("the log tells of nothing done to this entry; its rules or this program changed"))
)
"""The newest thing done to an entry since the edition before, without the end of its sentence."""
