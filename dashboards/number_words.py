"""Figures of statistics in words: changes a year with their interval, p, lists of names."""

import math
from collections.abc import Mapping, Sequence

MOST_PERCENT = 1000  # above, a change a year tells that hardly anything is known, whatever its figure

LEAST_P = 0.001


def count(number: int | None) -> str:
    """ "1,234"; "-" where there is none."""
    return "-" if number is None else f"{number:,}"


def size_of(percent: float) -> str:
    """ "3.7 %", whichever way it goes; from `MOST_PERCENT` on "over 1,000 %"."""
    return f"{abs(percent):.1f} %" if percent < MOST_PERCENT else f"over {MOST_PERCENT:,} %"


def change_a_year(percent: float, more: str = "more", fewer: str = "fewer") -> str:
    """ "3.7 % more", "1.2 % fewer"."""
    return f"{size_of(percent)} {more if round(percent, 1) >= 0 else fewer}"


def percent_text(row: Mapping[str, float | None]) -> str:
    """Per cent a year with its interval in a cell of a table: "+5.7 (+2.6 to +8.8)"; "-" where there is no trend."""
    value, lower, upper = (_percent(row[name]) for name in ("percent", "percent_lower", "percent_upper"))
    return "-" if row["percent"] is None else f"{value} ({lower} to {upper})"


def _percent(figure: float | None) -> str:
    if figure is None:
        return "-"
    return signed(figure, 1) if figure < MOST_PERCENT else f">{MOST_PERCENT}"


def interval(lower: float, upper: float, more: str = "more", fewer: str = "fewer") -> str:
    """ "2.2 to 5.2 % more", "5.8 to 2.4 % fewer", "1.2 % fewer to 2.9 % more"."""
    if (lower < 0) != (upper < 0) or not upper < MOST_PERCENT:
        return f"{change_a_year(lower, more, fewer)} to {change_a_year(upper, more, fewer)}"
    return f"{abs(lower):.1f} to {change_a_year(upper, more, fewer)}"


def signed(value: float, digits: int = 2) -> str:
    """ "+0.11", "-0.05", "0.00"."""
    text = f"{value:+.{digits}f}"
    return text[1:] if not text.strip("+-0.") else text


def limits(lower: float, upper: float, digits: int = 2) -> str:
    """ "95 % interval +0.03 to +0.20"; in words where there are none."""
    if not (math.isfinite(lower) and math.isfinite(upper)):
        return "the seasons are too few for an interval"
    return f"95 % interval {signed(lower, digits)} to {signed(upper, digits)}"


def chance(p: float) -> str:
    """ "p = 0.035", "p = 0.60", "p below 0.001"."""
    return f"p below {LEAST_P}" if p < LEAST_P else f"p = {p_text(p)}"


def p_text(p: float | None) -> str:
    """p in a cell of a table: "0.035", "0.60", "<0.001"; "-" for none."""
    if p is None:
        return "-"
    if p < LEAST_P:
        return f"<{LEAST_P}"
    return f"{p:.3f}" if p < 0.1 else f"{p:.2f}"


def rate(value: float | None) -> str:
    """A rate with as many digits as tell something: "0.031", "1.91", "52.3", "1,204"; "-" for none."""
    if value is None:
        return "-"
    digits = 3 if 0 < value < 0.1 else 2 if value < 10 else 1 if value < 100 else 0
    return f"{value:,.{digits}f}"


def rate_interval(value: float | None, lower: float | None, upper: float | None) -> str:
    """ "1.91 (1.35 to 2.63)"; "-" for none."""
    return "-" if value is None else f"{rate(value)} ({rate(lower)} to {rate(upper)})"


def share(value: float | None) -> str:
    """A share as per cent: "13 %", "0.4 %"; "-" for none."""
    if value is None:
        return "-"
    return f"{100 * value:.1f} %" if 0 < value < 0.1 else f"{100 * value:.0f} %"


def named(names: Sequence[str], most: int = 12) -> str:
    """ "A", "A and B", "A, B and C"; beyond `most` "A, B and 14 more"."""
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
