"""Values every measurer knows. Common practice, no source.

A turkey is left out on purpose: its score (weight + 2 x beard + 10 x both spurs; 28.75 lb, 10.875 in, 1.75 in and
1.5 in make 83.0. Source: S. Hickoff, 22 February 2019) is a weighted sum, which no category of paired and single
lines expresses.
"""

import pytest

from tests.outside.worked_sheets import category, figures, sides
from tests.plain_scoring import inches
from tests.sheet_builder import audit_each, clean_sheet


def test_beams_and_points_differ_by() -> None:
    found = figures(
        "whitetail-typical", sides(("beam", "g1"), "20 5/8, 8 5/8", "21, 7 4/8") | {"inside_spread": inches("0")}
    )
    assert (found["beam_diff"], found["g1_diff"]) == ("3/8", "1 1/8")


@pytest.mark.parametrize(("minimum", "meets"), [("125", True), ("130", False), ("125 1/8", True), ("125 2/8", False)])
def test_a_net_against_a_minimum(minimum: str, meets: bool) -> None:
    head = sides(("beam", "g1"), "60 0/8, 3", "53 4/8, 0") | {"inside_spread": inches("18 1/8")}
    found = figures("whitetail-typical", head)
    assert (found["gross"], found["deductions"], found["net"]) == ("134 5/8", "9 4/8", "125 1/8")
    assert (inches(found["net"]) >= inches(minimum)) is meets


@pytest.mark.parametrize("code", ["whitetail-typical", "whitetail-nontypical", "elk-typical"])
def test_four_circumferences_always(code: str) -> None:
    lines = category(code).of_kind("circumference")
    assert [(line.name, line.sides, line.use) for line in lines] == [(f"h{n}", "pair", "scored") for n in range(1, 5)]


def test_a_head_without_its_fourth_point_still_has_its_fourth_circumference() -> None:
    rows = {text: clean_sheet(g4_r="", g4_l="", points_r="6", points_l="4") | {"h4_l": text} for text in ("3 7/8", "")}
    codes = {text: [one.code for one in audited.findings] for text, audited in audit_each(rows).items()}
    assert codes == {"3 7/8": [], "": ["circumference-missing"]}
