"""The last steps every reader shares: limits, blank rows, invisible signs at the start, and the balance."""

from collections.abc import Sequence

import polars as pl

from loaders.readers import limits
from loaders.readers.grid import Grid, Notice
from loaders.readers.source import Source
from warehouse.errors import FileRefused, InternalFault
from warehouse.plain_text import shown

# Byte-order mark, zero-width space, non-joiner, joiner and word joiner: never part of a heading.
INVISIBLE = "\ufeff\u200b\u200c\u200d\u2060"


def cell_columns(rows: pl.DataFrame) -> list[str]:
    """Names of the c-columns of `rows`, left to right."""
    return [name for name in rows.columns if name != "row"]


def finish(
    source: Source,
    rows: pl.DataFrame,
    records: int,
    notices: Sequence[Notice],
    *,
    unlisted: int = 0,
    sheet: str | None = None,
    headings: tuple[str, ...] | None = None,
    merged: tuple[tuple[int, int, int, int], ...] = (),
) -> Grid:
    """Make the Grid of `rows` ("row" Int32 and c-columns, null for empty) that stand for `records` rows of
    the file.

    Blank rows are left out with one notice; `unlisted` blank ones are not in `rows` at all. Raises
    FileRefused for an overlong cell, InternalFault when filled and blank rows do not add up to `records`.
    """
    refuse_long_cells(source, rows, sheet)
    filled, blank = _split_blank(rows)
    if headings is None:
        filled, blank = _without_invisible_start(filled, blank)
    if filled.height + blank.height + unlisted != records:
        raise InternalFault(
            f"{shown(source.name)}: {records} rows were read, but {filled.height} filled and "
            f"{blank.height + unlisted} blank ones came through. Please report this with the file."
        )
    every = (*notices, *_blank_notice(source, filled, records, sheet))
    return Grid(source.name, source.sha256, sheet, filled, headings, merged, every)


def place(source: Source, sheet: str | None) -> str:
    """How messages name the file, or the sheet of the file."""
    return shown(source.name) if sheet is None else f"{shown(source.name)}, sheet '{shown(sheet)}'"


def refuse_long_cells(source: Source, rows: pl.DataFrame, sheet: str | None = None) -> None:
    """Raise FileRefused naming row and column of the first cell over the limit of bytes."""
    if not rows.height or not cell_columns(rows):
        return
    longest = rows.select(pl.exclude("row").str.len_bytes().max())
    for number, name in enumerate(longest.columns):
        if (longest[name][0] or 0) > limits.MAX_CELL_BYTES:
            row = rows.filter(pl.col(name).str.len_bytes() > limits.MAX_CELL_BYTES)["row"][0]
            size = rows.filter(pl.col("row") == row)[name].str.len_bytes()[0]
            raise long_cell(source, sheet, row, number, size)


def long_cell(source: Source, sheet: str | None, row: int, column: int, size: int) -> FileRefused:
    """The refusal of a cell over the limit: `column` counted from 0, `size` in bytes of UTF-8."""
    where = "" if sheet is None else f"sheet '{shown(sheet)}', "
    return source.refused(
        f"{where}row {row}, column {column + 1} is a cell of {size:,} bytes",
        f"at most {limits.MAX_CELL_BYTES:,} bytes in a cell",
        "Look there for a quotation mark that is not closed, or shorten the cell",
    )


def _split_blank(rows: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    names = cell_columns(rows)
    if any(rows[name].null_count() == 0 for name in names):
        return rows, rows.clear()
    blank = pl.all_horizontal(pl.col(name).is_null() for name in names) if names else pl.lit(True)
    return rows.filter(~blank), rows.filter(blank)


def _without_invisible_start(filled: pl.DataFrame, blank: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    first = filled["c0"][0] if filled.height and "c0" in filled.columns else None
    if first is None or first[:1] not in INVISIBLE:
        return filled, blank
    row = filled["row"][0]
    clean = pl.lit(first.lstrip(INVISIBLE) or None, dtype=pl.String)
    changed = filled.with_columns(pl.when(pl.col("row") == row).then(clean).otherwise(pl.col("c0")).alias("c0"))
    filled, more = _split_blank(changed)
    return filled, pl.concat([more, blank])


def _blank_notice(source: Source, filled: pl.DataFrame, records: int, sheet: str | None) -> list[Notice]:
    count = records - filled.height
    if not count:
        return []
    first = _first_missing(filled["row"], records)
    named = ", ".join(str(row) for row in first) + (", ..." if count > len(first) else "")
    rows, were = ("row", "was") if count == 1 else ("rows", "were")
    return [
        Notice(
            "rows-blank",
            "note",
            f"{place(source, sheet)}: {count} blank {rows} ({named}) {were} left out; row numbers stay the file's own.",
            first[0],
        )
    ]


def _first_missing(present: pl.Series, records: int) -> list[int]:
    # The first rows missing from 1, 2, ... are found where the numbers first run ahead of their own count.
    found: list[int] = []
    expected = 1
    ahead = (
        present.to_frame("row")
        .with_row_index("at")
        .filter((pl.col("row") - pl.col("row").shift(1, fill_value=0)) > 1)
        .head(limits.NAMED_ROWS)
    )
    for row, before in zip(ahead["row"], present.shift(1, fill_value=0).gather(ahead["at"]), strict=True):
        found.extend(range(before + 1, min(row, before + 1 + limits.NAMED_ROWS)))
    expected = (present[-1] if present.len() else 0) + 1
    found.extend(range(expected, min(records + 1, expected + limits.NAMED_ROWS)))
    return found[: limits.NAMED_ROWS]
