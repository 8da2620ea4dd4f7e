"""A pronghorn estimate. Source: hunttalk.com thread 290814 (stored excerpt): 14 + 6 + 15 + 5 = 40 a side, 80 in all.

A pronghorn has no spread credit and no abnormal points, so its net is always an even number of eighths (parity law).
"""

from fractions import Fraction
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.outside.worked_sheets import category, figures, sides
from tests.plain_scoring import Rules, score
from tests.warehouse.scoring_frames import figures_in_inches, frame_of
from warehouse.scoring import recompute

LINES = ("horn", "d1", "d2", "d3", "d4", "prong")


def test_the_estimate_adds_up() -> None:
    side = "15, 7, 7, 3, 3, 5"  # circumferences: 14 in the lower two, 6 in the upper two
    found = figures("pronghorn", sides(LINES, side, side))
    assert (found["right_total"], found["left_total"]) == ("40 0/8", "40 0/8")
    assert (found["gross"], found["net"], found["spread_credit"]) == ("80 0/8", "80 0/8", "0")


@settings(max_examples=25)
@given(st.integers(0, 2**32).map(Random))
def test_the_net_is_even_and_as_the_slow_scorer_has_it(source: Random) -> None:
    pronghorn = category("pronghorn")
    sheets = [{f"{n}_{s}": Fraction(source.randrange(200), 8) for n in LINES for s in "rl"} for _ in range(20)]
    nets = recompute(frame_of(sheets, pronghorn), pronghorn)["net"]
    assert (nets % 2 == 0).all()
    assert figures_in_inches(sheets, pronghorn) == [score(sheet, Rules(LINES)) for sheet in sheets]
