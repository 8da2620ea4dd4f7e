"""A second scorer, for tests only: one sheet at a time, in inches as exact fractions, by the sheet's own steps.

It shares no line and no type with the product: measures come in by name as `Fraction` inches, figures go out alike.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

NOTHING = Fraction(0)
WHITETAIL_PAIRS = ("beam", "g1", "g2", "g3", "g4", "g5", "g6", "g7", "h1", "h2", "h3", "h4")


@dataclass(frozen=True)
class Rules:
    """How a kind of head is scored: its paired lines, single lines, whether a spread is credited, abnormal points."""

    pairs: Sequence[str]
    abnormal: str = "none"  # "subtracted", "added" or "none"
    spread: bool = False
    singles: Sequence[str] = ()


TYPICAL = Rules(WHITETAIL_PAIRS, "subtracted", spread=True)
NONTYPICAL = Rules(WHITETAIL_PAIRS, "added", spread=True)


def _side(sheet: Mapping[str, Fraction], rules: Rules, side: str) -> Fraction:
    return sum((sheet.get(f"{pair}_{side}", NOTHING) for pair in rules.pairs), NOTHING)


def spread_credit(sheet: Mapping[str, Fraction], rules: Rules) -> Fraction:
    """Inside spread, never more than the longer beam."""
    if not rules.spread:
        return NOTHING
    longer = sheet["beam_r"] if sheet["beam_r"] > sheet["beam_l"] else sheet["beam_l"]
    return longer if sheet["inside_spread"] > longer else sheet["inside_spread"]


def score(sheet: Mapping[str, Fraction], rules: Rules) -> dict[str, Fraction]:
    """Every figure of one sheet, worked out as the sheet prints it."""
    figures: dict[str, Fraction] = {}
    for pair in rules.pairs:
        right, left = sheet.get(f"{pair}_r", NOTHING), sheet.get(f"{pair}_l", NOTHING)
        figures[f"{pair}_diff"] = right - left if right > left else left - right
    differences = sum((figures[f"{pair}_diff"] for pair in rules.pairs), NOTHING)
    abnormal = sheet.get("abnormal_total", NOTHING)
    credit = spread_credit(sheet, rules)
    singles = sum((sheet[single] for single in rules.singles), NOTHING)
    right_total, left_total = _side(sheet, rules, "r"), _side(sheet, rules, "l")
    gross = credit + right_total + left_total + singles
    deductions = differences + (abnormal if rules.abnormal == "subtracted" else NOTHING)
    return figures | {
        "spread_credit": credit,
        "right_total": right_total,
        "left_total": left_total,
        "diff_total": differences,
        "abnormal_total": abnormal,
        "deductions": deductions,
        "gross": gross,
        "net": gross - deductions + (abnormal if rules.abnormal == "added" else NOTHING),
    }


def net_by_shorter_side(sheet: Mapping[str, Fraction], rules: Rules) -> Fraction:
    """The net by a route that shares no step: spread credit and twice the shorter side of every pair."""
    twice = sum((2 * min(sheet.get(f"{p}_r", NOTHING), sheet.get(f"{p}_l", NOTHING)) for p in rules.pairs), NOTHING)
    sign = {"subtracted": -1, "added": 1, "none": 0}[rules.abnormal]
    singles = sum((sheet[single] for single in rules.singles), NOTHING)
    return spread_credit(sheet, rules) + singles + twice + sign * sheet.get("abnormal_total", NOTHING)


def inches(text: str) -> Fraction:
    """ "21 7/8", "4", "3/8" as written in a test -> inches."""
    return sum((Fraction(part) for part in text.split()), NOTHING)


def sheet_text(value: Fraction, unit: int = 8) -> str:
    """Inches as a score sheet writes them: "21 0/8", "3/8", "0"."""
    whole, rest = divmod(value, 1)
    parts = f"{rest * unit}/{unit}"
    return "0" if not value else f"{whole} {parts}" if whole else parts
