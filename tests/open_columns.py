"""Seeded files of whitetail sheets written with decimals that have two readings, and how well they were read.

Measures are half inches ("8.0", "8.5") or any eighth; a writer has one habit for measures and differences and one
for totals. Some sheets carry one slip: a cell that says up to an inch more or less than it should.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray

from loaders.check import Settings, check_files

Units = NDArray[np.int64]

PAIRS = {
    "beam": (20, 24), "g1": (3, 6), "g2": (7, 11), "g3": (7, 11), "g4": (3, 7),
    "h1": (4, 5), "h2": (4, 5), "h3": (4, 5), "h4": (3, 5),
}  # fmt: skip
TOTALS = ("spread_credit", "right_total", "left_total", "diff_total", "abnormal_total", "deductions", "gross", "net")
DIGITS = {
    "eighths": ["0", "1", "2", "3", "4", "5", "6", "7"],
    "decimals": ["0", "125", "25", "375", "5", "625", "75", "875"],
    "rounded": ["0", "1", "3", "4", "5", "6", "8", "9"],
}
OPEN_DIGITS = {"eighths": "3456", "decimals": "4", "rounded": "234567"}  # the eighths whose digits have two readings
HALF = {"eighths": 5, "decimals": 4, "rounded": 4}  # what ".5" is worth


@dataclass(frozen=True)
class Writer:
    """Who measured, and how measures and differences, and totals, are written (keys of DIGITS)."""

    measurer: str
    measures: str
    totals: str


@dataclass(frozen=True)
class Score:
    """Open cells of a file: how many, read right, read wrong without a question, and asked about."""

    cells: int
    right: int
    wrong: int
    asked: int


@dataclass(frozen=True)
class Written:
    """A file's cells as `texts`, the eighths each was written for, and which have two readings."""

    texts: dict[str, pl.Series]
    units: dict[str, Units]
    is_open: dict[str, NDArray[np.bool_]]

    def save(self, path: Path) -> None:
        """Write the file as CSV."""
        pl.DataFrame(self.texts).write_csv(path)


def written(writers: Sequence[Writer], sheets: int, halves: bool, slips: float, seed: int) -> Written:
    """Sheets of these writers in turn; `slips` is the share of sheets with one slip."""
    rng = np.random.default_rng(seed)
    parts = [
        _of_writer(rng, writer, len(range(n, sheets, len(writers))), halves, slips) for n, writer in enumerate(writers)
    ]
    shuffled = rng.permutation(sheets)
    texts = {name: pl.concat([part.texts[name] for part in parts])[shuffled] for name in parts[0].texts}
    texts = {"entry_no": pl.Series([f"E{n}" for n in range(sheets)])} | texts
    units = {name: np.concatenate([part.units[name] for part in parts])[shuffled] for name in parts[0].units}
    is_open = {name: np.concatenate([part.is_open[name] for part in parts])[shuffled] for name in parts[0].units}
    return Written(texts, units, is_open)


def _of_writer(rng: np.random.Generator, writer: Writer, sheets: int, halves: bool, slips: float) -> Written:
    units = _figures(rng, sheets, HALF[writer.measures] if halves else None)
    _slip(rng, units, slips)
    texts: dict[str, pl.Series] = {
        "category": pl.Series(["whitetail-typical"]).new_from_index(0, sheets),
        "measurer": pl.Series([writer.measurer]).new_from_index(0, sheets),
    }
    is_open = {}
    for name, values in units.items():
        habit = writer.totals if name in TOTALS else writer.measures
        digits = DIGITS[habit]
        spelled = [f"{n // 8}.{digits[n % 8]}" for n in range(int(values.max(initial=0)) + 1)]
        texts[name] = pl.Series(spelled).gather(values)
        is_open[name] = np.isin(values % 8, [int(n) for n in OPEN_DIGITS[habit]])
    return Written(texts, units, is_open)


def _figures(rng: np.random.Generator, sheets: int, half: int | None) -> dict[str, Units]:
    def lengths(least: int, most: int) -> Units:
        part = rng.integers(0, 8, sheets) if half is None else rng.integers(0, 2, sheets) * half
        return rng.integers(least, most, sheets) * 8 + part

    measures = {"inside_spread": lengths(13, 19)}
    right, left, differences = (np.zeros(sheets, dtype=np.int64) for _ in range(3))
    stated: dict[str, Units] = {}
    for name, (least, most) in PAIRS.items():
        one, other = lengths(least, most), lengths(least, most)
        measures |= {f"{name}_r": one, f"{name}_l": other}
        stated[f"{name}_diff"] = np.abs(one - other)
        right, left, differences = right + one, left + other, differences + np.abs(one - other)
    credit = np.minimum(measures["inside_spread"], np.maximum(measures["beam_r"], measures["beam_l"]))
    gross = credit + right + left
    totals = (credit, right, left, differences, np.zeros(sheets, np.int64), differences, gross, gross - differences)
    return measures | stated | dict(zip(TOTALS, (total.copy() for total in totals), strict=True))


def _slip(rng: np.random.Generator, units: Mapping[str, Units], share: float) -> None:
    """Change one cell of a share of the sheets by one to eight eighths, never below nothing."""
    names = list(units)
    height = len(units["net"])
    slipped = rng.permutation(height)[: round(share * height)]
    cell = rng.integers(0, len(names), height)
    by = rng.integers(1, 9, height) * rng.choice([-1, 1], height)
    for place, name in enumerate(names):
        hit = slipped[cell[slipped] == place]
        values = units[name]
        values[hit] = np.where(values[hit] + by[hit] < 0, values[hit] - by[hit], values[hit] + by[hit])


def score(file: Written, folder: Path) -> Score:
    """Audit the file and hold every open cell against what was written.

    Raises AssertionError where a cell is neither read nor named by a question.
    """
    path = folder / "habits.csv"
    file.save(path)
    (audited,) = check_files([path], Settings(date(2026, 11, 25))).tables
    (sheets,) = audited.sheets
    asked = audited.findings.filter(pl.col("code") == "two-readings").select("id", "cells").explode("cells")
    cells = right = wrong = unread = 0
    for name, is_open in file.is_open.items():
        column = (
            name
            if name in sheets.frame.columns and name not in TOTALS and not name.endswith("_diff")
            else f"stated.{name}"
        )
        read = sheets.frame[column].cast(pl.Float64).to_numpy()
        blank = np.isnan(read) & is_open
        named = np.zeros(len(read), dtype=np.bool_)
        named[asked.filter(pl.col("cells") == name)["id"].to_numpy()] = True
        assert (named == blank).all(), f"{name}: not read, and not asked about"
        cells += int(is_open.sum())
        unread += int(blank.sum())
        right += int((is_open & (read == file.units[name])).sum())
        wrong += int((is_open & ~blank & (read != file.units[name])).sum())
    return Score(cells, right, wrong, unread)


CASES: dict[str, tuple[Writer, ...]] = {
    "eighths": (Writer("M-1", "eighths", "eighths"),),
    "decimals": (Writer("M-1", "decimals", "decimals"),),
    "rounded decimals": (Writer("M-1", "rounded", "rounded"),),
    "eighths, totals decimals": (Writer("M-1", "eighths", "decimals"),),
    "two measurers": (Writer("M-1", "eighths", "eighths"), Writer("M-2", "decimals", "decimals")),
}
