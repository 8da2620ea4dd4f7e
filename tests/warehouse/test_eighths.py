"""Lengths as text: the one spelling this program writes, and reading it back from rule files."""

from fractions import Fraction

import polars as pl
import pytest

from tests.plain_scoring import sheet_text
from warehouse.eighths import text_expr, text_of, units_of

LENGTHS = range(400 * 8 + 1)


@pytest.mark.parametrize(
    ("units", "unit", "text"),
    [
        (0, 8, "0"), (1, 8, "1/8"), (7, 8, "7/8"), (8, 8, "1 0/8"), (171, 8, "21 3/8"), (-3, 8, "-3/8"),
        (-39, 8, "-4 7/8"), (300, 16, "18 12/16"), (16, 16, "1 0/16"),
    ],
)  # fmt: skip
def test_a_length_as_a_sheet_writes_it(units: int, unit: int, text: str) -> None:
    assert text_of(units, unit) == text


@pytest.mark.parametrize("unit", [8, 16])
def test_a_column_is_written_as_each_of_its_lengths(unit: int) -> None:
    units = [*LENGTHS, -1, -9, None]
    frame = pl.DataFrame({"u": units}, schema={"u": pl.Int32})
    expected = [None if n is None else text_of(n, unit) for n in units]
    assert frame.select(text_expr(pl.col("u"), unit)).to_series().to_list() == expected
    assert expected[: len(LENGTHS)] == [sheet_text(Fraction(n, unit), unit) for n in LENGTHS]


@pytest.mark.parametrize("unit", [8, 16])
def test_what_is_written_reads_back(unit: int) -> None:
    assert [units_of(text_of(n, unit), unit) for n in LENGTHS] == list(LENGTHS)


@pytest.mark.parametrize("text", ["", "8", "8 8/8", "8 5/16", "8  5/8", "8.5", "-1 0/8", "8 5/8 ", "half"])
def test_any_other_spelling_is_refused_in_a_rule_file(text: str) -> None:
    message = f"{text!r} is not a length in 1/8 inch: write it like '21 0/8' or '3/8'"
    with pytest.raises(ValueError, match="is not a length") as refusal:
        units_of(text)
    assert str(refusal.value) == message
