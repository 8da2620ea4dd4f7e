"""Explanations beside the slips: another category's rule, a point too many, figures that cannot be read; and what a
sheet leaves undetermined, which is neither told nor called certain."""

from pathlib import Path
from typing import Any

import pytest

from tests.sheet_builder import Row, as_csv, audit_bytes, clean_sheet
from warehouse.eighths import text_of

TYPICAL, NONTYPICAL = clean_sheet(), clean_sheet(category="whitetail-nontypical")
NET_ALONE = dict.fromkeys(
    [name for name in TYPICAL if name.endswith("_diff")]
    + ["right_total", "left_total", "spread_credit", "diff_total", "deductions", "abnormal_total", "gross"], "",
)  # fmt: skip


def told(folder: Path, row: Row) -> tuple[list[dict[str, Any]], bool]:
    """The explanations of one sheet, and whether its score is certain."""
    (table,) = audit_bytes(folder, as_csv([row])).tables
    return table.explanations.to_dicts(), bool(table.certain[0])


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (TYPICAL | {"category": "whitetail-nontypical"},
         "The abnormal points were taken off, as on a typical sheet: by this category the deductions come to 2 3/8 and the "
         "net to 148 7/8; or else the category is not the right one."),
        (NONTYPICAL | {"category": "whitetail-typical"},
         "The abnormal points were added, as on a non-typical sheet: by this category the deductions come to 5 6/8 and the "
         "net to 142 1/8; or else the category is not the right one."),
    ],
    ids=["typical", "non-typical"],
)  # fmt: skip
def test_a_sheet_worked_out_by_the_other_rule(tmp_path: Path, row: Row, why: str) -> None:
    explanations, is_certain = told(tmp_path, row)
    assert [(one["place"], one["kind"], one["cells"], one["why"]) for one in explanations] == [
        (0, "other-category", ["deductions", "net"], why)
    ]
    assert not is_certain


def test_the_net_alone_by_the_other_rule_stands_before_the_manner(tmp_path: Path) -> None:
    explanations, is_certain = told(tmp_path, TYPICAL | {"net": "148 7/8", "deductions": ""})
    assert [(one["place"], one["kind"], one["cells"], one["net"]) for one in explanations] == [
        (0, "other-category", ["net"], 1137)
    ]
    assert not is_certain


def test_a_point_too_many_makes_another_slips_score_uncertain(tmp_path: Path) -> None:
    explanations, is_certain = told(tmp_path, clean_sheet(points_r="6") | {"net": "141"})
    assert [one["cells"] for one in explanations] == [["net"]]
    assert not is_certain


def test_one_abnormal_number_may_be_a_sum_and_the_tip_is_asked_about_all_the_same(tmp_path: Path) -> None:
    explanations, is_certain = told(tmp_path, clean_sheet(abnormal_r="3 3/8", points_r="5"))
    assert [(one["kind"], one["cells"]) for one in explanations] == [("tip-as-point", ["g4_r"])]
    assert not is_certain


def test_figures_that_cannot_be_read_are_what_the_measures_make_them(tmp_path: Path) -> None:
    (one,), is_certain = told(tmp_path, TYPICAL | {"g2_diff": "??", "net": "x?"})
    assert (one["kind"], one["cells"], one["stated"]) == ("unread", ["g2_diff", "net"], [None, None])
    assert [text_of(units) for units in one["proposed"]] == ["4/8", "142 1/8"]
    assert one["why"] == (
        "The difference of G2 cannot be read, and the measures make it 4/8; and the net score cannot be read, and the "
        "measures make it 142 1/8."
    )
    assert is_certain


@pytest.mark.parametrize(
    "row",
    [
        clean_sheet(inside_spread="25", greatest_spread="26") | {"inside_spread": "?"},  # any spread beyond the beam
        TYPICAL | NET_ALONE | {"h4_r": "?"},  # any length that is not the shorter side's
    ],
    ids=["spread at its cap", "longer side"],
)
def test_a_value_that_nothing_determines_is_not_told(tmp_path: Path, row: Row) -> None:
    assert told(tmp_path, row) == ([], False)


def test_a_shorter_side_follows_from_the_net_alone(tmp_path: Path) -> None:
    explanations, is_certain = told(tmp_path, TYPICAL | NET_ALONE | {"h1_r": "?"})
    assert [(one["cells"], one["proposed"]) for one in explanations] == [(["h1_r"], [35])]
    assert not is_certain  # nothing is left to prove it by


def test_a_blank_point_is_not_said_to_be_written_nothing(tmp_path: Path) -> None:
    (one,), is_certain = told(tmp_path, TYPICAL | {"g2_r": ""})
    assert (one["stated"], one["why"]) == (
        [None],
        "G2 right is not on the sheet and should be 9 1/8; every figure then agrees, and the net is 142 1/8.",
    )
    assert is_certain
