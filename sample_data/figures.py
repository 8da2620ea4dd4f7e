"""The figures of a sheet worked out from its lines: a second opinion, sharing no code with the product.

Every length is a whole number of eighths of an inch. Two marks stand for a cell without a length.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

BLANK = -1  # an empty cell
DASH = -2  # "-": looked for and not there
POINTS = tuple(f"g{i}" for i in range(1, 8))
GIRTHS = tuple(f"h{i}" for i in range(1, 5))
ROWS = ("beam", *POINTS, *GIRTHS)
SPREADS = ("inside_spread", "tip_to_tip", "greatest_spread")
LINES = (*SPREADS, *(f"{row}_{side}" for row in ROWS for side in "rl"))
DIFFS = tuple(f"{row}_diff" for row in ROWS)
FIGURES = (
    "abnormal_total",
    "spread_credit",
    *DIFFS,
    "right_total",
    "left_total",
    "diff_total",
    "deductions",
    "gross",
    "net",
)


def work_out(lines: dict[str, Ints], abnormal: dict[str, Ints], nontypical: Bools) -> dict[str, Ints]:
    """All figures of n sheets, in eighths.

    `lines` holds LINES, each of shape (n,); `abnormal` holds "r" and "l", each of shape (n, most points), 0
    where there is no point.
    The difference of a row without a length on either side is BLANK.
    """
    length = {name: np.maximum(lines[name], 0) for name in LINES}
    out: dict[str, Ints] = {}
    out["abnormal_total"] = abnormal["r"].sum(axis=1) + abnormal["l"].sum(axis=1)
    longer = np.maximum(length["beam_r"], length["beam_l"])
    out["spread_credit"] = np.minimum(length["inside_spread"], longer)
    for row in ROWS:
        neither = (lines[f"{row}_r"] < 0) & (lines[f"{row}_l"] < 0)
        apart = np.abs(length[f"{row}_r"] - length[f"{row}_l"])
        out[f"{row}_diff"] = np.where(neither, BLANK, apart)
    out["right_total"] = np.sum([length[f"{row}_r"] for row in ROWS], axis=0)
    out["left_total"] = np.sum([length[f"{row}_l"] for row in ROWS], axis=0)
    out["diff_total"] = np.sum([np.maximum(out[d], 0) for d in DIFFS], axis=0)
    out["gross"] = out["spread_credit"] + out["right_total"] + out["left_total"]
    out["deductions"] = out["diff_total"] + np.where(nontypical, 0, out["abnormal_total"])
    out["net"] = out["gross"] - out["deductions"] + np.where(nontypical, out["abnormal_total"], 0)
    return out


def point_counts(lines: dict[str, Ints], abnormal: dict[str, Ints]) -> dict[str, Ints]:
    """points_r and points_l: normal points, the beam tip, and the abnormal points of that side."""
    normal = {s: np.sum([lines[f"{g}_{s}"] >= 0 for g in POINTS], axis=0) for s in "rl"}
    return {f"points_{s}": normal[s] + 1 + (abnormal[s] > 0).sum(axis=1) for s in "rl"}
