"""How the frozen rows of an edition become text: one way for every format.

Names and reasons are other people's: a sign that would act instead of being seen (a control sign, U+202E, which turns
what follows around) is written out as its code, and a text stays on one line.
"""

import polars as pl

from warehouse.book.editions.printed import ALLOWED
from warehouse.book.length_text import length_text
from warehouse.plain_text import shown

_MAY_ACT = r"[\p{C}\p{Zl}\p{Zp}]"


def plain(frame: pl.DataFrame) -> pl.DataFrame:
    """The frame with every text column harmless to print (`warehouse.plain_text.shown`)."""
    return frame.with_columns(_plain(frame[name]) for name, dtype in frame.schema.items() if dtype == pl.String)


def lines_as_text(lines: pl.DataFrame) -> pl.DataFrame:
    """Book, category, span and the fields that may be published, in their order; lengths as a score sheet has them.

    Takes `Edition.lines`, or some of its rows. Any other column of it is left behind.
    """
    lengths = lines.with_columns(length_text("net").alias("net"), length_text("gross").alias("gross"))
    return plain(lengths.select("book", "category", "span", *ALLOWED))


def _plain(texts: pl.Series) -> pl.Series:
    acting = texts.filter(texts.str.contains(_MAY_ACT).fill_null(False)).unique()
    return texts.replace({text: shown(text) for text in acting.to_list()}) if len(acting) else texts
