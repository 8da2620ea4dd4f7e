"""The heads: beams, points and circumferences that hang together, drawn for a whole region at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sample_data import region
from sample_data.figures import BLANK, DASH, LINES, POINTS, Bools, Ints, work_out

Floats = npt.NDArray[np.float64]

BUCKS_A_SEASON = 615
MOST_ABNORMAL = 8
DISTRICT_EFFECT = (-0.30, 0.15, 0.0, 0.35, -0.10)
WEAPON_SHARE = (0.52, 0.20, 0.09, 0.08, 0.06, 0.02, 0.03)
# typical share of inches at middling size, gain for each step of size, own scatter, scatter between the sides
POINT_SHAPE = {
    "g1": (3.9, 0.45, 0.8, 0.35),
    "g2": (6.3, 1.05, 0.9, 0.50),
    "g3": (5.7, 1.10, 0.9, 0.50),
    "g4": (3.0, 1.10, 1.1, 0.45),
    "g5": (2.6, 0.50, 0.7, 0.35),
    "g6": (2.0, 0.20, 0.4, 0.20),
}
GIRTH_SHAPE = {"h1": 4.1, "h2": 3.75, "h3": 3.85, "h4": 3.6}


@dataclass
class Herd:
    """n heads: lines and abnormal points in eighths, and where, when and how each was taken."""

    lines: dict[str, Ints]
    abnormal: dict[str, Ints]
    nontypical: Bools
    season: Ints
    area: Ints
    weapon: Ints

    def only(self, keep: Bools | Ints) -> Herd:
        """The heads that `keep` picks (a mask or row numbers)."""
        return Herd(
            {k: v[keep] for k, v in self.lines.items()},
            {k: v[keep] for k, v in self.abnormal.items()},
            self.nontypical[keep],
            self.season[keep],
            self.area[keep],
            self.weapon[keep],
        )


def _eighths(inches: Floats, least: float, most: float) -> Ints:
    return np.rint(np.clip(inches, least, most) * 8).astype(np.int64)


def _sizes(season: Ints, area: Ints, rng: np.random.Generator) -> Floats:
    district = np.array([a[2] for a in region.AREAS])[area]
    area_effect = rng.normal(0, 0.12, len(region.AREAS))
    season_effect = 0.012 * np.arange(len(region.SEASONS)) + rng.normal(0, 0.13, len(region.SEASONS))
    own = rng.normal(0, 1, len(season))
    total: Floats = own + np.array(DISTRICT_EFFECT)[district] + area_effect[area] + season_effect[season]
    return total


def _beams_and_girths(size: Floats, rng: np.random.Generator) -> dict[str, Ints]:
    n = len(size)
    out: dict[str, Ints] = {}
    beam = 17.5 + 1.5 * size + rng.normal(0, 0.9, n)
    girth = 0.28 * size + rng.normal(0, 0.22, n)
    for side in "rl":
        out[f"beam_{side}"] = _eighths(beam + rng.normal(0, 0.35, n), 13, 31)
        for row, middle in GIRTH_SHAPE.items():
            out[f"{row}_{side}"] = _eighths(middle + girth + rng.normal(0, 0.11, n), 2.25, 7.75)
    return out


def _points(size: Floats, rng: np.random.Generator) -> dict[str, Ints]:
    n = len(size)
    out: dict[str, Ints] = {}
    there = np.ones(n, dtype=bool)
    last = np.zeros(n, dtype=np.int64)
    chance: dict[str, float | Floats] = {"g4": 0.93, "g5": 0.24 + 0.06 * size, "g6": 0.10}
    for number, (row, (middle, gain, own, apart)) in enumerate(POINT_SHAPE.items(), start=1):
        there = there & (rng.random(n) < chance.get(row, 1.0))
        last = np.where(there, number, last)
        length = middle + gain * size + rng.normal(0, own, n)
        for side in "rl":
            eighths = _eighths(length + rng.normal(0, apart, n), 1.125, 15.5)
            out[f"{row}_{side}"] = np.where(there, eighths, BLANK)
    out["g7_r"] = np.full(n, BLANK, dtype=np.int64)
    out["g7_l"] = np.full(n, BLANK, dtype=np.int64)
    _lose_one_side(out, last, rng)
    return out


def _lose_one_side(points: dict[str, Ints], last: Ints, rng: np.random.Generator) -> None:
    """On some heads the outermost point stands on one side only; the other side's cell holds a dash."""
    n = len(last)
    lost = (rng.random(n) < 0.09) & (last >= 4)
    side = rng.integers(0, 2, n)
    mark = np.where(rng.random(n) < 0.9, DASH, BLANK)
    for number, row in enumerate(POINTS, start=1):
        for which, letter in enumerate("rl"):
            here = lost & (last == number) & (side == which)
            points[f"{row}_{letter}"] = np.where(here, mark, points[f"{row}_{letter}"])


def _spreads(size: Floats, rng: np.random.Generator) -> dict[str, Ints]:
    n = len(size)
    inside = _eighths(14.3 + 0.9 * size + rng.normal(0, 1.75, n), 8.5, 29)
    greatest = inside + _eighths(2.1 + np.abs(rng.normal(0, 0.5, n)), 1, 3.75)
    tips = _eighths(11 + 0.1 * size + rng.normal(0, 3.2, n), 0.5, 28)
    return {"inside_spread": inside, "greatest_spread": greatest, "tip_to_tip": tips}


def _abnormal(nontypical: Bools, rng: np.random.Generator) -> dict[str, Ints]:
    n = len(nontypical)
    few = np.where(rng.random(n) < 0.30, rng.integers(1, 3, n), 0)
    many = rng.integers(3, 11, n)
    count = np.where(nontypical, many, few)
    right = rng.binomial(count, 0.5)
    out: dict[str, Ints] = {}
    for side, points in (("r", right), ("l", count - right)):
        length = _eighths(1.2 + rng.gamma(1.6, 1.1, (n, MOST_ABNORMAL)), 1.125, 11)
        listed = np.arange(MOST_ABNORMAL)[None, :] < points[:, None]
        out[side] = np.where(listed, length, 0)
    return out


def grow(rng: np.random.Generator) -> Herd:
    """All heads that reach the lowest minimum of their season, category and weapon, none twice."""
    n = BUCKS_A_SEASON * len(region.SEASONS)
    season = np.repeat(np.arange(len(region.SEASONS)), BUCKS_A_SEASON)
    area = rng.integers(0, len(region.AREAS), n)
    size = _sizes(season, area, rng)
    nontypical = rng.random(n) < 0.14
    lines = _beams_and_girths(size, rng) | _points(size, rng) | _spreads(size, rng)
    weapon = rng.choice(len(region.WEAPONS), n, p=np.array(WEAPON_SHARE))
    herd = Herd(lines, _abnormal(nontypical, rng), nontypical, season, area, weapon)
    least = region.lowest_minimums()[season, nontypical.astype(np.int64), weapon]
    reached = herd.only(work_out(herd.lines, herd.abnormal, nontypical)["net"] >= least)
    cells = np.stack([reached.lines[name] for name in LINES], axis=1)
    _, first = np.unique(cells, axis=0, return_index=True)
    return reached.only(np.sort(first))
