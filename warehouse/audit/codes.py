"""The one table of finding codes. The documentation and the pages print it; rules may use no code outside it.

Severity: an *error* stops acceptance, a *question* asks the committee, a *note* informs. A row with an error or a
question is held until a person has decided.
"""

from dataclasses import dataclass
from typing import Literal

from warehouse.scoring import TOTALS

Severity = Literal["error", "question", "note"]
SEVERITIES: tuple[Severity, ...] = ("error", "question", "note")
HOLDS: tuple[Severity, ...] = ("error", "question")


@dataclass(frozen=True)
class Code:
    """One kind of finding: how grave, what it is in a few words, and what to do about it."""

    severity: Severity
    title: str
    what_to_do: str


_LOOK = "Compare with the paper sheet; correct the cell that is wrong, here or by sending the row again."
_ASK = "Ask the sender; correct the row and send it again, or accept it as it is."

CODES: dict[str, Code] = {
    # notation
    "unreadable": Code("error", "Cell cannot be read", "Write the length as inches and eighths, like 21 3/8."),
    "two-readings": Code("question", "Two readings of a length", "Say which is meant: eighths (8 5/8) or a decimal (8 4/8)."),
    "reading-chosen": Code("note", "Reading decided by the figures or the writer's habit", "Nothing, unless the reading is wrong."),
    "date-cell": Code("question", "A spreadsheet made a date of a length", "Confirm the length; format the column as text."),
    "hidden-fraction": Code("question", "A fraction format hides another number", "Confirm the length that was measured."),
    # measures
    "missing-measure": Code("error", "A measure every head has is blank", _LOOK),
    "circumference-missing": Code("error", "Fewer than four circumferences", _LOOK),
    "blank-point": Code("question", "A point blank on one side only", "Say whether it is absent (write -) or was forgotten."),
    "point-gap": Code("question", "A gap in the points", _LOOK),
    "point-under-inch": Code("error", "A point under one inch", "A projection under an inch is no point; take it off the sheet."),
    "point-count": Code("question", "Point count and recorded lengths differ", _LOOK),
    "parity": Code("error", "Net, spread and abnormal points cannot belong together", _LOOK),
    "greatest-under-inside": Code("error", "Greatest spread under the inside spread", _LOOK),
    "spread-over-beam": Code("note", "Spread credit capped at the longer beam", "Nothing: the cap has been applied."),
    "out-of-bounds": Code("question", "A measure outside what the species grows", _LOOK),
    # entry
    "category-unknown": Code("error", "Unknown category", "Use a category of the book, such as whitetail-typical."),
    "weapon-unknown": Code("error", "Unknown weapon", "Use rifle, shotgun, handgun, muzzleloader, bow, crossbow or found."),
    "weapon-unclear": Code("question", "Weapon not told apart", "The book tells rifle, shotgun and handgun apart: say which."),
    "antler-state-unknown": Code("question", "Antlers neither hard nor in velvet", "Write hard or velvet; blank means hard."),
    "age-unread": Code("note", "Age cannot be read", "Write the age in years and half years, from 0.5 to 20, like 4.5."),
    "area-unknown": Code("error", "Unknown county or parish", "Use a name or code of the book's area table, or add an alias."),
    "area-code-repaired": Code("note", "Area code had lost its leading zero", "Nothing; format the column as text."),
    "area-code-followed": Code("note", "Area code had ended", "Nothing; write the new code for heads taken since."),
    "district-mismatch": Code("error", "District is not the area's", _LOOK),
    "measurer-unknown": Code("error", "Unknown measurer", "Only certified measurers count: check the number or name."),
    "date-missing": Code("question", "Date missing", _ASK),
    "date-unreadable": Code("error", "Date cannot be read", "Write dates as year-month-day, like 2025-11-08."),
    "date-serial": Code("question", "Bare spreadsheet number for a date", "Confirm the date; format the column as a date."),
    "measured-before-taken": Code("error", "Measured before it was taken", _LOOK),
    "dried-short": Code("error", "Dried under 60 days", "Have it measured again after the drying period."),
    "date-in-future": Code("error", "Date in the future", _LOOK),
    "season-mismatch": Code("error", "Season is not the date's", _LOOK),
    "number-not-whole": Code("question", "Entry number is not whole", _ASK),
    # duplicates
    "row-twice": Code("question", "The same row twice", "Take one of the two out."),
    "entry-twice": Code("question", "The same number, hunter and date twice", "Say which of the rows counts."),
    "head-twice": Code("question", "The same measures under another number", "Decide whether it is one head."),
    "number-reused": Code("note", "The same number for another head", "Nothing, if the sender numbers anew each season."),
    "file-twice": Code("note", "A file that was loaded before", "Nothing: it was not loaded again."),
    # file
    "column-unmatched": Code("question", "Column matches no field", "Name its field with --map, or set it aside with --map NAME=-."),
    "column-missing": Code("note", "Columns the file does not have", "Nothing, if the sheets do not carry them."),
    "column-needed": Code("error", "No column for a measure every head has", "Send the measures too: without them nothing can be recomputed."),
    "column-twice": Code("error", "Two columns for one field", "Rename one of them, or use --map."),
    "sheet-unread": Code("question", "A workbook's sheet holds no score sheets", "Nothing, if it is meant so; else give it a row of headings."),
    "rows-blank": Code("note", "Blank rows", "Nothing."),
    "merged-filled": Code("note", "Merged cells filled", "Nothing."),
    "title-rows": Code("note", "Rows above the headings", "Nothing."),
    "encoding-guessed": Code("question", "Encoding guessed", "Check the accented names; save the file as UTF-8."),
    "extra-cells": Code("error", "More cells than headings", "Quote text that holds the delimiter, and send the row again."),
}  # fmt: skip

_FIGURE = Code("error", "Stated figure disagrees with the measures", _LOOK)
FIGURE_TITLES = {
    "spread_credit": "Spread credit",
    "right_total": "Right total",
    "left_total": "Left total",
    "diff_total": "Total of differences",
    "abnormal_total": "Abnormal total",
    "deductions": "Deductions",
    "gross": "Gross score",
    "net": "Net score",
}


def is_figure(code: str) -> bool:
    """Whether a code is the name of a stated figure (`gross`, `g2_diff`)."""
    return code in TOTALS or code.endswith("_diff")


def code_of(code: str) -> Code:
    """The table's entry for a code; every stated figure shares one. Raises KeyError for a code that is not there."""
    return _FIGURE if is_figure(code) else CODES[code]


def title_of(code: str) -> str:
    """A code in words: "Gross score", "G2 difference", "Dried under 60 days"."""
    if code in FIGURE_TITLES:
        return f"{FIGURE_TITLES[code]} {'do' if code == 'deductions' else 'does'} not add up"
    if code.endswith("_diff"):
        line = code.removesuffix("_diff")
        return f"{'Main beam' if line == 'beam' else line.upper()} difference does not add up"
    return CODES[code].title
