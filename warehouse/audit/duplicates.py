"""The same row, the same head or the same number twice: found with one key per sheet, then compared in full."""

from functools import reduce

import polars as pl

from warehouse.audit.rules import Rule, apply

MULTIPLIER = 1_099_511_628_211  # a large odd number: the key is a polynomial in it, modulo 2**64


def measure_key(frame: pl.DataFrame, columns: tuple[str, ...]) -> pl.Series:
    """UInt64 key of each sheet's measures (Int32 columns): equal measures, equal key, in any version and machine.

    Null where the sheet has no measures worth comparing (any of the columns unknown). Unequal measures can share a
    key (one pair in 2**64): within a run equal keys are compared in full, against the book a shared key only asks.
    """
    parts = [pl.col(column).cast(pl.UInt64) for column in columns]
    key = reduce(lambda total, part: total * MULTIPLIER + part, parts, pl.lit(len(columns), dtype=pl.UInt64))
    return frame.select(key.alias("measure_key")).to_series()


def duplicate_findings(sheets: pl.DataFrame, compared: tuple[str, ...]) -> pl.DataFrame:
    """Findings on every later row that repeats an earlier one.

    `sheets` holds the rows whose key or number repeats, in the order received: "id"; "measure_key"; "entry_no",
    "hunter", "taken_on"; the Int32 columns `compared`; "place" (String: where the row stands, for the sentence);
    "row_text" (String: all its cells).
    """
    frame = sheets.with_columns(
        same_row=_first_of(sheets, ["row_text"]),
        same_head=_first_of(sheets, list(compared)),
        same_sheet=_first_of(sheets, ["entry_no", "hunter", "taken_on"]),
        same_number=_first_of(sheets, ["entry_no"]),
    )
    return apply(_rules(), frame)


def _first_of(frame: pl.DataFrame, columns: list[str]) -> pl.Series:
    """For each row the place of the first earlier row with the same values; null for the first of its kind."""
    place = pl.col("place").first().over(columns)
    later = pl.int_range(pl.len()).over(columns) > 0
    known = pl.all_horizontal(pl.col(column).is_not_null() for column in columns)
    return frame.select(pl.when(later & known).then(place)).to_series()


def _rules() -> list[Rule]:
    number = pl.col("entry_no")
    row, head, sheet, again = (pl.col(name) for name in ("same_row", "same_head", "same_sheet", "same_number"))
    no_row = row.is_null()
    return [
        Rule("row-twice", ("entry_no",), row.is_not_null(),
             pl.format("This row has come before: {}.", row), stated=number),
        Rule("head-twice", ("entry_no",), no_row & head.is_not_null() & sheet.is_null(),
             pl.format("Every measure of this head is also that of {}; is it one head entered twice?", head), stated=number),
        Rule("entry-twice", ("entry_no",), no_row & sheet.is_not_null(),
             pl.format("The same number, hunter and date stand at {}; which of the two counts?", sheet), stated=number),
        Rule("number-reused", ("entry_no",), no_row & sheet.is_null() & again.is_not_null() & head.is_null(),
             pl.format("The number {} is also that of another head, {}.", number, again), stated=number),
    ]  # fmt: skip
