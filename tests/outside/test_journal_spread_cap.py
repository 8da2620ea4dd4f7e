"""A spread longer than both beams. Source: Western Hunting Journal 1(3), p. 77 (a mule deer; the white-tail rule is alike)."""

import pytest

from tests.outside.worked_sheets import figures, sides
from tests.plain_scoring import inches


@pytest.mark.parametrize("code", ["whitetail-typical", "whitetail-nontypical"])
@pytest.mark.parametrize("beams", [("20 2/8", "21 7/8"), ("21 7/8", "20 2/8")])
def test_the_credit_is_the_longer_beam(code: str, beams: tuple[str, str]) -> None:
    found = figures(code, sides(("beam",), *beams) | {"inside_spread": inches("27 0/8")})
    assert found["spread_credit"] == "21 7/8"
    assert inches("27 0/8") - inches(found["spread_credit"]) == inches("5 1/8")
    assert found["gross"] == "64 0/8"
