"""Sheets as JSON Lines: one object a sheet, built column-wise, in the file's order."""

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

import polars as pl

from loaders.audit_table import AuditedTable, status_of
from loaders.check import scored, statuses
from warehouse.audit.codes import HOLDS, is_figure
from warehouse.diagnosis.explanations import nothing_explained
from warehouse.eighths import text_expr
from warehouse.scoring import TOTALS

if TYPE_CHECKING:  # it imports DuckDB, which `check` must not wait for
    from loaders.load import Loaded

RECOMPUTED = (
    "spread_credit",
    "right_total",
    "left_total",
    "diff_total",
    "abnormal_total",
    "gross",
    "deductions",
    "net",
)
IN_TEXT = ("gross", "net")
EXPLANATION_FIELDS = (
    "cells",
    "stated",
    "proposed",
    "kind",
    "net",
    "why",
    "tie",
    "follows",
    "follows_proposed",
)
FINDING_FIELDS = ("code", "severity", "cells", "stated", "expected", "message")
# JSON lets these stand in a text as they are, but a terminal turns lines around at them or clears itself, and a
# script that splits lines splits there; the escape means the same to every reader of JSON.
SIGNS_THAT_ACT = {
    chr(point): f"\\u{point:04x}"
    for point in (
        *range(0x7F, 0xA0),
        0x61C,
        *range(0x200B, 0x2010),
        *range(0x2028, 0x202F),
        *range(0x2060, 0x2070),
        0xFEFF,
    )
}
EMPTY = pl.lit([], dtype=pl.List(pl.String))


def check_lines(audited: AuditedTable) -> Iterator[str]:
    """What the file as a whole needs a person for, then one line a sheet."""
    place = (pl.lit(audited.table.file).alias("file"), pl.lit(audited.table.sheet, dtype=pl.String).alias("sheet"))
    of_file = audited.findings.filter(pl.col("id").is_null() & pl.col("severity").is_in(HOLDS))
    yield from file_lines(of_file.drop("id").with_columns(place))
    frame = audited.entries.select("id", "entry_no", "category").with_columns(
        *place,
        audited.table.rows.alias("row"),
        statuses(audited),
        scored(audited),
        audited.certain.alias("score_certain"),
    )
    figures = [
        sheets.frame.select(
            "id",
            *TOTALS,
            unit=pl.lit(sheets.category.unit),
            stated_net=pl.col("stated.net") if "net" in sheets.present else pl.lit(None, dtype=pl.Int32),
        )
        for sheets in audited.sheets
    ]
    names = (*TOTALS, "unit", "stated_net")
    nothing = pl.DataFrame(schema={"id": pl.UInt32, **dict.fromkeys(names, pl.Int32)})
    frame = frame.join(
        pl.concat([nothing, *figures], how="vertical_relaxed"), on="id", how="left", maintain_order="left"
    )
    yield from sheet_lines(frame, audited.findings.drop_nulls("id"), audited.explanations)


def sheet_lines(frame: pl.DataFrame, findings: pl.DataFrame, explanations: pl.DataFrame) -> list[str]:
    """JSON of each row of `frame` ("id", file, sheet, row, entry_no, category, TOTALS, unit, stated_net, status, scored,
    score_certain), with its findings and its explanations (schema EXPLANATIONS), likeliest first.

    Of a revision from before explanations were kept score_certain is null: then the score is certain where it could
    be recomputed and the sheet's own net says the same, or nothing disagrees.
    """
    grouped = findings.group_by("id", maintain_order=True).agg(
        pl.struct(FINDING_FIELDS).alias("findings"),
        pl.col("code").map_batches(_figures, return_dtype=pl.Boolean).any().alias("disagrees"),
        (pl.col("code") == "net").any().alias("net_disagrees"),
    )
    joined = frame.join(grouped, on="id", how="left", maintain_order="left")
    joined = joined.join(_explained(frame, explanations), on="id", how="left", maintain_order="left")
    net_agrees = pl.col("stated_net").is_not_null() & ~pl.col("net_disagrees").fill_null(False)
    line = pl.struct(
        "file", "sheet", "row", "entry_no", "category",
        pl.struct(RECOMPUTED).alias("recomputed"),
        pl.struct(figure_text(total) for total in IN_TEXT).alias("text"),
        pl.col("findings").fill_null([]) if findings.height else EMPTY.alias("findings"),
        pl.col("explanations").fill_null([]) if explanations.height else EMPTY.alias("explanations"),
        pl.coalesce("score_certain", pl.col("scored") & (net_agrees | ~pl.col("disagrees").fill_null(False))),
        "status",
    )  # fmt: skip
    return json_lines(joined, line)


