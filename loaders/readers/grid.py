"""What every reader hands on: a grid of text, exactly as received, with its row numbers."""

from dataclasses import dataclass

import polars as pl


@dataclass(frozen=True)
class Notice:
    """Something a reader did or saw that the sender must be told.

    `severity` is "error", "question" or "note"; `row` counts as a person counts (the file's first row is 1);
    `message` is one plain sentence, complete in itself.
    """

    code: str
    severity: str
    message: str
    row: int | None = None
    column: str | None = None


@dataclass(frozen=True)
class Grid:
    """One table (a file, or one sheet of a workbook) as text.

    `rows` holds "row" (Int32, the row's number as a person counts it) and "c0", "c1", ... (String, null for an
    empty cell). `headings` names the c-columns where the format itself has keys (JSON Lines, Parquet); where it
    is None, the heading row or rows still stand among `rows`. `merged` lists merged ranges as
    (first row, first column, last row, last column), rows as a person counts, columns from 0; their value has
    been filled into every cell of the range.
    """

    file: str
    sha256: str
    sheet: str | None
    rows: pl.DataFrame
    headings: tuple[str, ...] | None = None
    merged: tuple[tuple[int, int, int, int], ...] = ()
    notices: tuple[Notice, ...] = ()
