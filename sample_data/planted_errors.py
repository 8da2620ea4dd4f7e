"""Slips planted in the stated figures: copied (one cell wrong) and carried (all after it follows)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sample_data.entries import Sheets
from sample_data.figures import Bools, Ints
from sample_data.findings import Expected

Plant = Callable[[Sheets, Ints, Expected, np.random.Generator], None]


@dataclass(frozen=True)
class Fault:
    """One kind of fault: on how many sheets, which sheets can bear it, and how it is put in."""

    name: str
    count: int
    plant: Plant
    can_bear: Callable[[Sheets], Bools] | None = None
    capped: bool = False  # True: needs a head whose spread credit is capped; all others avoid such heads


ROWS_ALWAYS_THERE = ("beam_diff", "g1_diff", "g2_diff", "g3_diff", "h1_diff", "h2_diff", "h3_diff", "h4_diff")
SIDES = ("right_total", "left_total")


def slip(n: int, rng: np.random.Generator) -> Ints:
    """By how many eighths somebody is wrong: mostly an inch or less, more seldom a whole few inches."""
    return np.where(rng.random(n) < 0.75, rng.integers(1, 9, n), 8 * rng.integers(1, 4, n)).astype(np.int64)


def dealt(rows: Ints, fields: tuple[str, ...]) -> list[tuple[str, Ints]]:
    """The rows dealt out to the fields in turn."""
    return [(name, rows[i :: len(fields)]) for i, name in enumerate(fields) if len(rows[i :: len(fields)])]


def copied(*fields: str) -> Plant:
    """One stated figure mis-copied: only its own cell is wrong."""

    def plant(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
        for name, here in dealt(rows, fields):
            by = slip(len(here), rng)
            down = (rng.random(len(here)) < 0.5) & (sheets.stated[name][here] > by)
            sheets.stated[name][here] += np.where(down, -by, by)
            expected.add(here, [name])

    return plant


def carried(*fields: str, adds: tuple[str, ...] = (), takes: tuple[str, ...] = (), by: int = 0) -> Plant:
    """A figure worked out wrong, and every later figure with it: `adds` go up with it, `takes` go down."""

    def plant(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
        for name, here in dealt(rows, fields):
            wrong = np.full(len(here), by, dtype=np.int64) if by else slip(len(here), rng)
            for figure in (name, *adds):
                sheets.stated[figure][here] += wrong
            for figure in takes:
                sheets.stated[figure][here] -= wrong
            expected.add(here, [name, *adds, *takes])

    return plant


def forget_the_cap(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """The whole inside spread is credited though no beam is as long."""
    excess = sheets.herd.lines["inside_spread"][rows] - sheets.stated["spread_credit"][rows]
    for figure in ("spread_credit", "gross", "net"):
        sheets.stated[figure][rows] += excess
    expected.add(rows, ["spread_credit", "gross", "net"])


def leave_out_abnormal(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """The abnormal points of a typical head are added up but not deducted."""
    points = sheets.stated["abnormal_total"][rows]
    sheets.stated["deductions"][rows] -= points
    sheets.stated["net"][rows] += points
    expected.add(rows, ["deductions", "net"])


def deduct_abnormal(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """A non-typical head is scored as a typical one: its abnormal points come off instead of on."""
    points = sheets.stated["abnormal_total"][rows]
    sheets.stated["deductions"][rows] += points
    sheets.stated["net"][rows] -= 2 * points
    expected.add(rows, ["deductions", "net"])


def forget_abnormal_in_net(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """The abnormal points of a non-typical head never reach the net."""
    sheets.stated["net"][rows] -= sheets.stated["abnormal_total"][rows]
    expected.add(rows, ["net"])


def swap_a_row(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """G2 copied with right and left swapped: both side totals stop agreeing, the score is unharmed."""
    right, left = sheets.herd.lines["g2_r"], sheets.herd.lines["g2_l"]
    right[rows], left[rows] = left[rows].copy(), right[rows].copy()
    expected.add(rows, list(SIDES))


def _typical_with_abnormal(sheets: Sheets) -> Bools:
    return np.asarray(~sheets.herd.nontypical & (sheets.stated["abnormal_total"] > 0))


def _nontypical(sheets: Sheets) -> Bools:
    return sheets.herd.nontypical


def _uneven_g2(sheets: Sheets) -> Bools:
    lines = sheets.herd.lines
    return np.asarray((lines["g2_r"] != lines["g2_l"]) & (lines["g2_r"] > 0) & (lines["g2_l"] > 0))


FIGURE_FAULTS = (
    Fault("difference copied wrong", 16, copied(*ROWS_ALWAYS_THERE)),
    Fault(
        "difference carried wrong",
        16,
        carried(*ROWS_ALWAYS_THERE, adds=("diff_total", "deductions"), takes=("net",)),
    ),
    Fault("side total copied wrong", 6, copied(*SIDES)),
    Fault("side total carried wrong", 6, carried(*SIDES, adds=("gross", "net"))),
    Fault("a carried inch lost", 6, carried(*SIDES, adds=("gross", "net"), by=-8)),
    Fault("gross copied wrong", 6, copied("gross")),
    Fault("gross carried wrong", 5, carried("gross", adds=("net",))),
    Fault("net wrong", 6, copied("net")),
    Fault("spread credit copied wrong", 3, copied("spread_credit")),
    Fault("difference total copied wrong", 4, copied("diff_total")),
    Fault("difference total carried wrong", 4, carried("diff_total", adds=("deductions",), takes=("net",))),
    Fault("deductions copied wrong", 3, copied("deductions")),
    Fault("abnormal total copied wrong", 4, copied("abnormal_total"), _typical_with_abnormal),
    Fault(
        "abnormal total carried wrong",
        4,
        carried("abnormal_total", adds=("deductions",), takes=("net",)),
        _typical_with_abnormal,
    ),
    Fault("spread cap forgotten", 6, forget_the_cap, capped=True),
    Fault("abnormal points not deducted", 5, leave_out_abnormal, _typical_with_abnormal),
    Fault("non-typical scored as typical", 4, deduct_abnormal, _nontypical),
    Fault("abnormal points not added", 3, forget_abnormal_in_net, _nontypical),
    Fault("right and left swapped in a row", 4, swap_a_row, _uneven_g2),
)
