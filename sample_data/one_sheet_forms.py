"""One sheet a file, label beside value, then a table of lines: as a workbook and as a CSV."""

from __future__ import annotations

import csv
from pathlib import Path

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from sample_data.eighths_text import written
from sample_data.messy_findings import MessyFindings
from sample_data.messy_heads import Head
from sample_data.workbooks import save_workbook

LABELS = {
    "Entry No.": "entry_no",
    "Category": "category",
    "Hunter": "hunter",
    "Tag No.": "tag_no",
    "County": "area",
    "State": "state",
    "Date Taken": "taken_on",
    "Weapon": "weapon",
    "Date Measured": "measured_on",
    "Measurer": "measurer",
    "Points Right": "points_r",
    "Points Left": "points_l",
    "Inside Spread": "inside_spread",
    "Tip to Tip": "tip_to_tip",
    "Greatest Spread": "greatest_spread",
}
LINES = {"Main beam": "beam"} | {f"{k}{i}": f"{k.lower()}{i}" for k, n in (("G", 7), ("H", 4)) for i in range(1, n + 1)}
TOTALS = {
    "Abnormal total": "abnormal_total",
    "Spread credit": "spread_credit",
    "Right total": "right_total",
    "Left total": "left_total",
    "Difference total": "diff_total",
    "Deductions": "deductions",
    "Gross score": "gross",
    "Net score": "net",
}


def printed(head: Head) -> dict[str, str]:
    """LINES without those that have a length on neither side: what is left when the empty rows are deleted."""
    return {k: v for k, v in LINES.items() if max(head.lines[f"{v}_r"], head.lines[f"{v}_l"]) >= 0}


def fields(lines: dict[str, str]) -> tuple[str, ...]:
    """The fields of a form that has a row for each of the lines, filled in or not."""
    paired = [f"{line}_{part}" for line in lines.values() for part in ("r", "l", "diff")]
    return (*LABELS.values(), *paired, *TOTALS.values())


def _text(head: Head, name: str) -> str:
    if name in head.attributes:
        return head.attributes[name]
    if name in head.points:
        return str(head.points[name])
    eighths = (head.lines | head.stated)[name]
    return "" if eighths < 0 else written(eighths, "fraction")


def _rows(head: Head, lines: dict[str, str]) -> list[list[str]]:
    """The form as rows of text, with a row for each of the lines."""
    out = [[label, _text(head, name)] for label, name in LABELS.items()]
    out += [["Line", "Right", "Left", "Difference"]]
    out += [[label, *(_text(head, f"{name}_{p}") for p in ("r", "l", "diff"))] for label, name in lines.items()]
    return out + [[label, _text(head, name)] for label, name in TOTALS.items()]


def write(folder: Path, heads: list[Head], found: MessyFindings) -> dict[tuple[str, str | None], tuple[str, ...]]:
    """The first head as one_sheet_form.xlsx, faultless; the second as one_sheet_form.csv, its gross wrong.

    The workbook's empty rows were deleted; the CSV has every line as printed, those of missing points left blank.
    Returns the fields each has, by file and workbook sheet.
    """
    book = Workbook()
    page = book.active
    assert isinstance(page, Worksheet)
    page.title = "Form"
    kept = printed(heads[0])
    for row in _rows(heads[0], kept):
        page.append([text or None for text in row])
    save_workbook(book, folder / "one_sheet_form.xlsx")
    heads[1].stated["gross"] += 16
    with (folder / "one_sheet_form.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(_rows(heads[1], LINES))
    # a form begins at its first row, and that is the row its sheet is reported under
    found.add("one_sheet_form.csv", 1, heads[1].entry_no, "gross")
    return {("one_sheet_form.xlsx", "Form"): fields(kept), ("one_sheet_form.csv", None): fields(LINES)}
