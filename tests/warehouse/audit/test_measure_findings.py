"""What a head can and cannot be: points, circumferences, spreads and the bounds of the species."""

import pytest

from loaders.fields import stated_fields
from tests.sheet_builder import Finding, audit_each, brief, clean_sheet
from tests.sheet_builder import Row as SheetRow

UNSTATED = dict.fromkeys(stated_fields(), "")
EVERY_HEAD = "is not on the sheet; every head has this measure."
FOUR = (
    "is not on the sheet; a head always has four circumferences "
    "(where G4 is missing, H4 is taken half-way from G3 to the beam tip)."
)


def _find(row: SheetRow) -> list[Finding]:
    return audit_each({"": row})[""].findings


def _net(row: SheetRow) -> int | None:
    return audit_each({"": row})[""].figures["net"]


@pytest.mark.parametrize(
    ("cell", "code", "message"),
    [
        ("beam_r", "missing-measure", f"Main beam right {EVERY_HEAD}"),
        ("inside_spread", "missing-measure", f"Inside spread {EVERY_HEAD}"),
        ("h2_l", "circumference-missing", f"H2 circumference left {FOUR}"),
        ("h4_r", "circumference-missing", f"H4 circumference right {FOUR}"),
    ],
)
def test_a_measure_that_every_head_has(cell: str, code: str, message: str) -> None:
    row = clean_sheet() | {cell: ""}
    assert _find(row) == [Finding(2, code, "error", (cell,), None, None, message)]
    assert _net(row) is None


@pytest.mark.parametrize("text", ["-", "none", "0"])
def test_absent_is_no_answer_where_every_head_has_one(text: str) -> None:
    row = clean_sheet() | UNSTATED | {"h2_l": text}
    assert brief(_find(row)) == [("circumference-missing", "h2_l")]


def test_a_blank_point_that_the_figures_confirm_is_absent() -> None:
    row = clean_sheet(g5_r="2 0/8", points_r="8")
    assert _find(row) == []


def test_a_blank_point_that_nothing_confirms_is_asked_about() -> None:
    row = clean_sheet(g5_r="2 0/8", points_r="8") | UNSTATED
    message = "G5 left is blank and the other side has 2 0/8; scored as absent, but was it forgotten?"
    expected = Finding(2, "blank-point", "question", ("g5_l",), None, "a length, or - for none", message)
    assert _find(row) == [expected]


@pytest.mark.parametrize("text", ["-", "0", "none", "n/a"])
def test_a_point_written_as_absent_is_not_asked_about(text: str) -> None:
    row = clean_sheet(g5_r="2 0/8", points_r="8") | UNSTATED | {"g5_l": text}
    assert _find(row) == []


def test_a_forgotten_point_is_asked_about_beside_the_figures() -> None:
    found = brief(_find(clean_sheet() | {"g4_l": ""}))
    figures = ["g4_diff", "left_total", "diff_total", "deductions", "gross", "net"]
    assert found == [*((figure, figure) for figure in figures), ("blank-point", "g4_l"), ("point-count", "points_l")]


@pytest.mark.parametrize(
    ("changes", "cells", "stated", "who"),
    [
        ({"g6_r": "2 0/8", "points_r": "8"}, ("g5_r",), "2 0/8", "The right side has"),
        ({"g6_l": "1 4/8", "points_l": "6"}, ("g5_l",), "1 4/8", "The left side has"),
        (
            {"g6_r": "2 0/8", "g6_l": "1 4/8", "points_r": "8", "points_l": "6"},
            ("g5_r", "g5_l"),
            "2 0/8",
            "Both sides have",
        ),
    ],
)
def test_a_gap_in_the_points(changes: dict[str, str], cells: tuple[str, ...], stated: str, who: str) -> None:
    message = f"{who} G6 without G5; was a point written one row too far?"
    expected = Finding(2, "point-gap", "question", cells, stated, None, message)
    assert _find(clean_sheet(**changes)) == [expected]


def test_a_point_under_one_inch() -> None:
    message = "G5 right is 7/8; a point counts from one inch."
    expected = Finding(2, "point-under-inch", "error", ("g5_r",), "7/8", "at least 1 0/8", message)
    assert _find(clean_sheet(g5_r="7/8", points_r="8")) == [expected]
    assert _find(clean_sheet(g5_r="1 0/8", points_r="8")) == []


@pytest.mark.parametrize("count", ["6", "8"])
def test_a_point_count_that_differs(count: str) -> None:
    message = f"The right side states {count} points; 4 normal, the beam tip and 2 abnormal are recorded."
    expected = Finding(2, "point-count", "question", ("points_r",), count, "7", message)
    assert _find(clean_sheet(points_r=count)) == [expected]


@pytest.mark.parametrize("count", ["6", "7", "9"])
def test_one_abnormal_number_may_be_several_points(count: str) -> None:
    assert _find(clean_sheet(abnormal_r="3 3/8", points_r=count)) == []


def test_one_abnormal_number_is_at_least_one_point() -> None:
    (found,) = _find(clean_sheet(abnormal_r="3 3/8", points_r="5"))
    assert (found.code, found.expected) == ("point-count", "at least 6")


def test_greatest_spread_under_inside_spread() -> None:
    message = "The greatest spread is 17 3/8 and the inside spread 17 4/8; were the two exchanged?"
    cells = ("greatest_spread", "inside_spread")
    expected = Finding(2, "greatest-under-inside", "error", cells, "17 3/8", "at least 17 4/8", message)
    assert _find(clean_sheet() | {"greatest_spread": "17 3/8"}) == [expected]
    assert _find(clean_sheet() | {"greatest_spread": "17 4/8"}) == []


def test_a_spread_over_the_longer_beam_is_capped_and_noted() -> None:
    row = clean_sheet(inside_spread="22 2/8", greatest_spread="25 0/8")
    message = "The inside spread of 22 2/8 is longer than the longer beam; 22 1/8 is credited."
    expected = Finding(2, "spread-over-beam", "note", ("inside_spread",), "22 2/8", "22 1/8", message)
    assert _find(row) == [expected]
    assert _find(clean_sheet(inside_spread="22 1/8", greatest_spread="25 0/8")) == []


@pytest.mark.parametrize(
    ("changes", "cell", "stated", "expected", "name"),
    [
        ({"beam_r": "36 1/8"}, "beam_r", "36 1/8", "8 0/8 to 36 0/8", "Main beam right"),
        ({"h1_r": "1 3/8"}, "h1_r", "1 3/8", "1 4/8 to 9 0/8", "H1 circumference right"),
        ({"g1_l": "14 1/8"}, "g1_l", "14 1/8", "0 to 14 0/8", "G1 (brow) left"),
        ({"tip_to_tip": "45 1/8"}, "tip_to_tip", "45 1/8", "0 to 45 0/8", "Tip to tip spread"),
    ],
)
def test_outside_what_the_species_grows(
    changes: dict[str, str], cell: str, stated: str, expected: str, name: str
) -> None:
    message = f"{name} is {stated}; a white-tailed deer grows {expected} inches there."
    found = _find(clean_sheet(**changes))
    assert found == [Finding(2, "out-of-bounds", "question", (cell,), stated, expected, message)]


@pytest.mark.parametrize("changes", [{"beam_r": "36 0/8"}, {"h1_r": "1 4/8"}, {"g1_l": "14 0/8"}, {"tip_to_tip": "0"}])
def test_the_bounds_themselves_are_grown(changes: dict[str, str]) -> None:
    assert _find(clean_sheet(**changes)) == []
