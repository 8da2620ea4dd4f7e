"""club_night.xlsx: a club's own workbook with titles, a heading over two rows, fraction formats, dates."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.worksheet.worksheet import Worksheet

from sample_data.eighths_text import written
from sample_data.messy_findings import MessyFindings
from sample_data.messy_heads import Head
from sample_data.workbooks import save_workbook

FILE = "club_night.xlsx"
FRACTION = "# ?/8"
FIRST_ROW = 5
BLANK_AFTER = 4  # data rows before the blank row of Night 1
SINGLE = {
    "No.": "entry_no",
    "Category": "category",
    "Hunter": "hunter",
    "": "",
    "County": "area",
    "State": "state",
    "Date Taken": "taken_on",
    "Weapon": "weapon",
    "Date Measured": "measured_on",
    "Measurer": "measurer",
    "Inside Spread": "inside_spread",
    "Tip to Tip": "tip_to_tip",
    "Greatest Spread": "greatest_spread",
}
LINES = {"Main Beam": "beam"} | {f"{k}{i}": f"{k.lower()}{i}" for k, n in (("G", 5), ("H", 4)) for i in range(1, n + 1)}
TOTALS = {
    "Abnormal Total": "abnormal_total",
    "Spread Credit": "spread_credit",
    "Right Total": "right_total",
    "Left Total": "left_total",
    "Total Diff": "diff_total",
    "Deductions": "deductions",
    "Gross": "gross",
    "Net": "net",
}
SECOND = (
    {
        "No.": "entry_no",
        "Category": "category",
        "Hunter Name": "hunter",
        "Landowner": "",
        "County / Parish": "area",
        "State": "state",
        "Date Taken": "taken_on",
        "Weapon": "weapon",
        "Date Measured": "measured_on",
        "Measurer": "measurer",
        "Inside Spr.": "inside_spread",
        "R Main Beam": "beam_r",
        "L Main Beam": "beam_l",
    }
    | {
        f"{k}-{i} {s}": f"{k.lower()}{i}_{s.lower()}"
        for k, n in (("G", 5), ("H", 4))
        for i in range(1, n + 1)
        for s in "RL"
    }
    | {"Abn. Total": "abnormal_total", "Right Total": "right_total", "Left Total": "left_total"}
    | {"Gross Score": "gross", "Net Score": "net"}
)
WORDS = {
    "whitetail-typical": "Whitetail Typical",
    "whitetail-nontypical": "Whitetail Non-Typical",
    "bow": "Archery",
    "rifle": "Rifle",
    "muzzleloader": "Muzzleloader",
}


def fields() -> dict[str, tuple[str, ...]]:
    """The fields each sheet of the workbook has."""
    paired = [f"{line}_{part}" for line in LINES.values() for part in ("r", "l", "diff")]
    first = [name for name in SINGLE.values() if name]
    return {
        "Night 1": (*first, *paired, *TOTALS.values()),
        "Night 2": tuple(name for name in SECOND.values() if name),
    }


def _put_length(cell: Cell, eighths: int, as_text: bool) -> None:
    if eighths < 0:
        return
    if eighths % 8 == 0:
        cell.value = eighths // 8
    elif as_text:
        cell.value = written(eighths, "fraction")
    else:
        cell.value = eighths / 8
        cell.number_format = FRACTION


def _put(cell: Cell, head: Head, name: str, as_text: bool) -> None:
    """The field `name` of the head into the cell, as a club's typist would have it."""
    if name in head.attributes:
        text = head.attributes[name]
        if name in ("taken_on", "measured_on"):
            cell.value = dt.date.fromisoformat(text)
            cell.number_format = "yyyy-mm-dd"
        else:
            cell.value = WORDS.get(text, text)
    elif name:
        _put_length(cell, (head.lines | head.stated)[name], as_text)


