"""What a correct audit must report: one table of findings, gathered while the faults are planted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import polars as pl

from sample_data.figures import Ints

QUESTIONS = {
    "two-readings",
    "date-cell",
    "hidden-fraction",
    "blank-point",
    "point-gap",
    "point-count",
    "out-of-bounds",
    "weapon-unclear",
    "date-serial",
    "date-missing",
    "number-not-whole",
    "row-twice",
    "head-twice",
    "column-unmatched",
    "encoding-guessed",
}
NOTES = {
    "reading-chosen",
    "spread-over-beam",
    "area-code-repaired",
    "number-reused",
    "file-twice",
    "column-missing",
    "rows-blank",
    "merged-filled",
    "title-rows",
}
COLUMNS = ("file", "sheet", "row", "entry_no", "code", "cells", "severity")
# The cells a finding names, where that does not depend on the sheet.
CELLS = {
    "measured-before-taken": "taken_on;measured_on",
    "dried-short": "taken_on;measured_on",
    "date-in-future": "measured_on",
    "date-unreadable": "taken_on",
    "date-serial": "taken_on",
    "date-missing": "taken_on",
    "season-mismatch": "season;taken_on",
    "area-unknown": "area",
    "area-code-repaired": "area",
    "district-mismatch": "district",
    "weapon-unknown": "weapon",
    "weapon-unclear": "weapon",
    "measurer-unknown": "measurer",
    "category-unknown": "category",
    "number-not-whole": "entry_no",
    "row-twice": "entry_no",
    "head-twice": "entry_no",
    "number-reused": "entry_no",
    "spread-over-beam": "inside_spread",
    "greatest-under-inside": "greatest_spread;inside_spread",
    "point-gap": "g3_r;g3_l",
}


def severity(code: str) -> str:
    """The severity of a code: error, question or note."""
    return "question" if code in QUESTIONS else "note" if code in NOTES else "error"


@dataclass
class Expected:
    """Findings by the sheet's place in the making, before files and row numbers are known."""

    sheets: list[int] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)
    cells: list[str] = field(default_factory=list)

    def add(self, sheets: Ints, codes: Iterable[str], cells: str | None = None) -> None:
        """Each sheet of `sheets` must be reported under each code; a figure's code is its own cell."""
        for code in codes:
            named = cells if cells is not None else CELLS.get(code, code)
            self.sheets += sheets.tolist()
            self.codes += [code] * len(sheets)
            self.cells += [named] * len(sheets)

    def table(self) -> pl.DataFrame:
        """As a table: sheet_id, code, cells, severity."""
        return pl.DataFrame(
            {
                "sheet_id": pl.Series(self.sheets, dtype=pl.Int64),
                "code": self.codes,
                "cells": self.cells,
                "severity": [severity(code) for code in self.codes],
            }
        )
