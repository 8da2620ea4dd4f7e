"""The messy files read back by plain means: nothing is wrong in them but what is listed."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
import re
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest

from sample_data import club_night, make_sample_data, messy_files, one_sheet_forms, scale_list
from sample_data.season_files import COLUMN_ORDER
from tests.sample_data.plain_audit import Row, figures, length

HOME = Path(make_sample_data.__file__).parent
MESSY = HOME / "messy"
Key = tuple[str, str, str]


def wrong_figures(row: Row) -> set[str]:
    """The stated figures that differ from the ones worked out; missing fields count as blank."""
    full = dict.fromkeys(COLUMN_ORDER, "") | row
    names = [k for k in COLUMN_ORDER[14:] if not re.fullmatch("abnormal_[rl]|points_[rl]", k)]
    inches = {name: length(full[name]) for name in names}
    expected = figures(full, inches, set())
    if not (full["abnormal_r"] or full["abnormal_l"]) and full["abnormal_total"]:
        stated = length(full["abnormal_total"]) or 0
        sign = -1 if full["category"] == "whitetail-typical" else 1
        expected |= {"abnormal_total": length(full["abnormal_total"]) or expected["abnormal_total"]}
        expected["net"] += sign * stated
        expected["deductions"] += stated if sign < 0 else 0
    return {k for k, v in expected.items() if inches[k] is not None and inches[k] != v}


def listed(file: str, sheet: str | None = None) -> set[Key]:
    """(row, entry_no, code) of the sheets' findings that name figures."""
    table = pl.read_csv(HOME / "expected_findings.csv", infer_schema=False)
    mine = table.filter(
        (pl.col("file") == file) & pl.col("sheet").eq_missing(sheet) & (pl.col("code") == pl.col("cells"))
    )
    return set(mine.select("row", "entry_no", "code").rows())


def wrong(rows: dict[int, Row]) -> set[Key]:
    """The same from the rows themselves."""
    return {(str(n), row["entry_no"], code) for n, row in rows.items() for code in wrong_figures(row)}


def _grid(path: Path, encoding: str = "utf-8", delimiter: str = ",") -> list[list[str]]:
    text = path.read_bytes().decode(encoding)
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))


def _eighths_text(value: Any, name: str) -> str:
    if value is None:
        return ""
    if isinstance(value, (dt.datetime, dt.date)):
        return value.isoformat()[:10] if name.endswith("_on") else f"{value.month}/{value.day}"
    if isinstance(value, (int, float)):
        return f"{round(value * 8) // 8} {round(value * 8) % 8}/8"
    return str(value)


def _night(sheet: str) -> dict[int, Row]:
    page = openpyxl.load_workbook(MESSY / club_night.FILE)[sheet]
    first, names = 2, [*club_night.SECOND.values()]
    if sheet == "Night 1":
        first = club_night.FIRST_ROW
        paired = [f"{line}_{part}" for line in club_night.LINES.values() for part in ("r", "l", "diff")]
        names = [*club_night.SINGLE.values(), *paired, *club_night.TOTALS.values()]
    back = {word: plain for plain, word in club_night.WORDS.items()}
    rows = {}
    for number, cells in enumerate(page.iter_rows(min_row=first, values_only=True), start=first):
        texts = {n: _eighths_text(c, n) for n, c in zip(names, cells, strict=True) if n}
        if any(texts.values()):
            rows[number] = {n: back.get(t, t) for n, t in texts.items()}
    return rows


@pytest.mark.parametrize(("sheet", "rows", "of_them_wrong"), [("Night 1", 7, 1), ("Night 2", 4, 3)])
def test_the_club_night_has_the_listed_slips_only(sheet: str, rows: int, of_them_wrong: int) -> None:
    night = _night(sheet)
    assert len(night) == rows
    assert wrong(night) == listed(club_night.FILE, sheet)
    assert len(wrong(night)) == of_them_wrong


def test_the_club_night_hides_what_its_readme_says() -> None:
    page = openpyxl.load_workbook(MESSY / club_night.FILE)["Night 1"]
    cells = [cell for line in page.iter_rows(min_row=5, min_col=10) for cell in line]
    dates = [(c.row, c.value) for c in cells if isinstance(c.value, dt.datetime)]
    assert dates == [(5, dt.datetime(2026, 3, 8)), (8, dt.datetime(2026, 2, 8))]
    odd = [(c.row, round(c.value % 1, 9)) for c in cells if isinstance(c.value, float) and c.value * 8 % 1]
    assert odd == [(11, 0.4)]
    assert {c.number_format for c in cells if isinstance(c.value, float)} == {"# ?/8"}
    assert len(page.merged_cells.ranges) == 30


def test_the_parish_list_is_cp1252_and_has_the_listed_slips_only() -> None:
    raw = (MESSY / messy_files.PARISH).read_bytes()
    with pytest.raises(UnicodeDecodeError):
        raw.decode("utf-8")
    assert raw.count(b"\r\n") == raw.count(b"\n") == 10
    assert "De Cañada" in raw.decode("cp1252") and "“Lanky”" in raw.decode("cp1252")
    names = list(messy_files.PARISH_HEADINGS.values())
    grid = _grid(MESSY / messy_files.PARISH, "cp1252", ";")[1:]
    rows = {n: {k: t.replace(",", ".") for k, t in zip(names, g, strict=True)} for n, g in enumerate(grid, 2)}
    assert wrong(rows) == listed(messy_files.PARISH) == {("5", "PL-04", "net")}
    waited = {r["entry_no"]: _days(r) for r in rows.values()}
    assert [no for no, days in waited.items() if days < 60] == ["PL-06"]


