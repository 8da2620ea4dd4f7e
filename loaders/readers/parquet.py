"""Read a Parquet file: every column as text, the schema's names as headings."""

import io
import json
from collections.abc import Callable
from typing import Any

import polars as pl

from loaders.readers import limits
from loaders.readers.cell_text import number_text
from loaders.readers.finish import finish
from loaders.readers.grid import Grid
from loaders.readers.source import Source
from warehouse.errors import FileRefused

_FAULTS = (
    pl.exceptions.PolarsError,
    pl.exceptions.PanicException,
    OSError,
    ValueError,
    MemoryError,
    OverflowError,
)


def read_parquet(source: Source) -> Grid:
    """Read `source` as Parquet; `row` counts from 1.

    Whole numbers are exact, other numbers the shortest text that gives them back (a whole float without
    point), dates and times ISO 8601, booleans TRUE and FALSE, nested values JSON. Raises FileRefused: damaged
    or too large.
    """
    if not source.data.endswith(b"PAR1"):
        raise _damaged(source, "it does not end with its mark PAR1")
    try:
        schema = pl.read_parquet_schema(io.BytesIO(source.data))
        height = pl.scan_parquet(io.BytesIO(source.data)).select(pl.len()).collect().item()
        _refuse_large(source, len(schema), height)
        frame = pl.read_parquet(io.BytesIO(source.data), use_statistics=False)
        texts = [_as_text(column).alias(f"c{at}") for at, column in enumerate(frame.iter_columns())]
    except _FAULTS as fault:
        raise _damaged(source, str(fault).partition("\n")[0] or type(fault).__name__) from fault
    numbers = pl.int_range(1, height + 1, dtype=pl.Int32, eager=True).alias("row")
    rows = pl.DataFrame([numbers, *texts])
    return finish(
        source,
        rows.with_columns(pl.when(pl.col(pl.String) != "").then(pl.col(pl.String))),
        height,
        (),
        headings=tuple(schema),
    )


def _damaged(source: Source, what: str) -> FileRefused:
    return source.refused(
        f"the Parquet file is damaged or cut short ({what})",
        "a whole Parquet file",
        "Ask the sender for the file again",
    )


def _refuse_large(source: Source, columns: int, height: int) -> None:
    if columns > limits.MAX_COLUMNS:
        raise source.refused(
            f"the file has {columns:,} columns",
            f"at most {limits.MAX_COLUMNS:,}",
            "Remove the columns that hold no part of a score sheet",
        )
    if columns * height > limits.MAX_CELLS:
        raise source.refused(
            f"the file has {height:,} rows by {columns:,} columns",
            f"at most {limits.MAX_CELLS:,} cells",
            "Split it into smaller files",
        )


def _as_text(column: pl.Series) -> pl.Series:
    kind = column.dtype
    if kind == pl.Boolean:
        return column.cast(pl.String).str.to_uppercase()
    if isinstance(kind, pl.Datetime):
        return column.dt.to_string("%Y-%m-%dT%H:%M:%S%.f" + ("%:z" if kind.time_zone else ""))
    if kind == pl.Time:
        return column.dt.to_string("%H:%M:%S%.f")
    if kind in (pl.Date, pl.Duration):
        return column.dt.to_string("iso")
    if kind.is_float():
        return _floats_as_text(column)
    if kind == pl.Binary:
        return _listed(column, _bytes_text)
    return _listed(column, _json_text) if kind.is_nested() else column.cast(pl.String)


def _floats_as_text(column: pl.Series) -> pl.Series:
    # Lengths repeat, so each distinct value is written out once. A float32 has its own, shorter, spelling.
    shortest = _float32 if column.dtype == pl.Float32 else float
    distinct = column.drop_nulls().unique()
    texts = [number_text(shortest(value)) for value in distinct]
    return column.replace_strict(distinct, pl.Series(texts, dtype=pl.String), default=None, return_dtype=pl.String)


def _float32(value: float) -> float:
    import numpy as np  # for this rare kind of column only: its import would slow every other check

    return float(str(np.float32(value)))


def _listed(column: pl.Series, text: Callable[[Any], str]) -> pl.Series:
    return pl.Series([None if value is None else text(value) for value in column.to_list()], dtype=pl.String)


def _json_text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, default=str)


def _bytes_text(value: bytes) -> str:
    try:
        return value.decode("utf-8")
    except UnicodeDecodeError:
        return value.hex()
