"""The ledger: one load written whole, and what a load must know of the book before it.

The caller audits outside the book and hands over typed frames with places from 0; here they become ids. Frames are
held to the tables' integer types before each insert, for DuckDB would round a float in silence.
"""

from dataclasses import dataclass, replace
from datetime import datetime

import duckdb
import polars as pl

from warehouse.book import contents, events
from warehouse.book.marks import MARKS
from warehouse.errors import InternalFault
from warehouse.scoring import TOTALS

_STATED = tuple(f"stated_{total}" for total in TOTALS)
RECEIVED_ROW = pl.Schema(
    {"file": pl.UInt32(), "row": pl.Int32(), "cells": pl.String(), "verdict": pl.String(), "entry": pl.Int64()}
)
REVISION = pl.Schema({
    "entry": pl.Int64(), "revision_no": pl.Int32(), "received": pl.UInt32(), "reason": pl.String(), "status": pl.String(),
    "category": pl.String(), "unit": pl.Int16(), "hunter": pl.String(), "tag_no": pl.String(), "area_written": pl.String(),
    "area_code": pl.String(), "taken_on": pl.Date(), "season": pl.String(), "weapon": pl.String(), "measured_on": pl.Date(),
    "measurer": pl.String(), "points_r": pl.Int16(), "points_l": pl.Int16(), "measure_key": pl.UInt64(),
    "entry_no": pl.String(), "score_certain": pl.Boolean(), "antler_state": pl.String(), "age_half_years": pl.Int16(),
    **dict.fromkeys((*TOTALS, *_STATED), pl.Int32()),
})  # fmt: skip
MEASUREMENT = pl.Schema({
    "revision": pl.UInt32(), "line": pl.String(), "right_units": pl.Int32(), "left_units": pl.Int32(),
    "single_units": pl.Int32(), "stated_difference": pl.Int32(),
})  # fmt: skip
FINDING = pl.Schema({
    "file": pl.UInt32(), "received": pl.UInt32(), "revision": pl.UInt32(), "code": pl.String(), "severity": pl.String(),
    "cells": pl.List(pl.String()), "stated": pl.String(), "expected": pl.String(), "message": pl.String(),
})  # fmt: skip
EXPLANATION = pl.Schema({
    "revision": pl.UInt32(), "place": pl.Int16(), "tie": pl.Boolean(), "kind": pl.String(), "cells": pl.List(pl.String()),
    "stated": pl.List(pl.Int32()), "proposed": pl.List(pl.Int32()), "follows": pl.List(pl.String()),
    "follows_proposed": pl.List(pl.Int32()), "net": pl.Int32(), "why": pl.String(),
})  # fmt: skip


@dataclass(frozen=True)
class ReceivedFile:
    """One table of the load: a file, or one sheet of a workbook."""

    name: str
    sheet: str | None
    sha256: str
    headings: tuple[str, ...]
    fields: tuple[str, ...]
    row_count: int


@dataclass(frozen=True)
class Batch:
    """Everything one load adds. References between frames are places (0 ...) within the batch.

    `received` (RECEIVED_ROW): `file` is a place in `files`; `entry` an entry_id of the book, or -1 - n for the n-th
    of `new_entries`. `revisions` (REVISION): `received` is a place in `received`. `measurements` are several frames
    (MEASUREMENT), `revision` a place in `revisions`. `findings` (FINDING) may have no row or no revision;
    `explanations` (EXPLANATION) have a revision.
    """

    files: tuple[ReceivedFile, ...]
    received: pl.DataFrame
    new_entries: pl.Series
    revisions: pl.DataFrame
    measurements: tuple[pl.DataFrame, ...]
    findings: pl.DataFrame
    explanations: pl.DataFrame


def newest(connection: duckdb.DuckDBPyConnection) -> tuple[int, int, int]:
    """The id of the newest load, of the newest revision, and of the newest change of a reference table; 0 for none.

    Whoever prepared a load checks that they are still the newest.
    """
    query = (
        "SELECT (SELECT coalesce(max(load_id), 0) FROM load), (SELECT coalesce(max(revision_id), 0) FROM entry_revision), "
        "(SELECT coalesce(max(event_no), 0) FROM event WHERE kind = 'reference')"
    )
    load, revision, reference = connection.execute(query).fetchall()[0]
    return int(load), int(revision), int(reference)


