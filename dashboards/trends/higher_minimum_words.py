"""Entries about the minimum of a higher record book, in sentences: a step there, told from the heaping on whole inches."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from dashboards.number_words import chance, share
from dashboards.words import counted
from warehouse.plain_text import shown
from warehouse.trends.higher_minimum import ENOUGH, REACH

HEADING = "The minimum of a higher record book"
NONE = (
    "No other record book that ranks by the same score has, near the scores of these entries, a minimum above the ones "
    "that they had to reach."
)
HOW = (
    "This record book holds heads on both sides of a higher one’s minimum, so that a step there can be seen. Scores "
    "thin out upwards and heap on whole inches, where minimums stand: so expected is what the same window shows about "
    f"the other whole inches up to {REACH} inches away."
)
OPENS = (
    "A step is one of all measurers together and names none of them. It opens a re-measure of heads about that minimum, "
    "by others, and accuses nobody."
)
EACH_ALONE = "Each p is of one minimum by itself: where several are looked at, chance makes one of them stand out."
REFUSED = f"too few entries to tell (under {ENOUGH} within half an inch of it, or none about other whole inches)"
"""Why nothing is told of a minimum."""
SAME = "as many as expected"


def sentences(minimums: pl.DataFrame) -> list[str]:
    """How it is told, each minimum, and what follows. Takes `MeasurersFrames.higher_minimums`."""
    if minimums.is_empty():
        return [NONE]
    refused = pl.col("refused").is_not_null()
    told = [row_sentence(row) for row in minimums.filter(~refused).iter_rows(named=True)]
    few = [place(row) for row in minimums.filter(refused).iter_rows(named=True)]
    return [
        *([HOW, *told] if told else []), *([EACH_ALONE] if len(told) > 1 else []), *([OPENS] if told else []),
        *([f"Not told, {REFUSED}: {'; '.join(few)}."] if few else []),
    ]  # fmt: skip


def place(row: Mapping[str, Any]) -> str:
    """ "High Book, 135 0/8"."""
    return f"{shown(row['book'])}, {row['minimum']}"


def seen(row: Mapping[str, Any]) -> str:
    """ "more than expected" over the minimum, "fewer than expected", "as many as expected"."""
    return f"{row['sign']} than expected" if row["sign"] else SAME


def row_sentence(row: Mapping[str, Any]) -> str:
    """One minimum: entries just under and just over it, against what is expected."""
    return (
        f"{place(row)}: {counted(row['below'], 'entry', 'entries')} in the half inch under it, {row['above']:,} in the "
        f"half inch from it up, {share(row['share'])} of both (95 % interval {share(row['lower'])} to "
        f"{share(row['upper'])}); expected {share(row['expected'])}: {seen(row)} ({chance(row['p'])})."
    )
