"""Choose between two readings of a length where the sheet's own stated figures decide, and only there.

A sheet is scored twice: once with every open cell in its first reading (digits count eighths), once in its second
(a decimal). Where one way makes every stated figure it touches agree and the other does not, the sheet has said
which it means. Otherwise the cells stay unknown, and a person is asked.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import add, or_

import polars as pl

from warehouse.categories import Category
from warehouse.scoring import dependencies, recompute

UNDECIDED, FIRST, SECOND = 0, 1, 2


@dataclass(frozen=True)
class OpenSheets:
    """Sheets with at least one open cell, under both readings.

    `first` and `second` hold every measure, `abnormal_total` and every `stated.<figure>` of the file (Int32 units);
    `is_open` holds a Boolean for each of those columns that has an open cell.
    """

    first: pl.DataFrame
    second: pl.DataFrame
    is_open: pl.DataFrame


@dataclass(frozen=True)
class Agreement:
    """For each sheet, how many stated figures an open cell touches, and how many of them agree."""

    touched: pl.Series
    agreeing: pl.Series

    @property
    def complete(self) -> pl.Series:
        """Some figure was touched and all of them agree."""
        return (self.touched > 0) & (self.agreeing == self.touched)


def choose(sheets: OpenSheets, category: Category) -> pl.DataFrame:
    """Decide each sheet: columns `choice` (UNDECIDED, FIRST, SECOND), `touched`, `agree_first`, `agree_second`.

    Where both ways agree throughout, the choice is FIRST if the readings are the same length (a date that can only
    be one fraction) and UNDECIDED if they differ.
    """
    first = _agreement(sheets.first, sheets, category)
    second = _agreement(sheets.second, sheets, category)
    same = _same(sheets)
    frame = pl.DataFrame(
        {
            "first": first.complete,
            "second": second.complete,
            "same": same,
            "touched": first.touched,
            "agree_first": first.agreeing,
            "agree_second": second.agreeing,
        }
    )
    choice = (
        pl.when(pl.col("first") & (~pl.col("second") | pl.col("same")))
        .then(FIRST)
        .when(pl.col("second") & ~pl.col("first"))
        .then(SECOND)
        .otherwise(UNDECIDED)
    )
    return frame.select(choice.cast(pl.UInt8).alias("choice"), "touched", "agree_first", "agree_second")


def _same(sheets: OpenSheets) -> pl.Series:
    columns = sheets.is_open.columns
    equal = [sheets.first[column].eq_missing(sheets.second[column]) for column in columns]
    return reduce(lambda left, right: left & right, equal)


def _agreement(values: pl.DataFrame, sheets: OpenSheets, category: Category) -> Agreement:
    computed = recompute(values, category)
    stated = [column.removeprefix("stated.") for column in values.columns if column.startswith("stated.")]
    figures = [figure for figure in stated if figure in computed.columns]
    touched, agreeing = [], []
    rests_on = dependencies(category)
    for figure in figures:
        touches = _touches(figure, rests_on, sheets.is_open) & values[f"stated.{figure}"].is_not_null()
        touched.append(touches.cast(pl.UInt16))
        agreeing.append((touches & computed[figure].eq_missing(values[f"stated.{figure}"])).cast(pl.UInt16))
    return Agreement(_sum(touched, values.height), _sum(agreeing, values.height))


def _touches(figure: str, rests_on: Mapping[str, frozenset[str]], is_open: pl.DataFrame) -> pl.Series:
    columns = [column for column in is_open.columns if column in rests_on[figure] or column == f"stated.{figure}"]
    flags = [is_open[column] for column in columns]
    return reduce(or_, flags) if flags else pl.Series([False] * is_open.height, dtype=pl.Boolean)


def _sum(parts: Sequence[pl.Series], height: int) -> pl.Series:
    return reduce(add, parts, pl.zeros(height, dtype=pl.UInt16, eager=True))
