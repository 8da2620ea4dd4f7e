"""What an event wrote into other tables, as one SHA-256: the log holds it, so that a later edit there shows.

Rows of the ledger stand for themselves by their marks (`marks.py`), in the order of their ids; everything else by its
text, in the order of those texts. Columns are named, so that one that a later schema adds does not change what was
written before. Measures are not among it: they follow from the row as received (`loaders.recompute`).
"""

from collections.abc import Mapping

import duckdb
import polars as pl

_COLUMNS = {
    "load": ("load_id", "loaded_at", "loaded_by", "program"),
    "received_file": ("file_id", "load_id", "name", "sheet", "sha256", "headings", "fields", "row_count"),
    "finding": ("file_id", "row_id", "revision_id", "code", "severity", "cells", "stated", "expected", "message"),
    "explanation": (
        "revision_id", "place", "tie", "kind", "cells", "stated", "proposed", "follows", "follows_proposed", "net", "why",
    ),
    "corrected_cell": ("revision_id", "field", "stated_text", "corrected_text"),
    "edition": ("edition_no", "edition", "published_on", "published_by", "season", "entries", "head"),
    "edition_line": (
        "edition_no", "book", "category", "span", "place", "tied", "entry_id", "entry_no", "hunter", "area", "district",
        "season", "weapon", "antler_state", "unit", "gross", "net",
    ),
    "edition_minimum": (
        "edition_no", "book", "category", "weapon_class", "antler_state", "unit", "minimum_units", "score", "tie_rule",
        "rules", "first_season", "last_season",
    ),
    "edition_change": (
        "edition_no", "book", "category", "kind", "entry_id", "entry_no", "hunter", "place_was", "place_is", "what",
    ),
}  # fmt: skip


def _text(table: str) -> str:
    return f"json_array({', '.join(f'x.{column}' for column in _COLUMNS[table])})::VARCHAR"


# Each part: SQL for `key` (whose it is), `text` and `place` (the order in which the texts count).
# What a load wrote: not the revisions, findings and explanations of later corrections, which share its rows.
_LOADED = "revision_id NOT IN (SELECT revision_id FROM corrected_cell)"
_LOAD = (
    f"SELECT load_id AS key, {_text('load')} AS text, load_id AS place FROM load x",
    f"SELECT load_id AS key, {_text('received_file')} AS text, file_id AS place FROM received_file x",
    "SELECT f.load_id AS key, r.mark::VARCHAR AS text, r.row_id AS place FROM received_row r JOIN received_file f USING (file_id)",
    "SELECT f.load_id AS key, v.mark::VARCHAR AS text, v.revision_id AS place FROM entry_revision v "
    f"JOIN received_row USING (row_id) JOIN received_file f USING (file_id) WHERE v.{_LOADED}",
    f"SELECT f.load_id AS key, {_text('finding')} AS text, text AS place FROM finding x "
    f"JOIN received_file f USING (file_id) WHERE x.revision_id IS NULL OR x.{_LOADED}",
    f"SELECT f.load_id AS key, {_text('explanation')} AS text, text AS place FROM explanation x "
    "JOIN entry_revision v USING (revision_id) JOIN received_row USING (row_id) JOIN received_file f USING (file_id) "
    f"WHERE x.{_LOADED}",
)
_CORRECTION = (
    "SELECT revision_id AS key, mark::VARCHAR AS text, 0 AS place FROM entry_revision SEMI JOIN corrected_cell USING (revision_id)",
    *(
        f"SELECT revision_id AS key, {_text(table)} AS text, text AS place FROM {table} x "
        "SEMI JOIN corrected_cell USING (revision_id)"
        for table in ("corrected_cell", "finding", "explanation")
    ),
)
_EDITION = tuple(
    f"SELECT edition_no AS key, {_text(table)} AS text, text AS place FROM {table} x"
    for table in ("edition", "edition_line", "edition_minimum", "edition_change")
)
_REFERENCE = ("SELECT event_no AS key, rows_text AS text, table_name AS place FROM reference_version",)
_KINDS: Mapping[str, tuple[str, ...]] = {
    "load": _LOAD, "correction": _CORRECTION, "edition": _EDITION, "reference": _REFERENCE,
}  # fmt: skip


def of_load(connection: duckdb.DuckDBPyConnection, load_id: int) -> str:
    """What one load wrote: itself, its files, rows, revisions, findings and explanations."""
    return _one(connection, "load", load_id)


def of_correction(connection: duckdb.DuckDBPyConnection, revision_id: int) -> str:
    """What one correction wrote: its revision, the cells put right, what is found of it."""
    return _one(connection, "correction", revision_id)


def of_edition(connection: duckdb.DuckDBPyConnection, edition_no: int) -> str:
    """Everything that one edition froze."""
    return _one(connection, "edition", edition_no)


def of_reference(connection: duckdb.DuckDBPyConnection, event_no: int) -> str:
    """The reference table that one event put in place, as JSON."""
    return _one(connection, "reference", event_no)


def of_all(connection: duckdb.DuckDBPyConnection, kind: str) -> pl.DataFrame:
    """The same for everything of one kind (load, correction, edition, reference): `key` (Int64) and `written` (String)."""
    found: pl.DataFrame = connection.sql(_digests(_KINDS[kind], "SELECT DISTINCT key FROM parts", "")).pl()
    return found


def _one(connection: duckdb.DuckDBPyConnection, kind: str, key: int) -> str:
    query = _digests(_KINDS[kind], "SELECT $key::BIGINT AS key", "WHERE key = $key")
    return str(connection.execute(query, {"key": key}).fetchall()[0][1])


def _digests(parts: tuple[str, ...], keys: str, chosen: str) -> str:
    """SQL for `key` and `written`: the SHA-256 of the parts' own SHA-256s, in their order; an empty part is the empty text."""
    each = " UNION ALL ".join(
        f"SELECT {nth} AS nth, key::BIGINT AS key, sha256(string_agg(text, chr(10) ORDER BY place)) AS part FROM ({part}) {chosen} GROUP BY key"
        for nth, part in enumerate(parts)
    )
    return (
        f"WITH parts AS ({each}), keys AS ({keys}) "
        "SELECT key, sha256(string_agg(coalesce(part, sha256('')), chr(10) ORDER BY nth)) AS written "
        f"FROM keys CROSS JOIN (SELECT range AS nth FROM range({len(parts)})) LEFT JOIN parts USING (key, nth) GROUP BY key"
    )
