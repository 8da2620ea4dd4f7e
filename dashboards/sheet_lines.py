"""Sheets as JSON Lines: one object a sheet, built column-wise, in the file's order."""

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

import polars as pl

from loaders.audit_table import AuditedTable
from loaders.check import scored, statuses
from warehouse.audit.codes import HOLDS, is_figure
from warehouse.eighths import text_expr
from warehouse.scoring import TOTALS

if TYPE_CHECKING:  # it imports DuckDB, which `check` must not wait for
    from loaders.load import Loaded

FINDING_FIELDS = ("code", "severity", "cells", "stated", "expected", "message")
EMPTY = pl.lit([], dtype=pl.List(pl.String))


def check_lines(audited: AuditedTable) -> Iterator[str]:
    """What the file as a whole needs a person for, then one line a sheet."""
    yield from _file_lines(audited.table.file, audited.table.sheet, audited.findings.filter(pl.col("id").is_null()))
    frame = audited.entries.select("id", "entry_no", "category").with_columns(
        pl.lit(audited.table.file).alias("file"),
        pl.lit(audited.table.sheet, dtype=pl.String).alias("sheet"),
        audited.table.rows.alias("row"),
        statuses(audited),
        scored(audited),
    )
    figures = [sheets.frame.select("id", *TOTALS, unit=pl.lit(sheets.category.unit)) for sheets in audited.sheets]
    nothing = pl.DataFrame(schema={"id": pl.UInt32, **dict.fromkeys(TOTALS, pl.Int32), "unit": pl.Int32})
    frame = frame.join(
        pl.concat([nothing, *figures], how="vertical_relaxed"), on="id", how="left", maintain_order="left"
    )
    yield from sheet_lines(frame, audited.findings.drop_nulls("id"))


def sheet_lines(frame: pl.DataFrame, findings: pl.DataFrame) -> list[str]:
    """JSON of each row of `frame` ("id", file, sheet, row, entry_no, category, TOTALS, unit, status, scored)."""
    grouped = findings.group_by("id", maintain_order=True).agg(
        pl.struct(FINDING_FIELDS).alias("findings"),
        pl.col("code").map_batches(_figures, return_dtype=pl.Boolean).any().alias("disagrees"),
    )
    joined = frame.join(grouped, on="id", how="left", maintain_order="left")
    empty = joined.select(pl.col("findings").list.head(0).fill_null([])).to_series() if findings.height else None
    line = pl.struct(
        "file", "sheet", "row", "entry_no", "category",
        pl.struct(TOTALS).alias("recomputed"),
        pl.struct(_text(total) for total in TOTALS).alias("text"),
        pl.col("findings").fill_null([]) if empty is not None else EMPTY.alias("findings"),
        EMPTY.alias("explanations"),
        (pl.col("scored") & ~pl.col("disagrees").fill_null(False)).alias("score_certain"),
        "status",
    )  # fmt: skip
    return joined.select(line.struct.json_encode().alias("line")).to_series().to_list()


def _figures(codes: pl.Series) -> pl.Series:
    names = codes.unique()
    return codes.is_in(names.filter(pl.Series([is_figure(name) for name in names], dtype=pl.Boolean)).implode())


def _text(total: str) -> pl.Expr:
    eighths, sixteenths = text_expr(pl.col(total), 8), text_expr(pl.col(total), 16)
    return pl.when(pl.col("unit") == 16).then(sixteenths).otherwise(eighths).alias(total)


def _file_lines(file: str, sheet: str | None, findings: pl.DataFrame) -> list[str]:
    asked = findings.filter(pl.col("severity").is_in(HOLDS))
    if not asked.height:
        return []
    line = asked.select(
        pl.struct(
            pl.lit(file).alias("file"),
            pl.lit(sheet, dtype=pl.String).alias("sheet"),
            pl.lit(None, dtype=pl.Int32).alias("row"),
            pl.struct(FINDING_FIELDS).implode().alias("findings"),
        ).struct.json_encode()
    )
    return [str(text) for text in line.to_series().unique(maintain_order=True)]


def load_lines(loaded: "Loaded") -> Iterator[str]:
    """The lines of every sheet of a load, then its summary."""
    for placed in loaded.tables:
        yield from check_lines(placed.audited)
    yield json.dumps({"summary": True, **loaded.counts(), "findings": loaded.findings()})
