"""Cut and changed files of every format: a whole grid or a refusal, never another error and never a part."""

import io
import random
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import polars as pl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from loaders.readers import Grid, read
from tests.loaders.readers.reader_files import ods
from warehouse.errors import FileRefused

ROWS = 40
TABLE = [
    ["entry_no", "hunter", "gross"],
    *([str(n), f"Né {n}", f"{120 + n} {n % 8}/8"] for n in range(ROWS - 1)),
]


def _csv() -> bytes:
    return "\n".join(",".join(row) for row in TABLE).encode() + b"\n"


def _xlsx() -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    for row in TABLE:
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _ods() -> bytes:
    cell = '<table:table-cell office:value-type="string"><text:p>{}</text:p></table:table-cell>'
    rows = "".join(f"<table:table-row>{''.join(map(cell.format, row))}</table:table-row>" for row in TABLE)
    return ods(f'<table:table table:name="T">{rows}</table:table>')


def _jsonl() -> bytes:
    pairs = [", ".join(f'"{key}": "{value}"' for key, value in zip(TABLE[0], row, strict=True)) for row in TABLE]
    return "\n".join(f"{{{line}}}" for line in pairs).encode() + b"\n"


def _parquet() -> bytes:
    out = io.BytesIO()
    pl.DataFrame(TABLE, schema=["a", "b", "c"], orient="row").write_parquet(out)
    return out.getvalue()


FORMATS: dict[str, Callable[[], bytes]] = {
    "csv": _csv,
    "xlsx": _xlsx,
    "ods": _ods,
    "jsonl": _jsonl,
    "parquet": _parquet,
}


def _read(path: Path, data: bytes) -> list[Grid] | None:
    path.write_bytes(data)
    try:
        return read(path, path.name)
    except FileRefused as refused:
        assert str(refused).startswith(f"{path.name}: ")
        assert " Expected " in str(refused)
        return None


@pytest.mark.parametrize("kind", FORMATS)
def test_whole_files_are_read(tmp_path: Path, kind: str) -> None:
    grids = _read(tmp_path / f"t.{kind}", FORMATS[kind]())
    assert grids is not None
    assert [row[1:] for row in grids[0].rows.rows()] == [tuple(row) for row in TABLE]


@pytest.mark.parametrize("kind", ["xlsx", "ods", "parquet"])
def test_cut_containers_are_refused(tmp_path: Path, kind: str) -> None:
    data, rng = FORMATS[kind](), random.Random(6)
    for cut in rng.sample(range(1, len(data)), 20):
        if _read(tmp_path / f"t.{kind}", data[:cut]) is None:
            continue
        # A cut that takes the first mark away leaves a few letters, which are text.
        assert cut < 8


@pytest.mark.parametrize("kind", ["csv", "jsonl"])
def test_cut_text_gives_what_is_there_or_a_refusal(tmp_path: Path, kind: str) -> None:
    data, rng = FORMATS[kind](), random.Random(6)
    for cut in rng.sample(range(1, len(data)), 20):
        grids = _read(tmp_path / f"t.{kind}", data[:cut])
        if grids is not None:
            assert grids[0].rows.height == data[:cut].rstrip(b"\n").count(b"\n") + 1


@pytest.mark.parametrize("kind", FORMATS)
def test_flipped_bits(tmp_path: Path, kind: str) -> None:
    data, rng = FORMATS[kind](), random.Random(7)
    for _ in range(20):
        changed = bytearray(data)
        changed[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
        grids = _read(tmp_path / f"t.{kind}", bytes(changed))
        if grids is None:
            continue
        (grid,) = grids
        if kind in ("xlsx", "ods"):  # every part carries a checksum, so what is read is right
            assert [row[1:] for row in grid.rows.rows()] == [tuple(row) for row in TABLE]
        elif kind == "parquet":  # pages carry none, so a value may change, but no row may vanish
            assert grid.rows["row"].to_list() == list(range(1, ROWS + 1))
        else:
            lines = bytes(changed).count(b"\n") + (not changed.endswith(b"\n"))
            assert grid.rows.height == lines or b"\r" in changed


def test_a_missing_part_is_refused(tmp_path: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(_xlsx())) as whole, zipfile.ZipFile(out, "w") as part:
        for name in whole.namelist():
            if "sheet1" not in name:
                part.writestr(name, whole.read(name))
    path = tmp_path / "t.xlsx"
    path.write_bytes(out.getvalue())
    with pytest.raises(FileRefused) as refused:
        read(path, "t.xlsx")
    assert str(refused.value) == (
        "t.xlsx: the workbook is damaged or cut short (part xl/worksheets/sheet1.xml is missing). Expected a whole "
        "XLSX or ODS workbook. Ask the sender for the file again, or save it anew."
    )
