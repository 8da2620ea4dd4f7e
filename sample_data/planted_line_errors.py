"""Faults in the measures: before the figures are stated (all agrees with them) or after (a cell is lost)."""

from __future__ import annotations

import numpy as np

from sample_data.entries import Sheets
from sample_data.figures import BLANK, Bools, Ints
from sample_data.findings import Expected
from sample_data.planted_errors import Fault, Plant, dealt


def _points_on_both_sides(sheets: Sheets, last: int) -> Bools:
    """Heads with points up to G<last> on both sides and none beyond."""
    lines = sheets.herd.lines
    there = (lines[f"g{last}_r"] > 0) & (lines[f"g{last}_l"] > 0)
    beyond = (lines[f"g{last + 1}_r"] != BLANK) | (lines[f"g{last + 1}_l"] != BLANK)
    return np.asarray(there & ~beyond)


def ends_at_g3(sheets: Sheets) -> Bools:
    """Heads whose outermost point is G3 on both sides."""
    return _points_on_both_sides(sheets, 3)


def ends_at_g4(sheets: Sheets) -> Bools:
    """Heads whose outermost point is G4 on both sides."""
    return _points_on_both_sides(sheets, 4)


def shrink_a_point(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """A point too short to count is listed and counted, and every figure goes along."""
    for name, here in dealt(rows, ("g4_r", "g4_l")):
        sheets.herd.lines[name][here] = rng.integers(4, 8, len(here))
        expected.add(here, ["point-under-inch"], name)


def move_a_point_up(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """The third points stand in the row of the fourth."""
    lines = sheets.herd.lines
    for side in "rl":
        lines[f"g4_{side}"][rows] = lines[f"g3_{side}"][rows]
        lines[f"g3_{side}"][rows] = BLANK
    expected.add(rows, ["point-gap"])


def lengthen(inches: int, *fields: str) -> Plant:
    """A digit too many in front: so many inches more, and every figure goes along."""

    def plant(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
        for name, here in dealt(rows, fields):
            sheets.herd.lines[name][here] += 8 * inches
            expected.add(here, ["out-of-bounds"], name)

    return plant


def narrow_the_greatest(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """The greatest spread is less than the inside spread."""
    inside = sheets.herd.lines["inside_spread"][rows]
    sheets.herd.lines["greatest_spread"][rows] = inside - rng.integers(3, 14, len(rows))
    expected.add(rows, ["greatest-under-inside"])


def lose(code: str, *fields: str) -> Plant:
    """A measure's cell is left empty, so that whatever rests on it cannot be recomputed."""

    def plant(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
        for name, here in dealt(rows, fields):
            sheets.herd.lines[name][here] = BLANK
            expected.add(here, [code], name)

    return plant


def leave_a_point_open(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """G4 is written on one side only, and no stated figure and no count tells whether the other was there."""
    for name, here in dealt(rows, ("g4_l", "g4_r")):
        sheets.herd.lines[name][here] = BLANK
        side = name[-1]
        total = "right_total" if side == "r" else "left_total"
        for figure in ("g4_diff", total, "diff_total", "deductions", "gross", "net", f"points_{side}"):
            sheets.stated[figure][here] = BLANK
        expected.add(here, ["blank-point"], name)


def no_single_abnormal(sheets: Sheets) -> Bools:
    """Heads without a side of one abnormal number: one may be a stated sum, and then a larger count is right."""
    sides = [(sheets.herd.abnormal[s] > 0).sum(axis=1) for s in "rl"]
    return np.asarray((sides[0] != 1) & (sides[1] != 1))


def several_abnormal(sheets: Sheets) -> Bools:
    """Heads with two or more abnormal points on each side."""
    sides = [(sheets.herd.abnormal[s] > 0).sum(axis=1) for s in "rl"]
    return np.asarray((sides[0] > 1) & (sides[1] > 1))


def sum_up_abnormal(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """Each side's abnormal points are written as one sum, the count stays that of the points: no fault."""
    for points in sheets.herd.abnormal.values():
        points[rows, 0] = points[rows].sum(axis=1)
        points[rows, 1:] = 0


def miscount(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """The count of points on one side is one or two off."""
    for name, here in dealt(rows, ("points_r", "points_l")):
        sheets.stated[name][here] += rng.choice([-1, 1, 2], len(here))
        expected.add(here, ["point-count"], name)


def blur(*texts: tuple[str, str]) -> Plant:
    """A measure's text that means no length: (field, text) dealt out in turn."""

    def plant(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
        for row, (name, text) in zip(rows.tolist(), texts * (len(rows) // len(texts) + 1), strict=False):
            sheets.overwritten.append((row, name, text))
            expected.add(np.array([row]), ["unreadable"], name)

    return plant


BEFORE_FIGURES = (
    Fault("point under one inch", 6, shrink_a_point, ends_at_g4),
    Fault("point in the row above", 4, move_a_point_up, ends_at_g3),
    Fault("beam with a digit too many", 4, lengthen(100, "beam_r", "beam_l")),
    Fault("circumference with a digit too many", 3, lengthen(10, "h1_l", "h3_r", "h4_l")),
    Fault("greatest spread under inside spread", 5, narrow_the_greatest),
)
AFTER_FIGURES = (
    Fault("circumference lost", 6, lose("circumference-missing", "h1_r", "h2_l", "h3_r", "h4_l", "h4_r", "h3_l")),
    Fault("beam or spread lost", 5, lose("missing-measure", "beam_r", "inside_spread", "beam_l")),
    Fault("point left open", 4, leave_a_point_open, ends_at_g4),
    Fault("points miscounted", 6, miscount, no_single_abnormal),
    Fault(
        "length that cannot be read",
        8,
        blur(
            ("beam_r", "21 3/7"),
            ("h2_r", "4 9/8"),
            ("g2_l", "8 9/8"),
            ("inside_spread", "16 5/"),
            ("g3_r", "?"),
            ("right_total", "58 11/8"),
            ("h1_l", "4 3/5"),
            ("net", "see back"),
        ),
    ),
    Fault("abnormal points as one sum (no fault)", 5, sum_up_abnormal, several_abnormal),
)
