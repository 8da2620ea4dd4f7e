"""Every word the pages say for a code of the book, and the one way other people's text gets into a sentence."""

import re

from warehouse.categories import all_categories
from warehouse.plain_text import shown

CAUTION = (
    "A book’s own rules and local law outrank this program. It recomputes and compares what sheets say; "
    "it decides nothing for a book."
)
SEVERITIES = {"error": "Error", "question": "Question", "note": "Note"}
SIGNS = {"error": "▲", "question": "?", "note": "·"}
WEAPON_CLASSES = {
    "firearm": "Firearm",
    "muzzleloader": "Muzzleloader",
    "bow": "Bow",
    "crossbow": "Crossbow",
    "found": "Found dead",
    "any": "any weapon",
}
STATUSES = {"accepted": "Accepted", "held": "Held"}
TOTALS = {
    "spread_credit": "Spread credit",
    "right_total": "Right total",
    "left_total": "Left total",
    "diff_total": "Difference total",
    "abnormal_total": "Abnormal total",
    "deductions": "Deductions",
    "gross": "Gross score",
    "net": "Net score",
}
FIELDS = {
    "entry_no": "Entry number", "category": "Category", "hunter": "Hunter", "tag_no": "Tag number",
    "area": "Area", "state": "State", "district": "District", "taken_on": "Date taken", "season": "Season",
    "weapon": "Weapon", "measured_on": "Date measured", "measurer": "Measurer", "points_r": "Points, right",
    "points_l": "Points, left", "abnormal_r": "Abnormal, right", "abnormal_l": "Abnormal, left", **TOTALS,
}  # fmt: skip
CODES = {
    "unreadable": "Length cannot be read",
    "two-readings": "Length can be read in two ways",
    "reading-chosen": "Reading settled by the sheet’s own figures",
    "date-cell": "Spreadsheet made a date of a fraction",
    "hidden-fraction": "Number hides behind a fraction format",
    "missing-measure": "Beam or inside spread missing",
    "circumference-missing": "Circumference missing",
    "blank-point": "Point blank on one side",
    "point-gap": "Point missing in the row of points",
    "point-under-inch": "Point shorter than an inch",
    "point-count": "Count of points does not fit",
    "greatest-under-inside": "Greatest spread below inside spread",
    "spread-over-beam": "Spread credit capped by the longer beam",
    "out-of-bounds": "Measure unusual for the species",
    "category-unknown": "Category not known",
    "weapon-unknown": "Weapon not known",
    "weapon-unclear": "Weapon not clear",
    "area-unknown": "Area not known",
    "measurer-unknown": "Measurer not known",
    "district-mismatch": "District does not fit the area",
    "area-code-repaired": "Area code lost its leading zero",
    "date-unreadable": "Date cannot be read",
    "date-serial": "Date is a bare spreadsheet number",
    "date-missing": "Date missing",
    "measured-before-taken": "Measured before it was taken",
    "dried-short": "Dried less than 60 days",
    "date-in-future": "Date lies in the future",
    "season-mismatch": "Season does not fit the date",
    "number-not-whole": "Entry number is not whole",
    "row-twice": "Row came twice",
    "head-twice": "Same head under another number",
    "number-reused": "Entry number used for another head",
    "file-twice": "File received before",
    "column-unmatched": "Column not recognised",
    "column-missing": "Columns left out",
    "column-twice": "Column came twice",
    "rows-blank": "Blank rows skipped",
    "merged-filled": "Merged cells filled in",
    "title-rows": "Title rows skipped",
    "encoding-guessed": "Letters’ encoding was guessed",
    "extra-cells": "Row has more cells than headings",
}
# Markdown acts on these signs; behind a backslash each is only itself (CommonMark 2.4, from memory).
_MARKDOWN = re.compile(r"([!-/:-@\[-`{-~])")
# Streamlit turns :word: into icons and -> into arrows after Markdown is done, so a backslash is too late for those:
# an invisible word joiner keeps them apart.
_AFTERWARDS = re.compile(r"(?<=[:<>=~-])(?=[^\s:])|(?<=:)(?=:)")
WORD_JOINER = "\u2060"


def plain(text: str) -> str:
    """Other people's text for a place that reads Markdown: it comes out letter for letter, on one line, and acts on
    nothing.
    """
    joined = _AFTERWARDS.sub(WORD_JOINER, " ".join(shown(text).split()))
    return _MARKDOWN.sub(r"\\\1", joined)


def code_words(code: str) -> str:
    """What a finding code means: `g2_diff` is "G2 difference"."""
    return CODES.get(code) or field_words(code)


def field_words(field: str) -> str:
    """What a field is called on the pages: `g2_r` is "G2, right"."""
    return FIELDS.get(field) or _line_words().get(field) or field.replace("_", " ").replace("-", " ")


def category_words(code: str | None) -> str:
    """The category's name; the code where there is no such category."""
    category = all_categories().get(code or "")
    return category.name if category else (code or "Not known")


def weapon_words(weapon_class: str | None) -> str:
    """The weapon class as a label."""
    return WEAPON_CLASSES.get(weapon_class or "", weapon_class or "Not known")


def counted(number: int, one: str, many: str | None = None) -> str:
    """ "1 sheet", "2 sheets", "1,204 sheets"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def _line_words() -> dict[str, str]:
    found: dict[str, str] = {}
    for category in all_categories().values():
        for line in category.lines:
            found[line.name] = line.label
            found[f"{line.name}_r"], found[f"{line.name}_l"] = f"{line.label}, right", f"{line.label}, left"
            found[line.difference] = f"{line.label.removesuffix(' (brow)')} difference"
    return found
