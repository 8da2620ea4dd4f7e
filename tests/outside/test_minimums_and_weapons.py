"""Common practice, no source: a net of 125 1/8 taken by rifle misses a minimum of 130, meets 125, and could enter a
bow-only book with minimum 125 only if it was taken by bow.
"""

from typing import Any

import pytest

from tests.record_books import BOOK, MINIMUM, book_of, head
from warehouse.book import standing

NET = 125 * 8 + 1


@pytest.mark.parametrize(
    ("weapon", "expected"),
    [
        ("rifle", {
            "A hundred and thirty": ["the net of 125 1/8 is below the minimum of 130 0/8 by 4 7/8"],
            "A hundred and twenty-five": [], "Bows": ["taken by rifle, which the book does not take"],
        }),
        ("bow", {
            "A hundred and thirty": ["the net of 125 1/8 is below the minimum of 130 0/8 by 4 7/8"],
            "A hundred and twenty-five": [], "Bows": [],
        }),
    ],
)  # fmt: skip
def test_where_a_net_of_125_and_an_eighth_can_go(weapon: str, expected: dict[str, list[str]]) -> None:
    rows: list[tuple[str, dict[str, Any]]] = []
    for book, inches, weapons in (
        ("A hundred and thirty", 130, []),
        ("A hundred and twenty-five", 125, []),
        ("Bows", 125, ["bow"]),
    ):
        rows.append(("record_book", BOOK | {"book": book, "weapons": weapons}))
        rows.append(("minimum", MINIMUM | {"book": book, "minimum_units": inches * 8}))
    with book_of(*rows) as connection:
        head(connection, weapon=weapon, net=NET, deductions=1183 - NET)
        found = standing.standing(connection)
    assert dict(found.select("book", "reasons").rows()) == expected
