"""Builds wide CSV files of score sheets in a test's folder and runs the whole audit over them.

The clean sheet is invented; its stated figures are worked out by `plain_scoring`, not by the product.
"""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeVar

from loaders.check import Checked, Settings, check_files
from loaders.fields import stated_fields
from loaders.names import Names, make_names
from tests.plain_scoring import NONTYPICAL, TYPICAL, inches, score, sheet_text

TODAY = date(2026, 11, 25)
NAMES = make_names(
    areas=[("07001", "Abberlow", "ZZ", "North"), ("07003", "Brackwater", "ZZ", "South")],
    aliases=[("Old Abberlow", "07001")],
    measurers=[("M-12", "Wystan Carrow")],
)
ENTRY = {
    "entry_no": "17", "category": "whitetail-typical", "hunter": "Tarn Holtquarry", "tag_no": "T-4",
    "area": "Abberlow", "state": "ZZ", "district": "North", "taken_on": "2025-11-08", "season": "2025-26",
    "weapon": "rifle", "antler_state": "", "age": "", "measured_on": "2026-01-20", "measurer": "M-12", "points_r": "7",
    "points_l": "5",
}  # fmt: skip
MEASURES = {
    "inside_spread": "17 4/8", "tip_to_tip": "12 2/8", "greatest_spread": "19 6/8",
    "beam_r": "22 1/8", "beam_l": "21 6/8", "g1_r": "4 2/8", "g1_l": "4 0/8", "g2_r": "9 1/8", "g2_l": "8 5/8",
    "g3_r": "8 0/8", "g3_l": "8 3/8", "g4_r": "5 2/8", "g4_l": "4 6/8", "g5_r": "", "g5_l": "", "g6_r": "",
    "g6_l": "", "g7_r": "", "g7_l": "", "h1_r": "4 3/8", "h1_l": "4 4/8", "h2_r": "4 1/8", "h2_l": "4 1/8",
    "h3_r": "4 5/8", "h3_l": "4 4/8", "h4_r": "4 0/8", "h4_l": "3 7/8", "abnormal_r": "1 2/8; 2 1/8", "abnormal_l": "",
}  # fmt: skip

Row = dict[str, str]
Case = TypeVar("Case")
REPEATS = ("row-twice", "head-twice", "entry-twice", "number-reused")


def figures_of(measures: Mapping[str, str], category: str) -> dict[str, Fraction]:
    """Every figure of measures written as text, in inches."""
    listed = [part for side in "rl" for part in measures[f"abnormal_{side}"].split(";") if part.strip()]
    plain = {name: inches(text) for name, text in measures.items() if not name.startswith("abnormal")}
    plain["abnormal_total"] = sum(map(inches, listed), Fraction(0))
    return score(plain, NONTYPICAL if category == "whitetail-nontypical" else TYPICAL)


def clean_sheet(**changes: str) -> Row:
    """A sheet without a fault; `changes` are made to its measures or entry before its figures are worked out."""
    measures = MEASURES | {name: text for name, text in changes.items() if name in MEASURES}
    entry = ENTRY | {name: text for name, text in changes.items() if name not in MEASURES}
    stated = {name: sheet_text(value) for name, value in figures_of(measures, entry["category"]).items()}
    return entry | measures | stated


def as_csv(rows: Sequence[Mapping[str, str]]) -> bytes:
    """The rows as a CSV file, headed by the names of the first row's fields."""
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue().encode()


def audit_bytes(folder: Path, data: bytes, name: str = "show.csv", names: Names = NAMES) -> Checked:
    """Write one file and audit it."""
    path = folder / name
    path.write_bytes(data)
    return check_files([path], Settings(TODAY, names))


@dataclass(frozen=True)
class Finding:
    """A finding and the number of its row in the file (None: the file as a whole)."""

    row: int | None
    code: str
    severity: str
    cells: tuple[str, ...]
    stated: str | None
    expected: str | None
    message: str


def findings_of(checked: Checked) -> list[Finding]:
    """Every finding of a run, in its order."""
    found = []
    for audited in checked.tables:
        for one in audited.findings.to_dicts():
            place = one.pop("id")
            row = None if place is None else audited.table.rows[place]
            found.append(Finding(row=row, **(one | {"cells": tuple(one["cells"])})))
    return found


def audit_rows(folder: Path, *rows: Mapping[str, str], names: Names = NAMES) -> list[Finding]:
    """Findings of a file of these sheets."""
    return findings_of(audit_bytes(folder, as_csv(rows), names=names))


def brief(found: Sequence[Finding]) -> list[tuple[str, str]]:
    """(code, cells joined by ;) of each finding."""
    return [(one.code, ";".join(one.cells)) for one in found]


@dataclass(frozen=True)
class SheetAudit:
    """One sheet of many: its findings as if it stood alone (row 2), and its figures in eighths (None: not known)."""

    findings: list[Finding]
    figures: dict[str, int | None]

    @property
    def unknown(self) -> set[str]:
        """The figures that could not be recomputed."""
        return {figure for figure, value in self.figures.items() if value is None}


def audit_each(rows: Mapping[Case, Mapping[str, str]]) -> dict[Case, SheetAudit]:
    """Audit many cases as one file, for speed. That they repeat each other on purpose is left out."""
    with TemporaryDirectory() as folder:
        checked = audit_bytes(Path(folder), as_csv(list(rows.values())))
    (audited,) = checked.tables
    figures: dict[int, dict[str, int | None]] = {}
    for sheets in audited.sheets:
        kept = sheets.frame.select("id", *(figure for figure in stated_fields() if figure in sheets.frame.columns))
        figures |= {row.pop("id"): row for row in kept.to_dicts()}
    found: dict[int | None, list[Finding]] = {}
    for one in findings_of(checked):
        if one.code not in REPEATS:
            found.setdefault(one.row, []).append(replace(one, row=2))
    return {case: SheetAudit(found.get(n + 2, []), figures.get(n, {})) for n, case in enumerate(rows)}
