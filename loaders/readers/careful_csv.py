"""The careful path for delimited text: the standard library's reader, a chunk of records at a time."""

import csv
import io
from collections.abc import Iterator
from itertools import islice, zip_longest
from typing import TYPE_CHECKING

import polars as pl

from loaders.readers import limits
from loaders.readers.delimiter import Shape
from loaders.readers.source import Source

if TYPE_CHECKING:
    import _csv

_FAULTS = {
    "unexpected end of data": "a quotation mark is opened here and never closed",
    "expected after": "a cell in quotation marks goes on after its closing mark",
}


def read_carefully(source: Source, data: bytes, shape: Shape) -> tuple[pl.DataFrame, int]:
    """Read the UTF-8 text `data` record by record, blank ones as rows of nulls.

    Gives "row" (Int32, number of the record) with as many c-columns as the widest record has cells, and the
    count of records. Raises FileRefused naming the row when the quotation marks do not close or there are too
    many columns.
    """
    csv.field_size_limit(limits.MAX_FILE_BYTES)  # the overlong cell is named by row and column afterwards
    text = io.TextIOWrapper(io.BytesIO(data), encoding="utf-8-sig", newline="")
    reader = csv.reader(text, delimiter=shape.delimiter, strict=True)
    frames, done = [_frame([[]], 0).clear()], 0
    for records in _chunks(source, reader):
        _refuse_wide(source, records, done)
        frames.append(_frame(records, done))
        done += len(records)
    return pl.concat(frames, how="diagonal"), done


def _chunks(source: Source, reader: "_csv.Reader") -> Iterator[list[list[str]]]:
    done = 0
    while True:
        records: list[list[str]] = []
        try:
            records.extend(islice(reader, limits.CHUNK_ROWS))
        except csv.Error as fault:
            # What was read before the fault stays in the list, so the next record is the broken one.
            raise _broken(source, done + len(records) + 1, reader.line_num, str(fault)) from fault
        if not records:
            return
        yield records
        done += len(records)


def _broken(source: Source, row: int, line: int, fault: str) -> Exception:
    known = next((words for sign, words in _FAULTS.items() if sign in fault), f"the record cannot be cut ({fault})")
    return source.refused(
        f"row {row} (read up to line {line}): {known}",
        "cells as in RFC 4180",
        "Close the mark, or write a mark inside a quoted cell twice, then load the file again",
    )


def _refuse_wide(source: Source, records: list[list[str]], done: int) -> None:
    widest = max(records, key=len)
    if len(widest) > limits.MAX_COLUMNS:
        row = done + records.index(widest) + 1
        raise source.refused(
            f"row {row} has {len(widest):,} columns",
            f"at most {limits.MAX_COLUMNS:,}",
            "Remove the columns that hold no part of a score sheet",
        )


def _frame(records: list[list[str]], done: int) -> pl.DataFrame:
    columns = zip_longest(*records)
    series = [pl.Series(f"c{number}", cells, dtype=pl.String) for number, cells in enumerate(columns)]
    rows = pl.int_range(done + 1, done + len(records) + 1, dtype=pl.Int32, eager=True).alias("row")
    frame = pl.DataFrame([rows, *series])
    return frame.with_columns(pl.when(pl.col(pl.String) != "").then(pl.col(pl.String))) if series else frame
