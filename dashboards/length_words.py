"""Lengths that statistics make: a median may lie between two units, and keeps the fraction it has."""

import polars as pl

from warehouse.eighths import text_expr


def finest_text(inches: pl.Expr, unit: int) -> pl.Expr:
    """Inches (Float64) that are whole or half units of 1/`unit` inch, as text: "143 3/8", "143 7/16". Null stays null."""
    halves = (inches * unit * 2).round().cast(pl.Int64)
    return pl.when(halves % 2 == 0).then(text_expr(halves // 2, unit)).otherwise(text_expr(halves, unit * 2))
