"""One table through the whole audit: read, resolve, recompute, hold every rule against it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import polars as pl

from loaders.entries import entry_findings, resolve_entries
from loaders.fields import SELDOM_STATED, all_fields
from loaders.names import Names
from loaders.readers.grid import Notice
from loaders.sheet_frame import Cells, ReadSheets, read_cells, sheets_of
from loaders.tables import Table
from loaders.unreadable import unreadable_findings
from warehouse.audit.codes import HOLDS, is_figure
from warehouse.audit.figures import figure_rules
from warehouse.audit.plausibility import plausibility_rules
from warehouse.audit.rules import FINDINGS, apply, together
from warehouse.audit.sheets import Sheets
from warehouse.categories import all_categories
from warehouse.diagnosis.beam_tip import one_point_too_many, tip_explanations
from warehouse.diagnosis.diagnose import diagnose
from warehouse.diagnosis.explanations import nothing_explained
from warehouse.diagnosis.other_category import other_category_explanations
from warehouse.diagnosis.unread_figures import figure_explanations

UNSCORED = ("unreadable", "category-unknown")


@dataclass(frozen=True)
class AuditedTable:
    """A table after its audit.

    `entries`: one row for each row of the table (see `warehouse.audit.entry_rules`); `sheets`: one frame for each
    category the table holds; `findings`: schema FINDINGS, in row order, file-level ones (id null) first;
    `explanations`: schema EXPLANATIONS, by row and place; `certain`: Boolean, one for each row of the table, whether
    every way to make the row's figures agree gives the same net.
    """

    table: Table
    entries: pl.DataFrame
    sheets: tuple[Sheets, ...]
    findings: pl.DataFrame
    explanations: pl.DataFrame
    certain: pl.Series

    def with_findings(self, more: pl.DataFrame) -> "AuditedTable":
        """The same with more findings, each among those of its row."""
        merged = in_row_order(pl.concat([self.findings, more])) if more.height else self.findings
        return replace(self, findings=merged)


def audit_table(table: Table, names: Names, today: date) -> AuditedTable:
    """Audit every row of a table. Duplicates are looked for across tables, by `loaders.repeats`."""
    entries = resolve_entries(table, names)
    codes = entries["category"].drop_nulls().unique().sort().to_list()
    parts = [_notice_findings(table, codes), entry_findings(entries, table, names, today)]
    sheets: list[ReadSheets] = []
    read: dict[int, Cells] = {}
    for code in codes:
        category = all_categories()[code]
        chosen = (entries["category"] == code).fill_null(False)
        ids = None if chosen.all() else chosen.arg_true()
        if category.unit not in read:
            read[category.unit] = read_cells(table, category.unit)
        cells = read[category.unit]
        done = sheets_of(table, cells, category, ids)
        rules = [*figure_rules(category, cells.present), *plausibility_rules(category, cells.present)]
        parts += [unreadable_findings(done.sheets, cells, ids), done.findings]
        parts.append(apply(rules, done.sheets.frame, done.sheets.texts))
        sheets.append(done)
    findings = in_row_order(together(parts))
    explanations, certain = _diagnosed(sheets, findings, entries.height)
    return AuditedTable(table, entries, tuple(done.sheets for done in sheets), findings, explanations, certain)


def _diagnosed(read: Sequence[ReadSheets], findings: pl.DataFrame, height: int) -> tuple[pl.DataFrame, pl.Series]:
    """The explanations of every sheet that disagrees with itself or lacks a measure, and which scores are certain."""
    certain = pl.Series("certain", [False]).new_from_index(0, height)
    figures = [code for code in findings["code"].unique() if is_figure(code)]
    disagreeing = findings.filter(pl.col("code").is_in(figures))["id"].drop_nulls().unique()
    unread = _unread_cells(findings).filter(~pl.col("id").is_in(disagreeing.implode()))
    undecided = findings.filter(pl.col("code") == "two-readings")["id"].drop_nulls()
    doubtful = pl.concat([disagreeing, undecided]).unique()
    parts = [nothing_explained()]
    for each, opened in ((one.sheets, one.opened) for one in read):
        suspect = each.frame["id"].is_in(doubtful.implode()) | each.frame["net"].is_null()
        tips = tip_explanations(each)
        parts += [tips, figure_explanations(each, unread.filter(~pl.col("id").is_in(tips["id"].implode())))]
        certain = certain.scatter(each.frame["id"], ~suspect).scatter(tips["id"], False)
        if suspect.any():
            diagnosis = diagnose(each, suspect.arg_true(), opened.readings() if opened else None)
            category = other_category_explanations(each)
            parts += [category, _after(diagnosis.explanations, category)]
            counted = each.frame.filter(one_point_too_many("r") | one_point_too_many("l"))["id"]
            certain = certain.scatter(diagnosis.certain, True).scatter(counted, False).scatter(category["id"], False)
    return pl.concat(parts).sort("id", "place"), certain


def _after(explanations: pl.DataFrame, first: pl.DataFrame) -> pl.DataFrame:
    """Explanations behind those of `first`, without the ones that name the same cells."""
    cells = pl.col("cells").list.sort().list.join(";")
    said = first.select("id", named=cells)
    others = explanations.with_columns(named=cells).join(said, on=["id", "named"], how="anti", maintain_order="left")
    behind = pl.col("id").is_in(first["id"].implode())
    return others.drop("named").with_columns(
        (pl.int_range(pl.len()).over("id") + behind).cast(pl.UInt16).alias("place")
    )


def _unread_cells(findings: pl.DataFrame) -> pl.DataFrame:
    """ "id" and "cell" of every cell that cannot be read."""
    found = findings.filter(pl.col("code") == "unreadable").drop_nulls("id")
    return found.select("id", pl.col("cells").alias("cell")).explode("cell")


def in_row_order(findings: pl.DataFrame) -> pl.DataFrame:
    """Sorted by row, file-level findings first; within a row in the order the rules were tried."""
    return findings.sort("id", nulls_last=False, maintain_order=True)


def _notice_findings(table: Table, categories: Sequence[str]) -> pl.DataFrame:
    """What the reader and the headings had to tell, as findings; a notice about one row belongs to that row."""
    notices = [*table.notices, *_needed_columns(table, categories), *_missing_columns(table)]
    places = {row: place for place, row in enumerate(table.rows)} if any(n.row for n in notices) else {}
    records = [
        {
            "id": places.get(notice.row) if notice.row is not None else None,
            "code": notice.code,
            "severity": notice.severity,
            "cells": notice.column.split(";") if notice.column else [],
            "stated": None,
            "expected": None,
            "message": notice.message,
        }
        for notice in notices
    ]
    return pl.DataFrame(records, schema=FINDINGS)


def _needed_columns(table: Table, categories: Sequence[str]) -> list[Notice]:
    """Columns without which no sheet of a category can be scored."""
    lines = [line for code in categories for line in all_categories()[code].lines if line.needed]
    named = ["category", *(name for line in lines for name in line.columns)]
    missing = list(dict.fromkeys(name for name in named if name not in table.present))
    if not missing:
        return []
    message = f"The file has no column for {', '.join(missing)}: its sheets cannot be scored, and all are held."
    return [Notice("column-needed", "error", message, column=";".join(missing))]


def _missing_columns(table: Table) -> list[Notice]:
    claimed_twice = {notice.column for notice in table.notices if notice.code == "column-twice"}
    named = [field for field in all_fields() if field not in SELDOM_STATED]
    missing = [field for field in named if field not in table.present and field not in claimed_twice]
    if not missing:
        return []
    message = f"The file has no column for: {', '.join(missing)}. Rules that need them were not tried."
    return [Notice("column-missing", "note", message, column=";".join(missing))]


def status_of(findings: pl.DataFrame, scored: pl.Series) -> pl.Series:
    """Each row's status: "clean", "questions", "errors", or "unreadable" where it could not be scored at all.

    `scored`: Boolean, one for each row of the table, whether its net could be recomputed.
    """
    frame = pl.DataFrame({"id": pl.int_range(len(scored), dtype=pl.UInt32, eager=True), "scored": scored})
    worst = (
        findings.drop_nulls("id")
        .group_by("id")
        .agg(
            error=(pl.col("severity") == "error").any(),
            question=(pl.col("severity") == "question").any(),
            lost=pl.col("code").is_in(UNSCORED).any(),
        )
    )
    joined = frame.join(worst, on="id", how="left", maintain_order="left")
    return joined.select(
        pl.when(pl.col("lost").fill_null(False) & ~pl.col("scored"))
        .then(pl.lit("unreadable"))
        .when(pl.col("error").fill_null(False))
        .then(pl.lit("errors"))
        .when(pl.col("question").fill_null(False))
        .then(pl.lit("questions"))
        .when(~pl.col("scored"))
        .then(pl.lit("unreadable"))
        .otherwise(pl.lit("clean"))
        .alias("status")
    ).to_series()


__all__ = ["HOLDS", "AuditedTable", "audit_table", "in_row_order", "status_of"]
