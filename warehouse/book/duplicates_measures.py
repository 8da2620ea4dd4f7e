"""How near the measures of two sheets are: all candidate pairs held against each other at once, in whole units."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
import polars as pl
from numpy.typing import NDArray

from warehouse.categories import Category, Line, all_categories

Ints = NDArray[np.int32]
Places = NDArray[np.int64]

UNKNOWN = -1
PAIRS_AT_A_TIME = 250_000  # bounds the memory of one comparison to some 100 MiB
LINES = pl.Schema({
    "category": pl.String(), "species": pl.String(), "line": pl.String(),
    **dict.fromkeys(("nth", "right", "left", "single"), pl.Int32()),
})  # fmt: skip
COMPARED = pl.Schema(dict.fromkeys(("near", "most", "told", "unknown"), pl.Int32()))


@cache
def compared_lines() -> pl.DataFrame:
    """One row for each compared line of each category (schema LINES): its place among the scored lines from 1 (null for
    a spread, which is only credited), and the matrix columns of its measures.
    """
    rows = [row for category in all_categories().values() for row in _rows(category)]
    return pl.DataFrame(rows, schema=LINES, orient="row")


def _rows(category: Category) -> Iterator[tuple[str | int | None, ...]]:
    columns, scored = list(_columns(category.species)), 0
    for line in _compared(category):
        is_scored = line.use == "scored"
        scored += is_scored
        places: list[int | None] = [columns.index(column) for column in line.columns]
        sides = [*places, None] if line.sides == "pair" else [None, None, *places]
        yield (category.code, category.species, line.name, scored if is_scored else None, *sides)


def _compared(category: Category) -> tuple[Line, ...]:
    """The lines that tell one head from another. Abnormal points are not among them: two typists list them in two ways."""
    return tuple(line for line in category.lines if line.use != "recorded")


@cache
def _columns(species: str) -> dict[str, bool]:
    """Every compared measure of a species' categories, each once, and whether a bound on one line holds for it."""
    lines = [line for each in all_categories().values() if each.species == species for line in _compared(each)]
    return {column: line.use == "scored" for line in lines for column in line.columns}


@cache
def _species() -> tuple[str, ...]:
    return tuple(sorted({category.species for category in all_categories().values()}))


@dataclass(frozen=True)
class Measures:
    """The measures of n sheets: a matrix of units, UNKNOWN where one is not known, and each sheet's species (its place
    in the list of them; -1 where the category is not known).
    """

    units: Ints
    species: Places

    def within(self, first: Places, second: Places, bound: Ints) -> Places:
        """Which pairs (their places, in order) have no bounded measure that is further apart than their `bound` (units).

        A measure that one of the two does not know is passed over. Column by column, for most pairs fail at once.
        """
        left = np.arange(len(first))
        for column in range(self.units.shape[1]):
            one, other = self.units[first[left], column], self.units[second[left], column]
            passed = (one == UNKNOWN) | (other == UNKNOWN) | (np.abs(one - other) <= bound[left])
            left = left[passed | ~_bounded(self.units.shape[1])[self.species[first[left]], column]]
        return left

    def compare(self, first: Places, second: Places) -> pl.DataFrame:
        """Schema COMPARED for each pair of sheets (their rows of the matrix): the sum of the differences and the largest
        one that a bound holds for, how many measures above nothing are known of both, how many are not known of both.

        All null for sheets of two species.
        """
        starts = range(0, len(first), PAIRS_AT_A_TIME)
        slices = [slice(start, start + PAIRS_AT_A_TIME) for start in starts]
        parts = [self._compare(first[some], second[some]) for some in slices]
        return pl.concat([pl.DataFrame(schema=COMPARED), *parts])

    def _compare(self, first: Places, second: Places) -> pl.DataFrame:
        one, other, species = self.units[first], self.units[second], self.species[first]
        known = (one != UNKNOWN) & (other != UNKNOWN)
        apart = np.where(known, np.abs(one - other), 0)
        frame = pl.DataFrame({
            "near": apart.sum(axis=1),
            "most": np.where(_bounded(self.units.shape[1])[species], apart, 0).max(axis=1, initial=0),
            "told": (known & (one > 0) & (other > 0)).sum(axis=1),
            "unknown": (~known).sum(axis=1),
        }).cast(pl.Int32)  # fmt: skip
        alike = pl.Series((species == self.species[second]) & (species >= 0))
        return frame.select(pl.when(alike).then(pl.col(name)).alias(name) for name in COMPARED)


def measures_of(sheets: pl.DataFrame, lines: pl.DataFrame) -> Measures:
    """The measures of `sheets` (row n: "category") from their `lines` ("nth": the row; "right", "left" and "single": the
    matrix columns, null for none; "right_units" and so on). A line that is not there was not grown; one that every head
    has is unknown then.
    """
    codes = list(all_categories())
    category = _place_in(sheets["category"], codes)
    species = [*(_species().index(each.species) for each in all_categories().values()), -1]
    units = np.asfortranarray(_blank()[category])
    for side in ("right", "left", "single"):
        told = lines.select("nth", side, f"{side}_units").drop_nulls(side)
        measured = told[f"{side}_units"].fill_null(UNKNOWN).to_numpy()
        units[told["nth"].to_numpy(), told[side].to_numpy()] = measured
    return Measures(units, np.array(species, dtype=np.int64)[category])


def _place_in(texts: pl.Series, known: list[str]) -> Places:
    """Where each text stands in `known`; -1 for none of them."""
    places: Places = texts.replace_strict(
        known, list(range(len(known))), default=-1, return_dtype=pl.Int64
    ).fill_null(-1).to_numpy()  # fmt: skip
    return places


@cache
def _blank() -> Ints:
    """What a sheet without any line says, a row a category; the last row is of no category."""
    width = max(len(_columns(name)) for name in _species())
    blank = np.zeros((len(all_categories()) + 1, width), dtype=np.int32)
    for row, category in enumerate(all_categories().values()):
        grown = {column for line in _compared(category) if not line.needed for column in line.columns}
        for place, column in enumerate(_columns(category.species)):
            blank[row, place] = 0 if column in grown else UNKNOWN
    return blank


@cache
def _bounded(width: int) -> NDArray[np.bool_]:
    """Which columns a bound on one line holds for, a row a species: a spread is only part of the sum."""
    marks = np.zeros((len(_species()), width), dtype=np.bool_)
    for row, name in enumerate(_species()):
        marks[row, : len(_columns(name))] = list(_columns(name).values())
    return marks