def _heading_of_night_one(page: Worksheet) -> list[str]:
    """The titles and the heading over rows 3 and 4; returns each column's field ("" for the blank one)."""
    page["A1"] = "Lantern Hill Stalkers"
    page["A2"] = "Measuring night, sheets as called out"
    names: list[str] = []
    for title, name in (*SINGLE.items(), *TOTALS.items()):
        if title == "Abnormal Total":
            for line, short in LINES.items():
                at = len(names) + 1
                page.cell(3, at, line)
                page.merge_cells(start_row=3, start_column=at, end_row=3, end_column=at + 2)
                for k, part in enumerate(("R", "L", "Diff")):
                    page.cell(4, at + k, part)
                names += [f"{short}_{part}" for part in ("r", "l", "diff")]
        at = len(names) + 1
        if title:
            page.cell(3, at, title)
            page.merge_cells(start_row=3, start_column=at, end_row=4, end_column=at)
        names.append(name)
    return names


def _night_one(page: Worksheet, heads: list[Head], found: MessyFindings) -> None:
    names = _heading_of_night_one(page)
    heads[2].stated["gross"] += 8
    heads[4].attributes["measurer"] = "Obrin Talloway"
    rows = [FIRST_ROW + i + (i >= BLANK_AFTER) for i in range(len(heads))]
    for row, head in zip(rows, heads, strict=True):
        for at, name in enumerate(names, start=1):
            cell = page.cell(row, at)
            assert isinstance(cell, Cell)
            _put(cell, head, name, as_text=False)

    def note(i: int, code: str, cells: str | None = None) -> None:
        found.add(FILE, rows[i], heads[i].entry_no, code, cells, "Night 1")

    note(2, "gross")
    note(4, "measurer-unknown")
    # 3/8 and 2/8 typed into a cell without a format: the spreadsheet took them for days of March and February
    for i, name in ((0, "h1_diff"), (3, "g2_diff")):
        cell = page.cell(rows[i], names.index(name) + 1)
        cell.value = dt.date(2026, heads[i].stated[name], 8)
        cell.number_format = "d-mmm"
        note(i, "date-cell", name)
    hidden = page.cell(rows[5], names.index("beam_r") + 1)
    hidden.value = heads[5].lines["beam_r"] // 8 + 0.4
    hidden.number_format = FRACTION
    note(5, "hidden-fraction", "beam_r")


def _night_two(page: Worksheet, heads: list[Head], found: MessyFindings) -> None:
    for at, title in enumerate(SECOND, start=1):
        page.cell(1, at, title)
    heads[1].attributes["weapon"] = "gun"
    heads[2].stated["left_total"] -= 8
    heads[2].stated["gross"] -= 8
    heads[2].stated["net"] -= 8
    for row, head in enumerate(heads, start=2):
        for at, (title, name) in enumerate(SECOND.items(), start=1):
            cell = page.cell(row, at)
            assert isinstance(cell, Cell)
            if title == "Landowner":
                cell.value = ("self", "the hunter's aunt", "not told")[row % 3]
            else:
                _put(cell, head, name, as_text=True)
    found.add(FILE, 3, heads[1].entry_no, "weapon-unclear", sheet="Night 2")
    for code in ("left_total", "gross", "net"):
        found.add(FILE, 4, heads[2].entry_no, code, sheet="Night 2")


def suits(head: Head) -> bool:
    """Whether the workbook has a column for all the head has, and words for its category and weapon."""
    return head.lines["g6_r"] < 0 and head.attributes["weapon"] in WORDS


def write(folder: Path, heads: list[Head], found: MessyFindings) -> None:
    """Write the workbook: the first seven heads on one sheet, the rest on the other."""
    # the faults of Night 1 need these figures: the difference must read as a month, the beam end near .4
    heads[0].lines["h1_l"] = heads[0].lines["h1_r"] + 3
    heads[3].lines["g2_r"] = heads[3].lines["g2_l"] + 2
    heads[5].lines["beam_r"] += 3 - heads[5].lines["beam_r"] % 8
    for head in heads:
        head.restate()
    book = Workbook()
    first = book.active
    assert isinstance(first, Worksheet)
    first.title = "Night 1"
    _night_one(first, heads[:7], found)
    _night_two(book.create_sheet("Night 2"), heads[7:], found)
    save_workbook(book, folder / FILE)
