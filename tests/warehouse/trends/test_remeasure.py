"""What is a reason to measure again: worked by hand, and by scipy's own t test."""

import numpy as np
import polars as pl
import pytest
from scipy.stats import ttest_1samp

from warehouse.trends.agreement import biases
from warehouse.trends.bunching import BUNCHING
from warehouse.trends.digits import PREFERENCE
from warehouse.trends.remeasure import biases_that_open, bunching_that_opens, digits_that_open


def panel(heads: int, high: float) -> pl.DataFrame:
    """Five measurers, each off by an eighth up, none, or down in turn; C reads `high` more."""
    rows = [
        (head, who, head * 9.0 + (head + place) % 3 - 1 + (high if who == "C" else 0))
        for head in range(heads)
        for place, who in enumerate("ABCDE")
    ]
    return pl.DataFrame(rows, schema=["head", "measurer", "value"], orient="row")


def test_who_reads_high_does_not_make_the_others_stand_apart() -> None:
    found = biases_that_open(biases(panel(12, 3.0)))
    assert found["bias"].to_list() == pytest.approx([-0.6, -0.6, 2.4, -0.6, -0.6])  # closed form: 3/5 of the mean
    assert found["from_middle"].to_list() == pytest.approx([0, 0, 3, 0, 0])
    assert found.filter("opens")["measurer"].to_list() == ["C"]


def test_the_chance_is_that_of_a_t_test_against_the_middle() -> None:
    values = panel(12, 1.0)
    off = (
        values.with_columns(off=pl.col("value") - pl.col("value").mean().over("head"))
        .filter(measurer="C")["off"]
        .to_numpy()
    )
    found = biases_that_open(biases(values)).row(2, named=True)
    assert found["p"] == pytest.approx(ttest_1samp(off, found["bias"] - found["from_middle"]).pvalue)


@pytest.mark.parametrize(("heads", "opens"), [(9, 0), (10, 1)])
def test_under_ten_heads_nothing_opens(heads: int, opens: int) -> None:
    assert biases_that_open(biases(panel(heads, 8.0)))["opens"].sum() == opens


def test_one_head_has_no_chance_and_no_heads_no_rows() -> None:
    assert biases_that_open(biases(panel(1, 3.0)))["p"].is_null().all()
    assert biases_that_open(biases(panel(1, 3.0).clear())).is_empty()


def test_two_who_differ_both_open_for_which_is_right_is_not_known() -> None:
    pair = panel(12, 6.0).filter(pl.col("measurer").is_in(["A", "C"]))
    assert biases_that_open(biases(pair))["opens"].to_list() == [True, True]


@pytest.mark.parametrize(
    ("adjusted", "even_share", "even_adjusted", "opens", "quarters"),
    [
        (0.04, 0.5, 0.9, True, False), (0.06, 0.5, 0.9, False, False), (0.2, 0.8, 0.001, True, True), (0.2, 0.2, 0.001, False, False),
        (0.05, 0.6, 0.05, True, True), (None, None, None, False, False),
    ],
)  # fmt: skip
def test_digits_open_by_either_test_and_quarters_by_the_even_ones(
    adjusted: float | None, even_share: float | None, even_adjusted: float | None, opens: bool, quarters: bool
) -> None:
    row = {
        "measurer": "A",
        "line": "beams",
        "adjusted": adjusted,
        "even_share": even_share,
        "even_adjusted": even_adjusted,
    }
    found = digits_that_open(pl.DataFrame([row], schema=pl.Schema(PREFERENCE)))
    assert found.select("opens", "reads_quarters").row(0) == (opens, quarters)


@pytest.mark.parametrize(
    ("sign", "adjusted", "opens"),
    [("more", 0.05, True), ("more", 0.051, False), ("fewer", 0.001, False), (None, np.nan, False)],
)
def test_only_more_in_the_first_inch_open(sign: str | None, adjusted: float, opens: bool) -> None:
    found = bunching_that_opens(
        pl.DataFrame([{"measurer": "A", "sign": sign, "adjusted": adjusted}], schema=pl.Schema(BUNCHING)).fill_nan(None)
    )
    assert found["opens"].to_list() == [opens]
