"""Lengths are whole numbers of a unit (eighths of an inch; sixteenths for skulls); here they become text.

This is the only place in the program where a length becomes text. Reading text is `loaders.notation`.
"""

import re

import polars as pl

EIGHTHS = 8
SIXTEENTHS = 16


def text_of(units: int, unit: int = EIGHTHS) -> str:
    """Write a length the way a score sheet does.

    `units` is a whole number of 1/`unit` inch. Whole inches keep their fraction ("21 0/8") so that a printed
    column lines up; a length under an inch is the fraction alone ("3/8"); nothing at all is "0".
    """
    if units == 0:
        return "0"
    sign = "-" if units < 0 else ""
    whole, parts = divmod(abs(units), unit)
    return f"{sign}{whole} {parts}/{unit}" if whole else f"{sign}{parts}/{unit}"


def text_expr(units: pl.Expr, unit: int = EIGHTHS) -> pl.Expr:
    """`text_of` over a whole column of whole units (any integer dtype) -> String; null stays null."""
    size = units.cast(pl.Int64).abs()
    whole, parts = size // unit, size % unit
    sign = pl.when(units < 0).then(pl.lit("-")).otherwise(pl.lit(""))
    fraction = pl.format("{}/{}", parts, pl.lit(unit))
    return (
        pl.when(units.is_null())
        .then(None)
        .when(units == 0)
        .then(pl.lit("0"))
        .when(whole == 0)
        .then(pl.concat_str(sign, fraction))
        .otherwise(pl.concat_str(sign, whole.cast(pl.String), pl.lit(" "), fraction))
    )


def units_of(text: str, unit: int = EIGHTHS) -> int:
    """Read the one spelling that `text_of` writes (rule files use it): "21 0/8", "3/8", "0".

    Raises ValueError for any other spelling: what people write on sheets is read by `loaders.notation`.
    """
    match = re.fullmatch(r"(?:(\d{1,4}) )?(\d{1,2})/(\d{1,2})", text)
    if text == "0":
        return 0
    if match is None or int(match[3]) != unit or int(match[2]) >= unit:
        raise ValueError(f"{text!r} is not a length in 1/{unit} inch: write it like '21 0/{unit}' or '3/{unit}'")
    return int(match[1] or 0) * unit + int(match[2])
