"""A few clean heads one at a time, for the files that look made by hand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sample_data import entries, herd
from sample_data.figures import DASH, FIGURES, LINES, work_out

SEED = 20260702  # not that of the season files: no head stands in both
MOST_HEADS = 80


@dataclass
class Head:
    """One sheet: attributes as text, lines and stated figures in eighths (BLANK where the cell is empty)."""

    attributes: dict[str, str]
    points: dict[str, int]
    lines: dict[str, int]
    abnormal: dict[str, list[int]]
    stated: dict[str, int]

    @property
    def entry_no(self) -> str:
        """The sender's number."""
        return self.attributes["entry_no"]

    def restate(self) -> None:
        """Work all stated figures out again from the lines."""
        lines = {k: np.array([v]) for k, v in self.lines.items()}
        abnormal = {s: np.array([v or [0]]) for s, v in self.abnormal.items()}
        nontypical = np.array([self.attributes["category"].endswith("nontypical")])
        self.stated = {k: int(v[0]) for k, v in work_out(lines, abnormal, nontypical).items()}


def pool() -> list[Head]:
    """MOST_HEADS faultless heads with no capped spread and no point on one side only, all different."""
    rng = np.random.default_rng(SEED)
    sheets = entries.fill_in(herd.grow(rng), rng)
    sheets.state_figures()
    one_sided = np.any([sheets.herd.lines[name] == DASH for name in LINES], axis=0)
    for row in ("g4", "g5", "g6"):
        one_sided |= (sheets.herd.lines[f"{row}_r"] < 0) != (sheets.herd.lines[f"{row}_l"] < 0)
    able = np.flatnonzero(~one_sided & ~sheets.spread_over_beam())
    out = []
    for i in rng.choice(able, MOST_HEADS, replace=False).tolist():
        attributes = {k: str(v[i]) for k, v in sheets.attributes.items()}
        points = {f"points_{s}": int(sheets.stated[f"points_{s}"][i]) for s in "rl"}
        lines = {k: int(v[i]) for k, v in sheets.herd.lines.items()}
        abnormal = {s: [x for x in v[i].tolist() if x] for s, v in sheets.herd.abnormal.items()}
        stated = {k: int(sheets.stated[k][i]) for k in FIGURES}
        out.append(Head(attributes, points, lines, abnormal, stated))
    return out


def numbered(heads: list[Head], prefix: str) -> list[Head]:
    """The heads with the numbers PREFIX-01, PREFIX-02 and on."""
    for i, head in enumerate(heads, start=1):
        head.attributes["entry_no"] = f"{prefix}-{i:02d}"
    return heads
