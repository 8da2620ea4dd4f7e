"""Recompute a sheet's figures from its measures, in whole units, for a frame of any number of sheets.

Symmetric scoring (common practice, no source):

    right total      = sum of the right side's paired lines; left total alike
    spread credit    = inside spread, but not more than the longer main beam
    difference total = sum over the paired lines of |right - left|
    gross            = spread credit + right total + left total
    deductions       = difference total (+ abnormal total where abnormal points are subtracted)
    net              = gross - deductions (+ abnormal total where abnormal points are added)

A null measure is an unknown one, and every figure that rests on it is null too: nothing is guessed. A line that is
not there at all (a G5 nobody grew) must come in as 0. One sheet is a frame of one row.
"""

from collections.abc import Iterable
from functools import reduce
from operator import add

import polars as pl

from warehouse.categories import Category, Line

TOTALS = (
    "spread_credit",
    "right_total",
    "left_total",
    "diff_total",
    "abnormal_total",
    "deductions",
    "gross",
    "net",
)


def recompute(measures: pl.DataFrame, category: Category) -> pl.DataFrame:
    """Figures of every sheet in `measures`.

    Takes one integer column per measure of the category (`category.measures`) and `abnormal_total`, in units.
    Returns a frame of the same height: each pair's difference (`beam_diff` ...) and the eight TOTALS, Int32.
    """
    differences = measures.select(
        *(_difference(line) for line in category.pairs),
        *(pl.col(column).cast(pl.Int32) for column in _kept(category)),
        right_total=_total(f"{line.name}_r" for line in category.pairs),
        left_total=_total(f"{line.name}_l" for line in category.pairs),
        spread_credit=_spread_credit(category),
        deducted_spread=_total(line.name for line in category.lines if line.use == "deducted"),
        abnormal_total=pl.col("abnormal_total").cast(pl.Int32),
    )
    summed = differences.with_columns(
        diff_total=_total(line.difference for line in category.pairs),
        gross=_total(("spread_credit", "right_total", "left_total", *_kept(category))),
    )
    deductions = pl.col("diff_total") + pl.col("deducted_spread")
    if category.abnormal == "subtracted":
        deductions = deductions + pl.col("abnormal_total")
    net = pl.col("gross") - pl.col("deductions")
    if category.abnormal == "added":
        net = net + pl.col("abnormal_total")
    return (
        summed.with_columns(deductions=deductions)
        .with_columns(net=net)
        .select(*(line.difference for line in category.pairs), *TOTALS)
    )


def dependencies(category: Category) -> dict[str, frozenset[str]]:
    """Which measure columns each recomputed figure rests on, derived from the category's definition."""
    sides = {side: frozenset(f"{line.name}_{side}" for line in category.pairs) for side in "rl"}
    credited = frozenset(
        column
        for line in category.lines
        if line.use == "credited"
        for column in (line.name, *((f"{line.capped_by}_r", f"{line.capped_by}_l") if line.capped_by else ()))
    )
    pairs = sides["r"] | sides["l"]
    abnormal = frozenset({"abnormal_total"})
    spread_lost = frozenset(line.name for line in category.lines if line.use == "deducted")
    taken = abnormal if category.abnormal == "subtracted" else frozenset[str]()
    gross = credited | pairs | frozenset(_kept(category))
    return {
        **{line.difference: frozenset(line.columns) for line in category.pairs},
        "spread_credit": credited,
        "right_total": sides["r"],
        "left_total": sides["l"],
        "diff_total": pairs,
        "abnormal_total": abnormal,
        "deductions": pairs | spread_lost | taken,
        "gross": gross,
        "net": gross | spread_lost | (abnormal if category.abnormal != "none" else frozenset()),
    }


def _kept(category: Category) -> tuple[str, ...]:
    """Single lines that add to the score as they are (skull length and width)."""
    return tuple(line.name for line in category.lines if line.sides == "single" and line.use == "scored")


def _difference(line: Line) -> pl.Expr:
    right, left = (pl.col(column).cast(pl.Int32) for column in line.columns)
    return (right - left).abs().alias(line.difference)


def _total(columns: Iterable[str]) -> pl.Expr:
    """Sum that is null where any part is null (Polars' own horizontal sum would skip it, and hide an unknown)."""
    parts = [pl.col(column).cast(pl.Int32) for column in columns]
    return reduce(add, parts, pl.lit(0, dtype=pl.Int32))


def _spread_credit(category: Category) -> pl.Expr:
    """Inside spread, at most the longer of the capping pair; both sides must be known, for either may be longer."""
    for line in category.lines:
        if line.use == "credited":
            spread = pl.col(line.name).cast(pl.Int32)
            if line.capped_by is None:
                return spread
            right, left = (pl.col(f"{line.capped_by}_{side}").cast(pl.Int32) for side in "rl")
            longer = pl.when(right >= left).then(right).otherwise(left)
            known = right.is_not_null() & left.is_not_null() & spread.is_not_null()
            return pl.when(known).then(pl.min_horizontal(spread, longer))
    return pl.lit(0, dtype=pl.Int32)
