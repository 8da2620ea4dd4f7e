"""What is measured of antlers, in words: the names of the measures, their axes, and one amount as text."""

from dataclasses import dataclass

import polars as pl

from dashboards.length_words import finest_text


@dataclass(frozen=True)
class Measure:
    """`name` in a sentence, `axis` with its unit; `length`: whether it is written in fractions of an inch."""

    name: str
    axis: str
    length: bool = True


MEASURES = {
    "score": Measure("Score", "Score, inches"),
    "beam": Measure("Main beam", "Main beam, inches"),
    "h1": Measure("H1", "H1, inches"),
    "spread": Measure("Inside spread", "Inside spread, inches"),
    "points": Measure("Points", "Points", length=False),
    "age": Measure("Age", "Age, years", length=False),
}
"""The measures of `warehouse.book.trend_figures.antlers.MEASURES`, in their order."""


def amount_text(amount: pl.Expr, unit: int) -> pl.Expr:
    """Amounts of the column `measure` as text: lengths in half units of 1/`unit` inch, else with one decimal at most."""
    lengths = [code for code, measure in MEASURES.items() if measure.length]
    return pl.when(pl.col("measure").is_in(lengths)).then(finest_text(amount, unit)).otherwise(_tenths(amount))


def _tenths(amount: pl.Expr) -> pl.Expr:
    tenths = (amount * 10).round().cast(pl.Int64)
    whole = (tenths // 10).cast(pl.String)
    return pl.when(tenths % 10 == 0).then(whole).otherwise(pl.format("{}.{}", whole, tenths % 10))
