"""Texts that people really write, each with its meaning, and the second reader's word for it."""

from fractions import Fraction

import pytest

from loaders.notation import read_text
from tests.plain_notation import read

STATES = ("measured", "blank", "absent", "open", "date", "hidden", "unreadable")

MEASURED = {
    "8 5/8": 69, "8-5/8": 69, '8 5/8"': 69, "8⅝": 69, "8 5": 69, "8.625": 69, "8 10/16": 69, "0": 0, "8,625": 69,
    "8 ½": 68, "8½": 68, "½": 4, "8\u00a05/8": 69, "\u00a08 5/8\u00a0": 69, "\ufeff8 5/8": 69, "8 5/8\u200b": 69,
    "8 5/8”": 69, "8 5/8“": 69, "8 5/8″": 69, "8 5/8''": 69, "8 5/8’’": 69, "21 3/8”": 171, "20–4/8": 164,
    "17 4/8": 140, "16-4/8": 132, "27 0/8": 216, "16 4/ 8": 132, "277⅜": 2219, "4 1⁄2": 36, "5 & 4/8": 44,
    "7 and 4": 60, "10.8750": 87, "17.375 [# ?/8]": 139, "22.625 [# ?/8]": 181, "5 [# ?/8]": 40, "8 5/8 [@]": 69,
    "2310/16": 189, "23 78": 191, "17-3-8": 139, "3/8": 3, "4/8": 4, "1/2": 4, "8.0": 64, "8.50": 68, "8.1": 65,
    "8.2": 66, "8.7": 71, "8.13": 65, "8.12": 65, "8.38": 67, "8.63": 69, "8.88": 71, "-0": 0, "8/8": 8, "18/8": 18,
}  # fmt: skip
OPEN: dict[str, tuple[int | None, int | None]] = {
    "8.5": (69, 68), "8.3": (67, 66), "8.4": (68, 67), "8.6": (70, 69), "8.8": (None, 70), "8.9": (None, 71),
    "17.5": (141, 140), "17,5": (141, 140), "0.5": (5, 4), "32/8": (26, 32), "277/8": (223, 277), "33/8": (27, 33),
}  # fmt: skip
DATES = {
    "2026-03-08 [d-mmm]": 3, "8-Mar": 3, "Mar-8": 3, "43167": 3, "2017-03-08": 3, "2026-08-03": 3, "3/8/2026": 3,
    "8/3/26": 3, "2026-03-08T00:00:00": 3, "2026-03-08 00:00:00": 3, "8-Mar-2026": 3, "2026-01-02": 4, "2026-03-04": 6,
}  # fmt: skip
HIDDEN = {"17.4 [# ?/8]": 139, "0.3 [# ?/8]": 2, "17.7 [# ?/8]": 142, "17.12 [# ??/16]": 137, "17.1 [# ?/8]": 137}
BLANK = ["", " ", "\u00a0", "\t", "\u200b", "\ufeff "]
ABSENT = ["-", "–", "—", "--", "n/a", "N/A", "na", "none", "None", "NIL", "x", "absent", " - "]
UNREADABLE = [
    "4,4-4/8", "23 916", "1/3", "3/16", "8 1/3", "⅓", "8 8/8", "8 9/8", "8 3/16", "8.37", "8.16", "see note", "8 5/8 cm",
    "-8 5/8", "-8.5", "-17.4 [# ?/8]", "−3 3/8", "٣.5", "8.٥", "1e3", "inf", "nan", "8 5/0", "8//8", "2026-02-30",
    "12345", "123456", "8.6249999", "8 5/8 7/8", "8 5/8;", "#REF!", "=1+1", "8'5", "8 8", "8-13-8",
]  # fmt: skip


def _product(text: str | None, unit: int = 8) -> tuple[str, tuple[Fraction | None, ...]]:
    """The product's reading in the second reader's terms; an open reading keeps its place."""
    found = read_text(text, unit)
    state = STATES[found.state]
    if state in ("measured", "absent"):
        return state, (Fraction(found.value or 0, unit),)
    both = tuple(None if value is None else Fraction(value, unit) for value in (found.first, found.second))
    return state, both if state == "open" else both[:1] if state in ("date", "hidden") else ()


@pytest.mark.parametrize("text", MEASURED)
def test_one_meaning(text: str) -> None:
    assert _product(text) == ("measured", (Fraction(MEASURED[text], 8),))


@pytest.mark.parametrize("text", OPEN)
def test_two_meanings_are_never_chosen_from_the_text_alone(text: str) -> None:
    found = read_text(text)
    assert (STATES[found.state], found.value, found.first, found.second) == ("open", None, *OPEN[text])


@pytest.mark.parametrize("text", DATES)
def test_a_fraction_that_became_a_date(text: str) -> None:
    assert _product(text) == ("date", (Fraction(DATES[text], 8),))
    assert read_text(text).value is None


@pytest.mark.parametrize("text", HIDDEN)
def test_a_number_behind_a_fraction_format(text: str) -> None:
    assert _product(text) == ("hidden", (Fraction(HIDDEN[text], 8),))
    assert read_text(text).value is None


@pytest.mark.parametrize("text", [None, *BLANK])
def test_nothing_written(text: str | None) -> None:
    assert _product(text) == ("blank", ())


@pytest.mark.parametrize("text", ABSENT)
def test_written_as_absent(text: str) -> None:
    assert _product(text) == ("absent", (Fraction(0),))


@pytest.mark.parametrize("text", UNREADABLE)
def test_no_meaning(text: str) -> None:
    assert _product(text) == ("unreadable", ())


@pytest.mark.parametrize(
    ("text", "sixteenths"), [("3/16", 3), ("23 916", 377), ("2310/16", 378), ("8.1875", 131), ("8.5 ", None)]
)
def test_sixteenths(text: str, sixteenths: int | None) -> None:
    assert read_text(text, 16).value == sixteenths


@pytest.mark.parametrize("unit", [8, 16])
@pytest.mark.parametrize("text", [*MEASURED, *OPEN, *DATES, *HIDDEN, *BLANK, *ABSENT, *UNREADABLE])
def test_the_second_reader_agrees(text: str, unit: int) -> None:
    assert _product(text, unit) == read(text, unit)
