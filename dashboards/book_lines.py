"""Sheets and entries of a book as JSON Lines."""

import polars as pl

from dashboards.sheet_lines import figure_text, file_lines, json_lines, sheet_lines
from loaders.audit_table import status_of
from warehouse.audit.codes import HOLDS

ENTRY_FIELDS = (
    "entry_no", "status", "category", "hunter", "tag_no", "area_written", "area_code", "area", "district", "region",
    "season", "weapon", "age", "taken_on", "measured_on", "measurer", "gross", "net", "gross_text", "net_text", "revision_no",
)  # fmt: skip


def finding_lines(findings: pl.DataFrame, entries: pl.DataFrame, explanations: pl.DataFrame) -> list[str]:
    """One line for each sheet of the book that has an open finding, an explanation or is held; what whole files need a
    person for first.

    A sheet without a finding of its own is held by an error of its file, and has the status "errors".
    """
    of_files = file_lines(findings.filter(pl.col("row").is_null() & pl.col("severity").is_in(HOLDS)).drop("row"))
    rows = entries.with_row_index("id").with_columns(scored=pl.col("net").is_not_null())
    told = findings.drop_nulls("entry_id").join(rows.select("id", "entry_id"), on="entry_id", maintain_order="left")
    held = rows["status"] == "held"
    status = status_of(told, rows["scored"])
    by_its_file = pl.when((status == "clean") & held).then(pl.lit("errors")).otherwise(status)
    rows = rows.with_columns(by_its_file.alias("status"))
    why = explanations.join(rows.select("id", "entry_id"), on="entry_id", maintain_order="left")
    named = pl.concat([told["id"], why["id"]]).unique()
    return [*of_files, *sheet_lines(rows.filter(pl.col("id").is_in(named.implode()) | held), told, why)]


def entry_lines(entries: pl.DataFrame) -> list[str]:
    """One line for each entry; its age in years (4.5), null where nobody aged it."""
    frame = entries.with_columns(figure_text(figure).alias(f"{figure}_text") for figure in ("gross", "net"))
    frame = frame.with_columns(
        pl.col("taken_on", "measured_on").dt.to_string("%Y-%m-%d"), age=pl.col("age_half_years") / 2
    )
    return json_lines(frame, pl.struct(ENTRY_FIELDS))
