"""One row of an audited table, by itself."""

from dataclasses import replace

import polars as pl

from loaders.audit_table import AuditedTable
from warehouse.audit.sheets import Sheets


def only_row(audited: AuditedTable, place: int) -> AuditedTable:
    """The row at `place` (from 0) as a table of its own: its id is 0. What was found of the whole file stays."""
    table = audited.table
    held = (_only_sheet(sheets, place) for sheets in audited.sheets)
    return AuditedTable(
        replace(table, rows=table.rows.slice(place, 1), cells=table.cells.slice(place, 1)),
        _renumbered(audited.entries.slice(place, 1)),
        tuple(sheets for sheets in held if sheets.frame.height),
        audited.findings.filter(pl.col("id").is_null() | (pl.col("id") == place)).with_columns(
            pl.when(pl.col("id").is_not_null()).then(pl.lit(0, dtype=pl.UInt32)).alias("id")
        ),
        _renumbered(audited.explanations.filter(pl.col("id") == place)),
        audited.certain.slice(place, 1),
    )


def _only_sheet(sheets: Sheets, place: int) -> Sheets:
    frame = _renumbered(sheets.frame.filter(pl.col("id") == place))
    return replace(sheets, frame=frame, texts=sheets.texts.slice(place, 1))


def _renumbered(frame: pl.DataFrame) -> pl.DataFrame:
    return frame.with_columns(pl.lit(0, dtype=pl.UInt32).alias("id"))
