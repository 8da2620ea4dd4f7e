"""What the spelling of a length tells about its writer's habit, beside the length itself.

A text with two readings cannot tell; "8.7" can only count eighths, "8.25" only be a decimal, "8.8" only a rounded
one. Such texts on other sheets speak for what an open cell means.
"""

import polars as pl

from loaders.notation.spellings import is_exact_decimal, shapes

ONLY_UNITS = 1  # the digits can only count units
ONLY_DECIMAL = 2  # the digits can only be a decimal
ROUNDED = 4  # read as a decimal, it is a rounded one, to as few places as digits that count units have
RUN_TOGETHER = 8  # a fraction: "277/8", whose two readings are no matter of decimals
DATED = 16  # (lists) an item is a date or hidden by its format, and needs the sheet's figures to confirm it


def traits_of(texts: pl.Series, unit: int) -> pl.Series:
    """The marks above, added up, for each text (UInt8; 0 for a text that tells nothing), in the same order."""
    frame = shapes(texts, unit)
    formatted = pl.col("format").str.contains("/").fill_null(False)  # then the spreadsheet wrote the digits
    decimal = pl.col("dec_digits").is_not_null() & ~formatted
    counts, reads = pl.col("in_units").is_not_null(), pl.col("as_decimal").is_not_null()
    few = pl.col("dec_all").str.len_chars() <= len(str(unit - 1))
    marks = {
        ONLY_UNITS: decimal & counts & ~reads,
        ONLY_DECIMAL: decimal & reads & ~counts,
        ROUNDED: decimal & reads & ~is_exact_decimal(unit) & few,
        RUN_TOGETHER: pl.col("fr_num").is_not_null(),
    }
    told = [
        pl.when(holds.fill_null(False)).then(pl.lit(mark, pl.UInt8)).otherwise(pl.lit(0, pl.UInt8))
        for mark, holds in marks.items()
    ]
    return frame.select(traits=pl.sum_horizontal(told).cast(pl.UInt8)).to_series()
