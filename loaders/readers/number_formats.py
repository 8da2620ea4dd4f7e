"""What a spreadsheet's number format says about a number: fraction, leading zeros, date, time, duration or
nothing.

Section and placeholder rules: ECMA-376 Part 1, 18.8.30 (numFmts) and 18.8.31.
"""

import re
from dataclasses import dataclass

PLAIN, FRACTION, ZEROS, DATE, TIME, DURATION = "plain", "fraction", "zeros", "date", "time", "duration"

# Texts in quotation marks, signs made literal or used as filling, and colours, conditions and locales.
_LITERAL = re.compile(r'"[^"]*"|[\\_*].|\[(?!h+\]|m+\]|s+\])[^\]]*\]', re.IGNORECASE)
_ELAPSED = re.compile(r"\[(?:h+|m+|s+)\]", re.IGNORECASE)
_FRACTION = re.compile(r"[#0?]\s*/\s*[#0?\d]")

# Codes that a workbook uses without writing them down (ECMA-376 Part 1, 18.8.30).
BUILT_IN = {
    12: "# ?/?",
    13: "# ??/??",
    14: "mm-dd-yy",
    15: "d-mmm-yy",
    16: "d-mmm",
    17: "mmm-yy",
    18: "h:mm AM/PM",
    19: "h:mm:ss AM/PM",
    20: "h:mm",
    21: "h:mm:ss",
    22: "m/d/yy h:mm",
    45: "mm:ss",
    46: "[h]:mm:ss",
    47: "mmss.0",
    **dict.fromkeys((*range(27, 32), 36, *range(50, 55), 57, 58), "m/d/yy"),
    **dict.fromkeys((32, 33, 34, 35, 55, 56), "h:mm:ss"),
}


@dataclass(frozen=True)
class NumberFormat:
    """`kind` is one of the constants above; `code` is the format as the workbook writes it."""

    kind: str = PLAIN
    code: str = "General"


def classify(code: str) -> NumberFormat:
    """Sort the number format `code` (for example `# ?/8`, `00000`, `d-mmm`) into its kind."""
    bare = _LITERAL.sub("", code)
    if _ELAPSED.search(bare):
        return NumberFormat(DURATION, code)
    if "general" not in bare.lower() and re.search(r"[dmyhs]", bare, re.IGNORECASE):
        return NumberFormat(TIME if _clock_only(bare) else DATE, code)
    if _FRACTION.search(bare):
        return NumberFormat(FRACTION, code)
    return NumberFormat(ZEROS if _leading_zeros(bare) else PLAIN, code)


def _clock_only(bare: str) -> bool:
    return re.search(r"[dy]", bare, re.IGNORECASE) is None and re.search(r"[hs]", bare, re.IGNORECASE) is not None


def _leading_zeros(bare: str) -> bool:
    whole = bare.partition(";")[0].partition(".")[0]
    return whole.count("0") > 1 and "E" not in bare.upper()
