"""Seeded right score sheets for the benchmark of the diagnosis: plain integer arithmetic, nothing of the program's own.

A length is a whole number of eighths. The sizes are invented: means of common heads (common practice, no source),
with the two sides of a head alike and every eighth of an inch as frequent as any other.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]
Rng = np.random.Generator

CATEGORIES = ("whitetail-typical", "whitetail-nontypical", "elk-typical", "elk-nontypical")
POINTS = ("g1", "g2", "g3", "g4", "g5", "g6", "g7")
CIRCUMFERENCES = ("h1", "h2", "h3", "h4")
ROWS = ("beam", *POINTS, *CIRCUMFERENCES)
SPREADS = ("inside_spread", "tip_to_tip", "greatest_spread")
SIDES = ("r", "l")
MEASURES = tuple(f"{row}_{side}" for row in ROWS for side in SIDES)
LISTS = ("abnormal_r", "abnormal_l")  # the sums of the two lists of abnormal points
DIFFERENCES = tuple(f"{row}_diff" for row in ROWS)
TOTALS = ("spread_credit", "right_total", "left_total", "diff_total", "abnormal_total", "deductions", "gross", "net")
FIGURES = (*DIFFERENCES, *TOTALS)
CELLS = (*SPREADS, *MEASURES, *LISTS, *FIGURES)
AT = {cell: place for place, cell in enumerate(CELLS)}
MOST_LISTED = 12
INCH = 8


@dataclass(frozen=True)
class Species:
    """Mean and spread of each row in inches, and how many heads have it; inside spread; longest abnormal point."""

    rows: dict[str, tuple[float, float, float]]
    spread: tuple[float, float]
    widest_more: int
    abnormal: int


WHITETAIL = Species(
    {"beam": (22, 2, 1), "g1": (4, 1, 1), "g2": (8.5, 1.5, 1), "g3": (8, 1.5, 1), "g4": (5, 1.5, 0.85),
     "g5": (2.5, 0.8, 0.3), "h1": (4.6, 0.5, 1), "h2": (4.3, 0.5, 1), "h3": (4.5, 0.6, 1), "h4": (4.1, 0.6, 1)},
    (17, 2.5), 3, 5,
)  # fmt: skip
ELK = Species(
    {"beam": (50, 4, 1), "g1": (16, 2.5, 1), "g2": (17, 3, 1), "g3": (16, 3, 1), "g4": (19, 3, 1),
     "g5": (12, 3, 0.95), "g6": (5, 1.5, 0.3), "h1": (8.5, 0.7, 1), "h2": (7.2, 0.7, 1), "h3": (7, 0.7, 1),
     "h4": (6.5, 0.7, 1)},
    (38, 4), 5, 8,
)  # fmt: skip
SIDE_DIFFERENCE = {"circumference": 2.0, "other": 8.0}  # standard deviation of right less left, in eighths


@dataclass(frozen=True)
class Sheets:
    """`values` (sheets, CELLS), abnormal points `listed` (sheets, 2, MOST_LISTED; 0 for none), stated counts of
    points (sheets, 2), difference boxes that a sheet leaves `empty` (sheets, ROWS), cells not to be read `erased`."""

    category: str
    values: Ints
    listed: Ints
    points: Ints
    empty: Flags
    erased: Flags = field(repr=False)

    def __len__(self) -> int:
        return len(self.values)

    def take(self, places: Ints | Flags) -> "Sheets":
        """Some sheets, any of them any number of times; copies, so that they may be changed."""
        return self._with(lambda part: part[places])

    def copy(self) -> "Sheets":
        """The same sheets, to be changed."""
        return self._with(lambda part: part.copy())

    def of(self, cell: str) -> Ints:
        """A view of one cell of every sheet."""
        return self.values[:, AT[cell]]

    def joined(self, other: "Sheets") -> "Sheets":
        """These sheets and then the others, of the same category."""
        names = ("values", "listed", "points", "empty", "erased")
        parts = {name: np.concatenate([getattr(self, name), getattr(other, name)]) for name in names}
        return Sheets(self.category, **parts)

    def _with(self, made: Callable[[npt.NDArray[Any]], npt.NDArray[Any]]) -> "Sheets":
        parts = (self.values, self.listed, self.points, self.empty, self.erased)
        return Sheets(self.category, *map(made, parts))


def is_typical(category: str) -> bool:
    """Whether abnormal points are taken off; else they are added."""
    return not category.endswith("nontypical")


@cache
def inputs_of(category: str) -> dict[str, tuple[tuple[str, int], ...]]:
    """Each figure that is a sum: the cells it is made of and their signs, in the order a sheet is worked out."""
    abnormal = ("abnormal_total", 1)
    typical = is_typical(category)
    return {
        "right_total": tuple((f"{row}_r", 1) for row in ROWS),
        "left_total": tuple((f"{row}_l", 1) for row in ROWS),
        "abnormal_total": tuple((cell, 1) for cell in LISTS),
        "diff_total": tuple((cell, 1) for cell in DIFFERENCES),
        "deductions": (("diff_total", 1), abnormal) if typical else (("diff_total", 1),),
        "gross": (("spread_credit", 1), ("right_total", 1), ("left_total", 1)),
        "net": (("gross", 1), ("deductions", -1)) if typical else (("gross", 1), ("deductions", -1), abnormal),
    }


@cache
def carried_into(category: str) -> Ints:
    """(CELLS, CELLS): by how much each figure changes when a figure that it is worked out from is one too long."""
    signs = np.eye(len(CELLS), dtype=np.int64)
    for figure, inputs in inputs_of(category).items():
        if figure not in ("right_total", "left_total", "abnormal_total"):  # these are worked out from measures
            for cell, sign in inputs:
                signs[:, AT[figure]] += sign * signs[:, AT[cell]]
    return signs


def work_out(sheets: Sheets) -> None:
    """Fill in every figure from the measures."""
    values = sheets.values
    for row in ROWS:
        values[:, AT[f"{row}_diff"]] = np.abs(sheets.of(f"{row}_r") - sheets.of(f"{row}_l"))
    longer = np.maximum(sheets.of("beam_r"), sheets.of("beam_l"))
    values[:, AT["spread_credit"]] = np.minimum(sheets.of("inside_spread"), longer)
    for place, cell in enumerate(LISTS):
        values[:, AT[cell]] = sheets.listed[:, place].sum(axis=1)
    for figure, inputs in inputs_of(sheets.category).items():
        values[:, AT[figure]] = sum(sign * sheets.of(cell) for cell, sign in inputs)


def right_sheets(category: str, number: int, rng: Rng) -> Sheets:
    """So many sheets without a fault."""
    species = ELK if category.startswith("elk") else WHITETAIL
    values = np.zeros((number, len(CELLS)), dtype=np.int64)
    for row, (right, left) in _rows(species, number, rng):
        values[:, AT[f"{row}_r"]], values[:, AT[f"{row}_l"]] = right, left
    inside = _lengths(species.spread[0], species.spread[1], number, rng)
    values[:, AT["inside_spread"]] = inside
    values[:, AT["greatest_spread"]] = inside + rng.integers(INCH // 2, species.widest_more * INCH, number)
    values[:, AT["tip_to_tip"]] = inside * rng.integers(30, 95, number) // 100
    listed = _abnormal(species, (0, 3) if is_typical(category) else (2, 12), number, rng)
    bare = [(values[:, AT[f"{row}_r"]] == 0) & (values[:, AT[f"{row}_l"]] == 0) for row in ROWS]
    none = np.zeros((number, len(SIDES)), dtype=np.int64)
    sheets = Sheets(category, values, listed, none, np.stack(bare, axis=1), np.zeros(values.shape, dtype=bool))
    work_out(sheets)
    return replace(sheets, points=counted(sheets))


def counted(sheets: Sheets) -> Ints:
    """Points of either side, (sheets, 2): those measured, the beam tip, and the abnormal ones listed."""
    boxes = [[AT[f"{point}_{side}"] for point in POINTS] for side in SIDES]
    grown = (sheets.values[:, boxes] > 0).sum(axis=2)
    return np.asarray(grown + 1 + (sheets.listed > 0).sum(axis=2), dtype=np.int64)


def _lengths(mean: float, deviation: float, number: int, rng: Rng) -> Ints:
    """Lengths in eighths, within three deviations."""
    off = np.clip(rng.normal(0, 1, number), -3, 3)
    return np.rint((mean + off * deviation) * INCH).astype(np.int64)


def _rows(species: Species, number: int, rng: Rng) -> Iterator[tuple[str, tuple[Ints, Ints]]]:
    has = [np.ones(number, dtype=bool)] * 2
    for row, (mean, deviation, share) in species.rows.items():
        kind = "circumference" if row in CIRCUMFERENCES else "other"
        apart = np.rint(np.clip(rng.normal(0, 1, number), -3, 3) * SIDE_DIFFERENCE[kind]).astype(np.int64)
        right = np.maximum(_lengths(mean, deviation, number, rng), INCH)
        left = np.maximum(right - apart, INCH)
        if row in POINTS:  # no point without the one below it; now and then one side has one more
            both = rng.random(number) < share
            other = np.where(rng.random(number) < 0.1, rng.random(number) < share, both)
            has = [has[0] & both, has[1] & other]
            right, left = right * has[0], left * has[1]
        yield row, (right, left)


def _abnormal(species: Species, how_many: tuple[int, int], number: int, rng: Rng) -> Ints:
    """Abnormal points on either side, listed from the first place on."""
    count = rng.integers(how_many[0], how_many[1] + 1, number)
    on_right = rng.binomial(count, 0.5)
    each = np.stack([on_right, count - on_right], axis=1)
    lengths = rng.integers(INCH, species.abnormal * INCH, (number, 2, MOST_LISTED))
    return np.where(np.arange(MOST_LISTED)[None, None, :] < each[:, :, None], lengths, 0)


def with_erased(sheets: Sheets, erased: Flags) -> Sheets:
    """The same with some cells not to be read."""
    return replace(sheets, erased=erased)
