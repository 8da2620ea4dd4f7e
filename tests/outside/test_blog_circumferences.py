"""The eight circumferences of one white-tail. Source: blogsmonroe.com, December 2016 (stored excerpt)."""

from fractions import Fraction

from tests.outside.worked_sheets import figures, sides
from tests.plain_scoring import inches

HEAD = sides(("h1", "h2", "h3", "h4"), right="4 4/8, 4, 4, 3", left="4 4/8, 4, 4 4/8, 3")


def test_together_as_published() -> None:
    found = figures("whitetail-typical", HEAD | {"inside_spread": Fraction(0)})
    assert inches(found["right_total"]) + inches(found["left_total"]) == inches("31 4/8")
    assert found["gross"] == "31 4/8"
    assert (found["diff_total"], found["h3_diff"], found["net"]) == ("4/8", "4/8", "31 0/8")
