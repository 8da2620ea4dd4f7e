"""How the seasons' secretaries write a length: four habits, each a table from eighths to text."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Texts = npt.NDArray[np.object_]

LONGEST = 4000  # eighths; beyond every gross
VULGAR = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
HABITS = ("fraction", "fraction-zero", "decimal", "dash", "unicode")


def written(eighths: int, habit: str) -> str:
    """One length (>= 0 eighths) as the habit writes it, such as `8 5/8`, `8.625`, `8-5/8`, `8⅝`."""
    inches, rest = divmod(eighths, 8)
    if habit == "decimal":
        return f"{inches}.{rest * 125:03d}"
    if habit == "unicode":
        return f"{inches or ''}{VULGAR[rest]}" or "0"
    if rest == 0:
        return f"{inches} 0/8" if habit == "fraction-zero" and inches else str(inches)
    if inches == 0:
        return f"{rest}/8"
    return f"{inches}-{rest}/8" if habit == "dash" else f"{inches} {rest}/8"


def tables() -> Texts:
    """The table of every habit, of shape (habit, LONGEST + 2); the last two stand for DASH and BLANK."""
    rows = [[written(e, habit) for e in range(LONGEST)] + ["-", ""] for habit in HABITS]
    return np.array(rows, dtype=object)


def texts(eighths: Ints, habit: Ints, table: Texts) -> Texts:
    """Lengths of shape (n,) as text; `habit` holds each sheet's index into HABITS."""
    return np.asarray(table[habit, eighths], dtype=object)
