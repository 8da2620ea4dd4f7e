"""How many of a sheet's stated figures agree when its open cells are read in one way or another.

The cells with two readings are treated in blocks (measures; differences; totals; fractions run together): a writer
has one habit in each. A *way* gives every block its reading: FIRST (digits count eighths) or SECOND (a decimal).
Every sheet is scored once in every way; `reading_choice` draws the conclusion.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import reduce
from itertools import product
from operator import or_

import numpy as np
import polars as pl
from numpy.typing import NDArray

from warehouse.categories import Category
from warehouse.scoring import dependencies, recompute

UNDECIDED, FIRST, SECOND = 0, 1, 2

Counts = NDArray[np.int16]
Marks = NDArray[np.uint8]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Tally:
    """For n sheets and b blocks: `ways` (2**b, b) lists every way, FIRST or SECOND for each block; `agree` (n, 2**b)
    counts the agreeing ones of the `touched` (n) stated figures that an unsure cell touches; `has` (n, b) tells in
    which blocks a sheet has an open cell."""

    ways: Marks
    agree: Counts
    touched: Counts
    has: Flags

    def best(self, block: int, reading: int) -> Counts:
        """(n) The most figures that agree in any way that reads the block so."""
        most: Counts = self.agree[:, self.ways[:, block] == reading].max(axis=1)
        return most


def all_ways(blocks: int) -> Marks:
    """Every way to read so many blocks, one a row; the last block changes fastest."""
    return np.array(list(product((FIRST, SECOND), repeat=blocks)), dtype=np.uint8).reshape(2**blocks, blocks)


def tally(
    read: Callable[[Marks], pl.DataFrame], has: Flags, unsure: pl.DataFrame, itself: pl.Series, category: Category
) -> Tally:
    """Score the sheets in every way.

    `read` gives the sheets in one way: every measure, `abnormal_total` and every `stated.<figure>` (Int32 units);
    `unsure` holds a Boolean for each of those columns that has an unsure cell; `itself` (Boolean) marks sheets whose
    abnormal total is scored as stated, so that its agreement says nothing.
    """
    ways = all_ways(has.shape[1])
    touches = _touches(unsure, itself, read(ways[0]), category)
    agree = np.zeros((has.shape[0], len(ways)), dtype=np.int16)
    for place, way in enumerate(ways):
        agree[:, place] = _agreeing(read(way), touches, category)
    return Tally(ways, agree, _count(touches, has.shape[0]), has)


def _touches(unsure: pl.DataFrame, itself: pl.Series, values: pl.DataFrame, category: Category) -> dict[str, pl.Series]:
    """Figure -> the sheets that state it and have an unsure cell in it or in what it rests on."""
    touches = {}
    for figure, rests_on in dependencies(category).items():
        stated = f"stated.{figure}"
        columns = [column for column in unsure.columns if column in rests_on or column == stated]
        if stated not in values.columns or not columns:
            continue
        said = (
            values[stated].is_not_null() | unsure[stated] if stated in unsure.columns else values[stated].is_not_null()
        )
        touched = reduce(or_, (unsure[column] for column in columns)) & said
        touches[figure] = touched & ~itself if figure == "abnormal_total" else touched
    return touches


def _agreeing(values: pl.DataFrame, touches: Mapping[str, pl.Series], category: Category) -> Counts:
    computed = recompute(values, category)
    agreeing = {
        figure: touched & (computed[figure] == values[f"stated.{figure}"]).fill_null(False)
        for figure, touched in touches.items()
    }
    return _count(agreeing, values.height)


def _count(flags: Mapping[str, pl.Series], height: int) -> Counts:
    total = np.zeros(height, dtype=np.int16)
    for flag in flags.values():
        total += flag.to_numpy()
    return total
