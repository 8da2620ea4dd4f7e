"""Rows, heads and numbers that come twice, within a file and across the files of one run."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from loaders.audit_table import AuditedTable
from warehouse.audit.duplicates import duplicate_findings, measure_key
from warehouse.audit.sheets import Sheets
from warehouse.plain_text import shown


@dataclass(frozen=True)
class Heads:
    """What is compared of the rows of several tables, in the order received.

    `frame`: "table" (place in the list of tables), "id", "row", "place", "entry_no", "hunter", "taken_on",
    "measure_key" (null without measures worth comparing) and the `compared` measures.
    """

    frame: pl.DataFrame
    compared: tuple[str, ...]


def compared_measures(sheets: Sheets) -> tuple[str, ...]:
    """The measures that tell one head from another: every scored or credited one."""
    category = sheets.category
    return tuple(column for line in category.lines if line.use != "recorded" for column in line.columns)


def keys_of(audited: AuditedTable) -> pl.Series:
    """The measure key of each row of the table, null where the category or a measure is not known."""
    keys = pl.Series("measure_key", [None], dtype=pl.UInt64).new_from_index(0, audited.table.cells.height)
    for sheets in audited.sheets:
        key = measure_key(sheets.frame, compared_measures(sheets))
        whole = sheets.frame.height == audited.table.cells.height
        keys = key if whole else keys.scatter(sheets.frame["id"], key)
    return keys.alias("measure_key")


def find_repeats(tables: Sequence[AuditedTable]) -> list[AuditedTable]:
    """The tables with a finding on every row that repeats an earlier one, of any of the tables."""
    light = pl.concat([_light(place, audited) for place, audited in enumerate(tables)], rechunk=True)
    suspects = light.filter(_may_repeat(light["measure_key"]) | _may_repeat(_hashed(light["entry_no"])))
    if not suspects.height:
        return list(tables)
    compared = tuple(
        dict.fromkeys(name for audited in tables for sheets in audited.sheets for name in compared_measures(sheets))
    )
    parts = [
        _full(group, tables[place], compared) for (place,), group in suspects.group_by(["table"], maintain_order=True)
    ]
    ordered = pl.concat(parts)
    numbered = ordered.with_columns(id=pl.int_range(ordered.height, dtype=pl.UInt32, eager=True))
    return _hand_back(duplicate_findings(numbered, compared), ordered, tables)


def _hashed(texts: pl.Series) -> pl.Series:
    """A number for each text, quicker to compare than the text; null stays null."""
    if not texts.null_count():
        return texts.hash()
    return (
        pl.DataFrame([texts.alias("text")])
        .select(pl.when(pl.col("text").is_not_null()).then(pl.col("text").hash()))
        .to_series()
    )


def _may_repeat(numbers: pl.Series) -> pl.Series:
    """Rows whose number another row has too. Unlike numbers may share a hash: suspects are compared in full later."""
    if numbers.n_unique() == len(numbers):
        return pl.Series([False]).new_from_index(0, len(numbers))
    return numbers.is_duplicated() & numbers.is_not_null()


def _light(place: int, audited: AuditedTable) -> pl.DataFrame:
    return pl.DataFrame(
        [
            pl.Series("table", [place], dtype=pl.UInt32).new_from_index(0, audited.entries.height),
            audited.entries["id"],
            audited.entries["entry_no"],
            keys_of(audited),
        ]
    )


def _full(group: pl.DataFrame, audited: AuditedTable, compared: tuple[str, ...]) -> pl.DataFrame:
    """The suspects of one table with everything that is compared or said of them."""
    table, ids = audited.table, group["id"]
    where = shown(Path(table.file).name) + (f", sheet '{shown(table.sheet, 60)}'" if table.sheet else "")
    measures = [
        sheets.frame.select("id", *(c for c in compared if c in sheets.frame.columns)) for sheets in audited.sheets
    ]
    rows = table.rows.gather(ids)
    frame = group.with_columns(
        rows.alias("row"),
        audited.entries["hunter"].gather(ids),
        audited.entries["taken_on"].gather(ids),
        pl.Series("row_text", table.cells[ids].select(pl.concat_str(pl.all().fill_null(""), separator="\x1f"))),
    ).with_columns(place=pl.format("row {} of {}", pl.col("row"), pl.lit(where)))
    joined = (
        frame.join(pl.concat(measures, how="diagonal"), on="id", how="left", maintain_order="left")
        if measures
        else frame
    )
    absent = [pl.lit(None, dtype=pl.Int32).alias(column) for column in compared if column not in joined.columns]
    return joined.with_columns(absent).select([*frame.columns, *compared])


def _hand_back(found: pl.DataFrame, suspects: pl.DataFrame, tables: Sequence[AuditedTable]) -> list[AuditedTable]:
    """Findings carry the suspect's number; give each back to its table under the row's own id."""
    numbered = found.with_columns(table=suspects["table"].gather(found["id"]), id=suspects["id"].gather(found["id"]))
    return [
        audited.with_findings(numbered.filter(pl.col("table") == place).drop("table"))
        for place, audited in enumerate(tables)
    ]