def known_files(connection: duckdb.DuckDBPyConnection) -> dict[tuple[str, str | None, tuple[str, ...]], str]:
    """(sha256, sheet, fields) of each table received -> when and by whom, in words."""
    rows = connection.execute(
        "SELECT sha256, sheet, fields, name, loaded_at, loaded_by FROM received_file JOIN load USING (load_id) ORDER BY file_id"
    ).fetchall()
    return {
        (sha, sheet, tuple(fields)): f"as {name} on {day:%Y-%m-%d} by {author}"
        for sha, sheet, fields, name, day, author in rows
    }


def current_heads(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """Every entry's current state, as far as a later row must be held against it."""
    query = (
        "SELECT entry_id, entry_no, hunter, taken_on, area_written, measure_key, revision_no, row_id, net "
        "FROM current_entry ORDER BY entry_id"
    )
    heads: pl.DataFrame = connection.sql(query).pl()
    return heads


def heads_as_received(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """The entries that a person has corrected, as their row was received: its sender may send it again as it was.

    `corrected` names the fields, as "g2_r, gross".
    """
    query = (
        "WITH states AS (SELECT * FROM entry_revision WHERE entry_id IN "
        "(SELECT entry_id FROM entry_revision SEMI JOIN corrected_cell USING (revision_id))), "
        "now AS (SELECT entry_id, max(revision_no) AS revision_no, arg_max(row_id, revision_no) AS row_id FROM states GROUP BY 1) "
        "SELECT now.entry_id, e.entry_no, s.hunter, s.taken_on, s.area_written, s.measure_key, now.revision_no, now.row_id, "
        "(SELECT string_agg(DISTINCT k.field, ', ' ORDER BY k.field) FROM corrected_cell k JOIN entry_revision r "
        "USING (revision_id) WHERE r.entry_id = now.entry_id AND r.row_id = now.row_id) AS corrected "
        "FROM now JOIN states s USING (entry_id, row_id) JOIN entry e USING (entry_id) "
        "WHERE s.revision_no < now.revision_no AND s.revision_id NOT IN (SELECT revision_id FROM corrected_cell) ORDER BY 1"
    )
    heads: pl.DataFrame = connection.sql(query).pl()
    return heads


def rows_as_received(connection: duckdb.DuckDBPyConnection, row_ids: pl.Series) -> pl.DataFrame:
    """`row_id`, `cells` and the `fields` of their file, for the rows asked for."""
    wanted = row_ids.to_frame("row_id")
    connection.register("wanted_rows", wanted)
    found: pl.DataFrame = connection.sql(
        "SELECT r.row_id, r.cells, f.fields FROM received_row r JOIN received_file f USING (file_id) "
        "JOIN wanted_rows USING (row_id) ORDER BY r.row_id"
    ).pl()
    connection.unregister("wanted_rows")
    return found


def write(connection: duckdb.DuckDBPyConnection, batch: Batch, by: str, program: str, now: datetime) -> int:
    """Write a load inside the caller's transaction; returns its load_id.

    Raises InternalFault where a frame is not of the table's types, before anything is inserted.
    """
    _hold_batch(batch)
    load = newest(connection)[0] + 1
    file, row, entry, revision = (_next(connection, table, key) for table, key in _KEYS)
    connection.execute("INSERT INTO load VALUES (?, ?, ?, ?)", [load, now, by, program])
    for place, received in enumerate(batch.files):
        connection.execute(
            "INSERT INTO received_file VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            [file + place, load, received.name, received.sheet, received.sha256,
             list(received.headings), list(received.fields), received.row_count],
        )  # fmt: skip
    _insert_rows(connection, batch, file, row, entry)
    _insert_revisions(connection, batch, row, entry, revision, by, now)
    _insert_findings(connection, batch, file, row, revision)
    _insert_explanations(connection, batch, revision)
    events.append(connection, load_event(connection, load, by), now)
    return load


def load_event(connection: duckdb.DuckDBPyConnection, load: int, by: str) -> events.Event:
    """The event of a load that the book holds."""
    files, rows = connection.execute(
        "SELECT count(*), coalesce(sum(row_count), 0) FROM received_file WHERE load_id = ?", [load]
    ).fetchall()[0]
    reason = f"{files} table{'' if files == 1 else 's'} received, {rows} row{'' if rows == 1 else 's'}"
    return events.Event("load", by, reason, load_id=load, content=contents.of_load(connection, load))


def write_revision(
    connection: duckdb.DuckDBPyConnection, batch: Batch, file: int, row: int, by: str, now: datetime
) -> int:
    """Write the one revision of `batch`, of a row and an entry that the book holds already; returns its revision_id.

    What was found of the file as a whole is not told again.
    """
    _hold_batch(batch)
    revision = _next(connection, "entry_revision", "revision_id")
    _insert_revisions(connection, batch, row, 0, revision, by, now)
    _insert_findings(connection, replace(batch, findings=batch.findings.drop_nulls("received")), file, row, revision)
    _insert_explanations(connection, batch, revision)
    return revision


_KEYS = (
    ("received_file", "file_id"),
    ("received_row", "row_id"),
    ("entry", "entry_id"),
    ("entry_revision", "revision_id"),
)


def _next(connection: duckdb.DuckDBPyConnection, table: str, key: str) -> int:
    return int(connection.execute(f"SELECT coalesce(max({key}), 0) + 1 FROM {table}").fetchall()[0][0])


def _hold_batch(batch: Batch) -> None:
    held = [(batch.received, RECEIVED_ROW), (batch.revisions, REVISION), (batch.findings, FINDING)]
    held += [(batch.explanations, EXPLANATION), *((part, MEASUREMENT) for part in batch.measurements)]
    for frame, schema in held:
        _hold_to(schema, frame)


def _hold_to(schema: pl.Schema, frame: pl.DataFrame) -> None:
    if frame.schema != schema:
        raise InternalFault(f"a frame for the ledger has the columns {frame.schema}; expected {schema}")


def _numbered(height: int, first: int) -> pl.Series:
    return pl.int_range(first, first + height, dtype=pl.Int64, eager=True)


def _entry_ids(column: pl.Expr, first: int) -> pl.Expr:
    """New entries come as -1, -2 ...: the n-th gets the n-th id from `first`."""
    return pl.when(column < 0).then(first - 1 - column).otherwise(column)


def insert(connection: duckdb.DuckDBPyConnection, table: str, frame: pl.DataFrame) -> None:
    """Insert a frame by the names of its columns, with the mark of each row where the table keeps one."""
    mark = f", {MARKS[table]} AS mark" if table in MARKS else ""
    connection.register("incoming", frame)
    connection.execute(f"INSERT INTO {table} BY NAME SELECT *{mark} FROM incoming")
    connection.unregister("incoming")


def _insert_rows(connection: duckdb.DuckDBPyConnection, batch: Batch, file: int, row: int, entry: int) -> None:
    new = batch.new_entries
    insert(connection, "entry", pl.DataFrame({"entry_id": _numbered(len(new), entry), "entry_no": new}))
    received = batch.received.select(
        _numbered(batch.received.height, row).alias("row_id"),
        (pl.col("file").cast(pl.Int32) + file).alias("file_id"),
        "row", "cells", "verdict",
        _entry_ids(pl.col("entry"), entry).alias("entry_id"),
    )  # fmt: skip
    insert(connection, "received_row", received)


def _insert_revisions(
    connection: duckdb.DuckDBPyConnection, batch: Batch, row: int, entry: int, revision: int, by: str, now: datetime
) -> None:
    frame = batch.revisions.select(
        _numbered(batch.revisions.height, revision).alias("revision_id"),
        _entry_ids(pl.col("entry"), entry).alias("entry_id"),
        (pl.col("received").cast(pl.Int64) + row).alias("row_id"),
        pl.lit(now).alias("made_at"),
        pl.lit(by).alias("author"),
        pl.exclude("entry", "received"),
    )
    insert(connection, "entry_revision", frame)
    for part in batch.measurements:
        keyed = part.select((pl.col("revision").cast(pl.Int64) + revision).alias("revision_id"), pl.exclude("revision"))
        insert(connection, "measurement", keyed)


def _insert_findings(connection: duckdb.DuckDBPyConnection, batch: Batch, file: int, row: int, revision: int) -> None:
    frame = batch.findings.select(
        (pl.col("file").cast(pl.Int32) + file).alias("file_id"),
        (pl.col("received").cast(pl.Int64) + row).alias("row_id"),
        (pl.col("revision").cast(pl.Int64) + revision).alias("revision_id"),
        pl.exclude("file", "received", "revision"),
    )
    insert(connection, "finding", frame)


def _insert_explanations(connection: duckdb.DuckDBPyConnection, batch: Batch, revision: int) -> None:
    frame = batch.explanations.select(
        (pl.col("revision").cast(pl.Int64) + revision).alias("revision_id"), pl.exclude("revision")
    )
    insert(connection, "explanation", frame)
