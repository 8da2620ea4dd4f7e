"""Parquet: exact text of every column type."""

import datetime as dt
import io
from decimal import Decimal
from pathlib import Path

import polars as pl
import pytest

from loaders.readers import limits
from tests.loaders.readers.reader_files import cells, codes, grids, one
from warehouse.errors import FileRefused


def _file(frame: pl.DataFrame) -> bytes:
    out = io.BytesIO()
    frame.write_parquet(out)
    return out.getvalue()


_MOMENT = dt.datetime(2026, 3, 8, 14, 30, 1, 500_000)


@pytest.mark.parametrize(
    ("column", "texts"),
    [
        (pl.Series([1, None, 2**63 - 1]), ["1", None, "9223372036854775807"]),
        (pl.Series([2**64 - 1], dtype=pl.UInt64), ["18446744073709551615"]),
        (pl.Series([8.5, 17.0, None, 0.1, -0.0]), ["8.5", "17", None, "0.1", "0"]),
        (pl.Series([8.6, 17.0, None], dtype=pl.Float32), ["8.6", "17", None]),
        (pl.Series([float("nan"), float("inf")]), ["nan", "inf"]),
        (pl.Series([Decimal("8.50"), Decimal("17.00")]), ["8.50", "17.00"]),
        (pl.Series([dt.date(2026, 3, 8), None]), ["2026-03-08", None]),
        (pl.Series([_MOMENT, dt.datetime(2026, 3, 8)]), ["2026-03-08T14:30:01.500", "2026-03-08T00:00:00"]),
        (pl.Series([dt.datetime(2026, 3, 8)]).dt.replace_time_zone("UTC"), ["2026-03-08T00:00:00+00:00"]),
        (pl.Series([dt.time(9, 5)]), ["09:05:00"]),
        (pl.Series([True, False, None]), ["TRUE", "FALSE", None]),
        (pl.Series(["NA", "", " ", "é ½"]), ["NA", None, " ", "é ½"]),
        (pl.Series(["bow", None, "bow"], dtype=pl.Categorical), ["bow", None, "bow"]),
        (pl.Series([[1, 2], [], None]), ["[1, 2]", "[]", None]),
        (pl.Series([{"x": "é", "y": None}]), ['{"x": "é", "y": null}']),
        (pl.Series([b"ab", b"\xff\x00", None]), ["ab", "ff00", None]),
        (pl.Series([None, None], dtype=pl.Null), [None, None]),
    ],
)
def test_columns_as_text(tmp_path: Path, column: pl.Series, texts: list[str | None]) -> None:
    frame = pl.DataFrame({"n": [f"n{number}" for number in range(len(column))], "value": column})
    grid = one(tmp_path, _file(frame), "t.parquet")
    assert grid.headings == ("n", "value")
    assert grid.rows.schema == {"row": pl.Int32, "c0": pl.String, "c1": pl.String}
    assert cells(grid) == [(row + 1, f"n{row}", text) for row, text in enumerate(texts)]


def test_blank_rows(tmp_path: Path) -> None:
    grid = one(tmp_path, _file(pl.DataFrame({"a": ["x", "", None, "y"], "b": [1, None, None, 2]})), "t.parquet")
    assert cells(grid) == [(1, "x", "1"), (4, "y", "2")]
    assert codes(grid) == [("rows-blank", "note")]
    assert grid.notices[0].message == ("t.parquet: 2 blank rows (2, 3) were left out; row numbers stay the file's own.")


def test_cut_short(tmp_path: Path) -> None:
    data = _file(pl.DataFrame({"a": ["x", "y"]}))
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, data[:-1], "t.parquet")
    assert str(refused.value) == (
        "t.parquet: the Parquet file is damaged or cut short (it does not end with its mark PAR1). "
        "Expected a whole Parquet file. Ask the sender for the file again."
    )


def test_more_cells_than_the_limit_are_not_expanded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert limits.MAX_CELLS == 200_000_000
    monkeypatch.setattr(limits, "MAX_CELLS", 1_000_000)
    many = pl.select(pl.repeat(1, 100_001, dtype=pl.Int8).alias(name) for name in "abcdefghij")
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, _file(many), "t.parquet")
    assert str(refused.value) == (
        "t.parquet: the file has 100,001 rows by 10 columns. Expected at most 1,000,000 cells. "
        "Split it into smaller files."
    )


def test_too_many_columns(tmp_path: Path) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, _file(pl.DataFrame({f"k{number}": [1] for number in range(4097)})), "t.parquet")
    assert str(refused.value) == (
        "t.parquet: the file has 4,097 columns. Expected at most 4,096. "
        "Remove the columns that hold no part of a score sheet."
    )
