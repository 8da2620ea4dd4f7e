"""Numbers seen in print that lost their separator. Source: newspapers and lists (stored excerpts, no titles kept).

What has two meanings is a question, never a guess.
"""

import pytest

from loaders.notation import read_text
from loaders.notation.spellings import MEASURED, OPEN


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [("2310/16", 16, 23 * 16 + 10), ("2310/16", 8, 23 * 8 + 5), ("23 916", 16, 23 * 16 + 9), ("23 78", 8, 23 * 8 + 7)],
)
def test_one_meaning(text: str, unit: int, value: int) -> None:
    found = read_text(text, unit)
    assert (found.state, found.value) == (MEASURED, value)


def test_three_and_two_eighths_or_four_inches() -> None:
    found = read_text("32/8")
    assert (found.state, found.value, found.first, found.second) == (OPEN, None, 3 * 8 + 2, 4 * 8)
