"""What the events wrote into other tables: is it there, as it was written?"""

import duckdb
import polars as pl

from warehouse.book import contents
from warehouse.book.verify.check import Check, judged, many
from warehouse.book.verify.queries import frame

KINDS = ("load", "correction", "edition", "reference")


def check_contents(connection: duckdb.DuckDBPyConnection) -> Check:
    """Recompute the content of every event that wrote something, and name the first that is another."""
    events = frame(connection, "written")
    parts = [contents.of_all(connection, kind).with_columns(wrote=pl.lit(kind)) for kind in KINDS]
    found = events.join(pl.concat(parts), on=["wrote", "key"], how="left").sort("event_no")
    altered = found.filter(pl.col("content").ne_missing(pl.col("written"))).head(1)
    fault = None
    for event, kind, what in altered.select("event_no", "kind", "what").rows():
        fault = f"event {event} ({kind}): what it wrote is not as it was written ({what})"
    sound = f"what {many(events.height, 'event')} wrote into other tables is as it was written"
    return judged("contents", events.height, sound, fault)
