"""What a script per row would do: the same recomputation with Fraction, and with careful integer code."""

import csv
import time
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from tests.benchmarks.many_sheets import PAIRS

FIELDS = ("inside_spread", *(f"{name}_{side}" for name in PAIRS for side in "rl"), "gross", "net")


def _fraction(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


@cache
def _eighths(text: str) -> int:
    whole, _, rest = text.partition(" ")
    return int(whole) * 8 + int(rest[0]) if rest else int(whole) * 8


def seconds_with_fraction(path: Path) -> tuple[float, int]:
    """Seconds to recompute gross and net of every row with Fraction, reading not counted; rows that disagree."""
    return _timed(path, _fraction)


def seconds_with_integers(path: Path) -> tuple[float, int]:
    """The same in whole eighths, each spelling parsed once."""
    return _timed(path, _eighths)


def _timed(path: Path, number: Callable[[str], Any]) -> tuple[float, int]:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    start = time.perf_counter()
    wrong = sum(_disagrees(row, number) for row in rows)
    return time.perf_counter() - start, wrong


def _disagrees(row: dict[str, str], number: Callable[[str], Any]) -> bool:
    read = number  # the two readers share this loop
    right = [read(row[f"{name}_r"]) for name in PAIRS]
    left = [read(row[f"{name}_l"]) for name in PAIRS]
    credit = min(read(row["inside_spread"]), max(right[0], left[0]))
    differences = sum(abs(one - other) for one, other in zip(right, left, strict=True))
    gross = credit + sum(right) + sum(left)
    return bool(gross != read(row["gross"]) or gross - differences != read(row["net"]))
