"""What the next edition would tell as changed: the lists as they stand against those of the newest edition."""

import duckdb
import polars as pl

from warehouse.book.editions import changes, lists


def changes_since_newest(connection: duckdb.DuckDBPyConnection) -> tuple[str | None, pl.DataFrame]:
    """The newest edition's name and the changes (`changes.CHANGE`); None and no rows where nothing was published yet."""
    newest = connection.execute("SELECT edition, edition_no FROM edition ORDER BY edition_no DESC LIMIT 1").fetchall()
    if not newest:
        return None, pl.DataFrame(schema=changes.CHANGE)
    name, number = newest[0]
    return str(name), changes.since_edition_before(connection, number + 1, lists.ranked_lists(connection))
