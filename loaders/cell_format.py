"""The number format that a spreadsheet reader puts behind a cell's value: `22.625 [# ?/8]`, `2026-03-08 [d-mmm]`.

Only what can be a number format is one: a remark in brackets ("21 7/8 [broken off]") is part of the cell's text.
"""

import re

import polars as pl

# digit places, fraction bar, separators, date and time letters; General is the format of no format
_FORMAT = r"(?:[#?0-9/ .,;:%_*@\\()$+\-dmyhsDMYHS\"]|AM/PM|General|\[h+\])+"
TYPED = rf"(?s)^(.*\S) \[({_FORMAT}|no stored value)\]$"
_TYPED = re.compile(TYPED)


def without_format(cells: pl.Expr) -> pl.Expr:
    """The value alone, as text."""
    return cells.str.replace(TYPED, "$1")


def format_of(cells: pl.Expr) -> pl.Expr:
    """The number format alone; null where there is none."""
    return cells.str.extract(TYPED, 2)


def plain_value(text: str | None) -> str:
    """One text's value without its format, every run of blanks as one, trimmed; "" for None."""
    if text is None:
        return ""
    match = _TYPED.match(text)
    return re.sub(r"[\s\u200b\ufeff]+", " ", match[1] if match else text).strip()