def _explained(frame: pl.DataFrame, explanations: pl.DataFrame) -> pl.DataFrame:
    """One row a sheet that has any: "id" and its explanations as structs, lengths as text."""
    if not explanations.height:
        return pl.DataFrame(schema={"id": frame.schema["id"], "explanations": pl.List(pl.Struct([]))})
    units = frame.select("id", "unit")
    texts = explanations.join(units, on="id", how="left", maintain_order="left").with_columns(
        figure_text("net"),
        *(
            pl.when(pl.col("unit") == 16)
            .then(pl.col(name).list.eval(text_expr(pl.element(), 16)))
            .otherwise(pl.col(name).list.eval(text_expr(pl.element(), 8)))
            .alias(name)
            for name in ("stated", "proposed", "follows_proposed")
        ),
    )
    return texts.group_by("id", maintain_order=True).agg(pl.struct(EXPLANATION_FIELDS).alias("explanations"))


def file_lines(findings: pl.DataFrame) -> list[str]:
    """The findings of files as a whole ("file", "sheet" and FINDING_FIELDS): one line a file, shaped as a sheet's."""
    files = findings.select("file", "sheet").unique(maintain_order=True).with_row_index("id")
    told = findings.join(files, on=["file", "sheet"], nulls_equal=True, maintain_order="left")
    scored = pl.Series("scored", [False], dtype=pl.Boolean).new_from_index(0, files.height)
    frame = files.with_columns(
        *(pl.lit(None, dtype=pl.Int32).alias(name) for name in ("row", "unit", "stated_net", *TOTALS)),
        *(pl.lit(None, dtype=pl.String).alias(name) for name in ("entry_no", "category")),
        status_of(told, ~scored),  # a file has no score to miss
        scored,
        scored.alias("score_certain"),
    )
    return sheet_lines(frame, told, nothing_explained())


def json_lines(frame: pl.DataFrame, line: pl.Expr) -> list[str]:
    """A struct of each row as JSON on one line that is safe to print (see SIGNS_THAT_ACT)."""
    plain = frame.select(line.struct.json_encode().alias("line")).to_series()
    return plain.str.replace_many(list(SIGNS_THAT_ACT), list(SIGNS_THAT_ACT.values())).to_list()


def _figures(codes: pl.Series) -> pl.Series:
    names = codes.unique()
    return codes.is_in(names.filter(pl.Series([is_figure(name) for name in names], dtype=pl.Boolean)).implode())


def figure_text(total: str) -> pl.Expr:
    """A figure of a frame with its "unit" as text ("135 5/8"), under the figure's name."""
    eighths, sixteenths = text_expr(pl.col(total), 8), text_expr(pl.col(total), 16)
    return pl.when(pl.col("unit") == 16).then(sixteenths).otherwise(eighths).alias(total)


def load_lines(loaded: "Loaded") -> Iterator[str]:
    """The lines of every sheet of a load, then its summary."""
    for placed in loaded.tables:
        yield from check_lines(placed.audited)
    yield json.dumps({"summary": True, **loaded.counts(), "findings": loaded.findings()})
