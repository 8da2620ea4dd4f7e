"""Every length a tape can show, in every accepted spelling, reads back as itself."""

from collections.abc import Callable
from fractions import Fraction

import polars as pl
import pytest

from loaders.notation import spell
from loaders.notation.spellings import MEASURED
from tests.plain_notation import read

EIGHTHS = range(400 * 8 + 1)
SIGNS = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"]
DECIMALS = [".0", ".125", ".25", ".375", ".50", ".625", ".75", ".875"]
LOWEST = ["0/8", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"]

SPELLINGS: dict[str, Callable[[int, int], str]] = {
    "blank": lambda inch, part: f"{inch} {part}/8",
    "dash": lambda inch, part: f"{inch}-{part}/8",
    "en dash": lambda inch, part: f"{inch}–{part}/8",
    "inch mark": lambda inch, part: f'{inch} {part}/8"',
    "smart mark": lambda inch, part: f"{inch} {part}/8”",
    "double prime": lambda inch, part: f"{inch} {part}/8″",
    "word": lambda inch, part: f"{inch} {part}/8 in.",
    "no-break": lambda inch, part: f"{inch}\u00a0{part}/8",
    "thin and outside": lambda inch, part: f"\u00a0{inch}\u2009{part}/8 ",
    "wide stroke": lambda inch, part: f"{inch} {part} / 8",
    "fraction slash": lambda inch, part: f"{inch} {part}⁄8",
    "and": lambda inch, part: f"{inch} and {part}/8",
    "ampersand": lambda inch, part: f"{inch} & {part}/8",
    "no stroke": lambda inch, part: f"{inch} {part}",
    "dash, no stroke": lambda inch, part: f"{inch}-{part}",
    "sixteenths": lambda inch, part: f"{inch} {2 * part}/16",
    "lowest terms": lambda inch, part: f"{inch} {LOWEST[part]}",
    "sign": lambda inch, part: f"{inch}{SIGNS[part]}",
    "blank and sign": lambda inch, part: f"{inch} {SIGNS[part]}",
    "decimal": lambda inch, part: f"{inch}{DECIMALS[part]}",
    "comma": lambda inch, part: f"{inch}{DECIMALS[part]}".replace(".", ","),
    "zeros": lambda inch, part: f"{inch}.{125 * part:03d}0",
    "fraction format": lambda inch, part: f"{inch}.{125 * part:03d} [# ?/8]",
    "print": lambda inch, part: f"{inch}-{part}-8",
    "zero padded": lambda inch, part: f"{inch:04d} {part}/8",
    "apostrophe": lambda inch, part: f"'{inch} {part}/8",
}


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_the_second_reader_reads_them_too(spelling: str) -> None:
    lengths = EIGHTHS[::37]
    texts = [SPELLINGS[spelling](*divmod(eighths, 8)) for eighths in lengths]
    assert [read(text) for text in texts] == [("measured", (Fraction(eighths, 8),)) for eighths in lengths]


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_every_length_reads_back(spelling: str) -> None:
    texts = [SPELLINGS[spelling](*divmod(eighths, 8)) for eighths in EIGHTHS]
    found = spell(pl.Series(texts, dtype=pl.String))
    assert found["state"].to_list() == [MEASURED] * len(texts)
    assert found["value"].to_list() == list(EIGHTHS)
    assert found.select("first", "second").null_count().row(0) == (len(texts), len(texts))


def test_a_fraction_alone_is_under_an_inch() -> None:
    texts = [f"{part}/8" for part in range(8)] + [sign for sign in SIGNS if sign]
    assert spell(pl.Series(texts))["value"].to_list() == [*range(8), *range(1, 8)]


def test_every_sixteenth_of_a_skull_reads_back() -> None:
    sixteenths = range(40 * 16 + 1)
    texts = [f"{n // 16} {n % 16}/16" for n in sixteenths]
    assert spell(pl.Series(texts), 16)["value"].to_list() == list(sixteenths)
