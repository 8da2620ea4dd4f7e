"""Score the rows of a table again, as a load does, without finding anything: what the ledger should hold of them.

The book's reference tables are left out, for they may have changed since: what rests on them (area code, season,
measurer's number) is not worked out. How a cell that may be two lengths is read rests on the file alone: on the sheet's
own figures, and on the habit of whoever wrote the file, by the measurer's name as written.
"""

from dataclasses import dataclass, replace

import polars as pl

from loaders.audit_table import AuditedTable
from loaders.batch import Placed, make_batch
from loaders.entries import resolve_entries
from loaders.names import Names
from loaders.repeats import keys_of
from loaders.sheet_frame import Cells, ReadSheets, read_cells, sheets_of
from loaders.tables import Table
from warehouse.audit.rules import FINDINGS
from warehouse.categories import all_categories
from warehouse.diagnosis.explanations import nothing_explained


@dataclass(frozen=True)
class Rescored:
    """A table scored again. `is_open`: Boolean, one for each row: whether it has cells that may be two lengths."""

    audited: AuditedTable
    is_open: pl.Series


@dataclass(frozen=True)
class Expected:
    """What the ledger should hold of some rows: `revisions` (schema REVISION and `entry_no`), one for each in their
    order, and `lines` (schema MEASUREMENT), whose `revision` is the place in `revisions`."""

    revisions: pl.DataFrame
    lines: pl.DataFrame


def rescore(table: Table) -> Rescored:
    """Read every row of the table and recompute its figures."""
    entries = resolve_entries(table, Names())
    read: list[ReadSheets] = []
    cells: dict[int, Cells] = {}
    for code in entries["category"].drop_nulls().unique().sort():
        category = all_categories()[code]
        chosen = (entries["category"] == code).fill_null(False)
        if category.unit not in cells:
            cells[category.unit] = read_cells(table, category.unit)
        read.append(sheets_of(table, cells[category.unit], category, None if chosen.all() else chosen.arg_true()))
    sheets = tuple(one.sheets for one in read)
    certain = pl.Series("certain", [None], dtype=pl.Boolean).new_from_index(0, entries.height)
    nothing = pl.DataFrame(schema=FINDINGS)
    audited = AuditedTable(table, entries, sheets, nothing, nothing_explained(), certain)
    return Rescored(audited, _open(read, entries.height))


def _open(read: list[ReadSheets], height: int) -> pl.Series:
    is_open = pl.Series("is_open", [False]).new_from_index(0, height)
    for one in read:
        if one.opened is not None:
            is_open = is_open.scatter(one.sheets.frame["id"].gather(one.opened.rows()), True)
    return is_open


def expected(rescored: Rescored, wanted: pl.Series) -> Expected:
    """What the ledger should hold of the wanted rows (Boolean, one for each row of the table)."""
    audited = rescored.audited
    nobody = pl.DataFrame(schema={"entry_id": pl.Int64, "revision_no": pl.Int32, "before": pl.Int64}).clear(
        wanted.len()
    )
    changed = wanted.to_frame("wanted").select(pl.when(~pl.col("wanted")).then(pl.lit(""))).to_series()
    keys = keys_of(audited)
    # a batch holds the cells too, which nothing here asks for: to join them would be a fifth of the work
    slim = replace(audited, table=replace(audited.table, cells=audited.table.cells.select(pl.first())))
    batch = make_batch([Placed(slim, keys, nobody, changed.alias("changed"))])
    numbers = audited.entries["entry_no"].filter(wanted)
    lines = pl.concat(batch.measurements) if batch.measurements else _NO_LINES
    return Expected(batch.revisions.with_columns(numbers.alias("entry_no")), lines)


_NO_LINES = pl.DataFrame(
    schema={
        "revision": pl.UInt32, "line": pl.String, "right_units": pl.Int32, "left_units": pl.Int32, "single_units": pl.Int32,
        "stated_difference": pl.Int32,
    }
)  # fmt: skip
