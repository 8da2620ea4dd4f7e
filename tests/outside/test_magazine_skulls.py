"""Skulls in sixteenths. Sources: Outdoor Life, June 2011; Yellowstone County News (stored excerpts)."""

import pytest

from loaders.notation import read_text
from tests.outside.worked_sheets import category, figures
from tests.plain_scoring import inches
from warehouse.scoring import dependencies


@pytest.mark.parametrize(
    ("length", "width", "net"),
    [
        ("11 9/16", "7 3/16", "18 12/16"),  # Outdoor Life, June 2011
        ("13 9/16", "8", "21 9/16"),  # Yellowstone County News
    ],
)
def test_length_and_width_are_the_score(length: str, width: str, net: str) -> None:
    found = figures("skull", {"skull_length": inches(length), "skull_width": inches(width)})
    assert (found["gross"], found["deductions"], found["net"]) == (net, "0", net)
    assert read_text(net, 16).value == int(inches(net) * 16)


def test_a_skull_rests_on_its_two_measures() -> None:
    assert dependencies(category("skull"))["net"] == {"skull_length", "skull_width"}
