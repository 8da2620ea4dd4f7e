"""Length columns of a frame as text, where the rows may be in eighths or in sixteenths."""

import polars as pl

from warehouse.eighths import EIGHTHS, SIXTEENTHS, text_expr


def length_text(column: str) -> pl.Expr:
    """`column` (whole units of the row's own `unit`) as score sheet text; null stays null."""
    units = pl.col(column)
    return (
        pl.when(pl.col("unit") == SIXTEENTHS)
        .then(text_expr(units, SIXTEENTHS))
        .otherwise(text_expr(units, EIGHTHS))
        .alias(f"{column}_text")
    )
