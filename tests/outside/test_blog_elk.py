"""Two elk with every row. Source: blog jayscottoutdoors, 11 July 2012 and 29 June 2012 (stored excerpts; sums redone).

The second has wrong published sums that cannot be decided: this program must say so, and must not name one figure.
"""

import polars as pl
import pytest

from tests.outside.worked_sheets import category, figures, sides
from tests.plain_scoring import inches
from tests.warehouse.scoring_frames import frame_of
from warehouse.audit.figures import figure_rules
from warehouse.audit.rules import apply
from warehouse.scoring import recompute

POINTS = ("g1", "g2", "g3", "g4", "g5")
JULY = sides(
    ("beam", *POINTS, "h1", "h2", "h3", "h4"),
    right="59, 21, 19, 17 6/8, 23 6/8, 14, 8 5/8, 7 4/8, 7 1/8, 6",
    left="58 2/8, 20, 19 4/8, 16, 22 2/8, 13 6/8, 8 4/8, 7 6/8, 7 4/8, 6 1/8",
) | {"inside_spread": inches("37")}
# the four circumferences of the June head are published as one sum a side
JUNE = sides(
    (*POINTS, "beam", "h1"),
    right="16 4/8, 17 7/8, 17 5/8, 25, 19 4/8, 54, 26 3/8",
    left="16 4/8, 18, 15 7/8, 23 4/8, 16 2/8, 56 2/8, 26 6/8",
) | {"inside_spread": inches("36")}
JUNE_STATED = {"right_total": "176 3/8", "left_total": "172 7/8", "gross": "385 2/8"}


def test_july_is_right_throughout() -> None:
    found = figures("elk", JULY)
    stated = {
        "left_total": "179 5/8",
        "right_total": "183 6/8",
        "gross": "400 3/8",
        "deductions": "6 5/8",
        "net": "393 6/8",
    }
    assert {name: found[name] for name in stated} == stated


@pytest.mark.parametrize(
    ("figure", "rows_give"), [("right_total", "176 7/8"), ("left_total", "173 1/8"), ("gross", "386 0/8")]
)
def test_june_rows_disagree_with_each_stated_sum(figure: str, rows_give: str) -> None:
    assert figures("elk", JUNE)[figure] == rows_give
    assert JUNE_STATED[figure] != rows_give


def test_june_gross_follows_from_its_stated_totals() -> None:
    total = inches("36") + inches(JUNE_STATED["right_total"]) + inches(JUNE_STATED["left_total"])
    assert total == inches(JUNE_STATED["gross"])


def test_june_gets_a_finding_on_every_stated_sum() -> None:
    elk = category("elk")
    frame = frame_of([JUNE], elk)
    frame = frame.hstack(recompute(frame, elk).drop("abnormal_total")).with_columns(id=pl.lit(0, dtype=pl.UInt32))
    frame = frame.with_columns(
        pl.lit(int(inches(text) * 8)).alias(f"stated.{name}") for name, text in JUNE_STATED.items()
    )
    found = apply(figure_rules(elk, frozenset(JUNE_STATED)), frame)
    assert found.select("code", "stated", "expected").rows() == [
        ("right_total", "176 3/8", "176 7/8"),
        ("left_total", "172 7/8", "173 1/8"),
        ("gross", "385 2/8", "386 0/8"),
    ]
