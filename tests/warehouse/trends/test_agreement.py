"""Panels of measurers, held to Shrout & Fleiss 1979 (Psychol. Bull. 86:420-428) and Bland & Altman 1986 (Lancet
i:307-310).

Figures by the R package psych and pingouin 0.7.0; the correlations .17 .44 .29 .62 .71 .91 are published (from memory).
"""

import numpy as np
import polars as pl
import pytest

from warehouse.trends.agreement import TwoWay, biases, bland_altman, two_way

TARGETS = ((9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7))
JUDGES = "ABCD"
# Bland & Altman's peak flows, large and mini meter (data from memory; they give the published figures)
LARGE = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
MINI = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]


def panel(*more: tuple[int, str, float]) -> pl.DataFrame:
    rows = [
        (head, judge, float(value))
        for head, row in enumerate(TARGETS)
        for judge, value in zip(JUDGES, row, strict=True)
    ]
    return pl.DataFrame([*rows, *more], schema=["head", "measurer", "value"], orient="row")


def analysed(frame: pl.DataFrame) -> TwoWay:
    found = two_way(frame)
    assert found is not None
    return found


def test_mean_squares() -> None:
    found = analysed(panel())
    assert (found.ms_heads, found.ms_measurers, found.ms_residual, found.ms_within) == pytest.approx(
        (11.24167, 32.48611, 1.019444, 6.263889), rel=1e-6
    )


def test_tests_of_heads_and_of_measurers() -> None:
    found = analysed(panel())
    assert (found.f_heads, found.f_measurers) == pytest.approx((11.027, 31.867), abs=1e-3)
    assert found.p_heads == pytest.approx(0.000135, abs=5e-7)
    assert found.p_measurers == pytest.approx(9.45e-7, abs=5e-10)


def test_intraclass_correlations() -> None:
    found = analysed(panel())
    expected = (0.1657, 0.4428, 0.2898, 0.6201, 0.7148, 0.9093)
    correlations = (found.icc_1_1, found.icc_1_k, found.icc_2_1, found.icc_2_k, found.icc_3_1, found.icc_3_k)
    assert correlations == pytest.approx(expected, abs=5e-5)
    assert found.lower == pytest.approx(0.019, abs=5e-4)
    assert found.upper == pytest.approx(0.76, abs=5e-3)


def test_errors_without_and_with_bias() -> None:
    found = analysed(panel())
    assert (found.technical_error, found.within_error) == pytest.approx((1.00968, 2.50278), abs=5e-6)


def test_biases_of_measurers() -> None:
    """Deviations by R psych = pingouin; the interval in closed form, t of 5 degrees of freedom 2.570582."""
    found = biases(panel())
    assert found["measurer"].to_list() == list(JUDGES)
    assert found["bias"].to_list() == pytest.approx([2.375, -2.7917, -0.9583, 1.375], abs=5e-5)
    off = np.array(TARGETS) - np.mean(TARGETS, axis=1)[:, None]
    width = 2.570582 * off.std(axis=0, ddof=1) / np.sqrt(6)
    assert (found["upper"] - found["bias"]).to_list() == pytest.approx(width.tolist(), rel=1e-6)
    assert (found["bias"] - found["lower"]).to_list() == pytest.approx(width.tolist(), rel=1e-6)


def test_a_head_that_not_all_measured_is_left_out_and_told() -> None:
    found, whole = analysed(panel((6, "A", 7.0), (6, "B", 3.0))), analysed(panel())
    assert (found.heads, found.measurers, found.left_out, whole.left_out) == (6, 4, 1, 0)
    assert found.ms_residual == pytest.approx(whole.ms_residual)


def test_a_head_that_one_alone_measured_says_nothing_of_his_bias() -> None:
    assert biases(panel((6, "A", 70.0))).equals(biases(panel()))


def test_a_bias_on_one_head_has_no_interval() -> None:
    frame = pl.DataFrame([("x", "A", 8.0), ("x", "B", 10.0)], schema=["head", "measurer", "value"], orient="row")
    assert biases(frame).rows() == [("A", 1, -1.0, None, None), ("B", 1, 1.0, None, None)]


def test_fewer_than_ten_heads_are_few() -> None:
    ten = pl.concat([panel(), panel().with_columns(pl.col("head") + 10)])
    assert (analysed(panel()).few_heads, analysed(ten).few_heads) == (True, False)


@pytest.mark.parametrize(
    "frame", [panel().filter(pl.col("head") == 0), panel().filter(pl.col("measurer") == "A"), panel().clear()]
)
def test_one_head_or_one_measurer_is_no_panel(frame: pl.DataFrame) -> None:
    assert two_way(frame) is None


def test_a_head_measured_twice_by_one_measurer_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^a head was measured twice by one measurer of the panel$"):
        two_way(panel((0, "A", 9.0)))


def test_measurers_who_agree_wholly_have_no_error() -> None:
    agreed = analysed(panel().with_columns(value=pl.col("head").cast(pl.Float64)))
    assert (agreed.technical_error, agreed.icc_2_1, agreed.f_heads, agreed.p_heads) == (0, 1, np.inf, 0)


def test_the_interval_of_agreement_holds_the_true_one() -> None:
    """Simulated, 300 panels of 15 heads and 4 measurers; variances 4, 1, 1, so ICC(2,1) is 4 / 6."""
    within = []
    for seed in range(300):
        source = np.random.default_rng(seed)
        values = source.normal(0, 2, (15, 1)) + source.normal(0, 1, (1, 4)) + source.normal(0, 1, (15, 4))
        head, measurer = np.indices(values.shape)
        frame = pl.DataFrame({"head": head.ravel(), "measurer": measurer.ravel(), "value": values.ravel()})
        found = analysed(frame)
        within.append(found.lower <= 4 / 6 <= found.upper)
    assert np.mean(within) == pytest.approx(0.95, abs=0.04)


def test_differences_of_two_meters() -> None:
    """The paper prints -2.1 and 38.8 (from memory)."""
    found = bland_altman(LARGE, MINI)
    assert (found.pairs, found.bias, found.sd) == pytest.approx((17, -2.1176, 38.7651), abs=5e-5)
    assert found.technical_error == pytest.approx(26.6348, abs=5e-5)


@pytest.mark.parametrize(("deviations", "limits"), [(1.96, (-78.097, 73.862)), (2, (-79.648, 75.413))])
def test_limits_of_agreement(deviations: float, limits: tuple[float, float]) -> None:
    """The paper prints -79.7 and 75.5 for two standard deviations (from memory)."""
    found = bland_altman(LARGE, MINI, deviations=deviations)
    assert (found.lower, found.upper) == pytest.approx(limits, abs=5e-4)


def test_the_interval_of_the_bias() -> None:
    """Closed form: t of 16 degrees of freedom, 2.119905."""
    found = bland_altman(LARGE, MINI)
    assert found.bias_upper - found.bias == pytest.approx(2.119905 * 38.7651 / 17**0.5, rel=1e-5)
    assert found.bias - found.bias_lower == pytest.approx(found.bias_upper - found.bias)


def test_one_pair_has_no_limits() -> None:
    found = bland_altman([3], [1])
    assert (found.bias, found.technical_error) == pytest.approx((2, 2**0.5))
    assert np.isnan([found.sd, found.lower, found.bias_upper]).all()