def _days(row: Row) -> int:
    return (dt.date.fromisoformat(row["measured_on"]) - dt.date.fromisoformat(row["taken_on"])).days


def _form(grid: list[list[str]]) -> Row:
    out: Row = {}
    for line in grid:
        label, *values = line
        if label in one_sheet_forms.LINES:
            name = one_sheet_forms.LINES[label]
            out |= {f"{name}_{part}": t for part, t in zip(("r", "l", "diff"), values, strict=True)}
        elif label != "Line":
            out[(one_sheet_forms.LABELS | one_sheet_forms.TOTALS)[label]] = values[0]
    return out


def test_the_forms_have_the_listed_slip_only() -> None:
    page = openpyxl.load_workbook(MESSY / "one_sheet_form.xlsx")["Form"]
    assert wrong({1: _form([[str(c or "") for c in line] for line in page.iter_rows(values_only=True)])}) == set()
    form = _form(_grid(MESSY / "one_sheet_form.csv"))
    assert wrong({1: form}) == listed("one_sheet_form.csv") == {("1", "OS-02", "gross")}


def _as_point_eighths(text: str) -> str:
    return ";".join(re.sub(r"^(\d+)\.(\d)$", r"\1 \2/8", part) for part in text.split(";"))


def _as_decimals(text: str) -> str:
    """As decimals rounded to one place; .7 is none (6/8 is .8) and keeps its only reading, 7/8."""
    rounded = {"0": 0, "1": 1, "2": 2, "3": 2, "4": 3, "5": 4, "6": 5, "7": 7, "8": 6, "9": 7}
    parts = [part.split(".") for part in text.split(";")]
    return ";".join(
        f"{part[0]} {rounded[part[1]]}/8" if len(part) == 2 and len(part[1]) == 1 else ".".join(part) for part in parts
    )


def _agrees(row: Row, reading: Any) -> bool:
    try:
        return wrong_figures({k: reading(t) for k, t in row.items()}) == set()
    except ValueError:
        return False


def test_the_figures_of_each_point_eighths_sheet_leave_one_reading() -> None:
    grid = _grid(MESSY / messy_files.POINT_EIGHTHS)
    rows = [dict(zip(grid[0], line, strict=True)) for line in grid[1:]]
    readings = [(r["entry_no"], _agrees(r, _as_point_eighths), _agrees(r, _as_decimals)) for r in rows]
    assert [no for no, eighths, decimals in readings if decimals and not eighths] == ["PE-04", "PE-09"]
    assert [no for no, eighths, decimals in readings if decimals and eighths] == ["PE-07"]
    assert [no for no, eighths, decimals in readings if eighths and not decimals] == [
        f"PE-0{i}" for i in (1, 2, 3, 5, 6, 8)
    ]


def test_the_cells_listed_are_those_whose_readings_differ() -> None:
    table = pl.read_csv(HOME / "expected_findings.csv", infer_schema=False)
    mine = table.filter(pl.col("file") == messy_files.POINT_EIGHTHS)
    listed_cells = {no: set(cells.split(";")) for no, cells in mine.select("entry_no", "cells").rows()}
    grid = _grid(MESSY / messy_files.POINT_EIGHTHS)
    rows = [dict(zip(grid[0], line, strict=True)) for line in grid[1:]]
    differing = {
        row["entry_no"]: {
            k for k, t in row.items() if _as_point_eighths(t).replace(" 0/8", "") != _as_decimals(t).replace(" 0/8", "")
        }
        for row in rows
    }
    assert differing == listed_cells


def test_the_other_files_are_sound_but_for_their_shape() -> None:
    lines = (MESSY / "county.jsonl").read_text(encoding="utf-8").splitlines()
    assert wrong(dict(enumerate(map(json.loads, lines), start=1))) == set()
    assert (MESSY / "county_sent_again.jsonl").read_bytes() == (MESSY / "county.jsonl").read_bytes()
    twice = _grid(MESSY / "twice_headed.csv")
    assert [name for name in twice[0] if twice[0].count(name) > 1] == ["tag_no", "tag_no"]
    overlong = _grid(MESSY / "overlong_row.csv")
    assert [n for n, line in enumerate(overlong, 1) if len(line) > len(overlong[0])] == [3]
    for grid in (twice, overlong):
        rows = {n: dict(zip(grid[0], line, strict=False)) for n, line in enumerate(grid[1:], 2)}
        assert wrong(rows) == set()


def test_the_scale_list_has_the_listed_slip_only() -> None:
    frame = pl.read_ods(MESSY / scale_list.FILE, drop_empty_cols=False, infer_schema_length=None)
    names = list(scale_list.HEADINGS.values())
    rows = {
        n: {k: "" if c is None else str(c) for k, c in zip(names, line, strict=True)}
        for n, line in enumerate(frame.rows(), 2)
    }
    assert wrong(rows) == listed(scale_list.FILE, scale_list.SHEET) == {("5", "SL-04", "right_total")}
    assert {row["area"] for row in rows.values()} == {"7007", "7011", "7025", "7039"}
