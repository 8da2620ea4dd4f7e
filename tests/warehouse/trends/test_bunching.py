"""Heads that crowd above a minimum."""

import numpy as np
import numpy.typing as npt
import polars as pl
import pytest
from scipy.stats import binomtest, genpareto

from warehouse.trends.bunching import Caliper, bunching, caliper, expected_first_inch, placebo_share, placebos
from warehouse.trends.pareto_tail import ParetoTail, fit_tail

Floats = npt.NDArray[np.float64]


def tail(scale: float, shape: float = 0.0) -> ParetoTail:
    return ParetoTail(1000, scale, shape, 0.0, None)


def near(*rows: tuple[str, int, int]) -> pl.DataFrame:
    return pl.DataFrame(rows, schema=["measurer", "first_inch", "above"], orient="row")


def window(below: int, above: int, expected: float = 0.5) -> Caliper:
    found = caliper(below, above, expected)
    assert found is not None
    return found


def heaped(seed: int) -> Floats:
    """Scores of a lower book from 125, one in three written as a whole inch."""
    source = np.random.default_rng(seed)
    scores = 125 + np.round(source.exponential(10, 20_000) * 8) / 8
    return np.where(source.random(scores.size) < 1 / 3, np.round(scores), scores)


@pytest.mark.parametrize(
    ("mean", "width", "expected"), [(8, 1, 0.1175), (10, 1, 0.0952), (8, 1 / 8, 0.0155), (8, 1 / 2, 0.0606)]
)
def test_the_first_inch_of_an_exponential_tail(mean: float, width: float, expected: float) -> None:
    """Closed form, 1 - exp(-width / mean)."""
    assert expected_first_inch(tail(mean), width) == pytest.approx(expected, abs=5e-5)
    assert expected_first_inch(tail(mean, 1e-12), width) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize("shape", [-0.3, -0.05, 0.2])
def test_the_first_inch_of_any_tail_is_that_of_the_tail_an_inch_lower(shape: float) -> None:
    lower = genpareto(shape, scale=9)
    assert expected_first_inch(tail(9 + shape, shape)) == pytest.approx(lower.cdf(1))


def test_a_tail_that_does_not_reach_so_low_expects_all_in_the_first_inch() -> None:
    assert expected_first_inch(tail(0.5, 0.6)) == 1


def test_the_first_inch_is_foretold_by_what_lies_above_it() -> None:
    """Simulated: 20,000 heads, exponential of mean 8; the share foretold is .1175."""
    excesses = np.random.default_rng(4).exponential(8, 20_000)
    found = fit_tail(excesses[excesses >= 1] - 1)
    assert found is not None
    assert expected_first_inch(found) == pytest.approx(0.1175, abs=0.003)


def test_forty_of_two_hundred_in_the_first_inch_are_too_many() -> None:
    """scipy 1.17.1: the upper tail is .000541."""
    found = bunching(near(("A", 40, 200)).with_columns(expected=pl.lit(0.117503))).row(0, named=True)
    assert (found["share"], found["sign"]) == (0.2, "more")
    assert found["p"] / 2 == pytest.approx(0.000541, abs=5e-7)
    assert found["adjusted"] == found["p"]


def test_measurers_are_told_with_their_sign_and_adjusted_for_their_number() -> None:
    found = bunching(
        near(("C", 24, 200), ("A", 40, 200), ("B", 8, 200), ("D", 0, 0)).with_columns(expected=pl.lit(0.12))
    )
    assert found.select("measurer", "sign").rows() == [("A", "more"), ("B", "fewer"), ("C", None), ("D", None)]
    p = [2 * binomtest(40, 200, 0.12, "greater").pvalue, 2 * binomtest(8, 200, 0.12, "less").pvalue, 1]
    assert found["p"].to_list() == [*(pytest.approx(one) for one in p), None]
    smallest, middle = sorted(p[:2])
    assert sorted(found["adjusted"].drop_nulls().to_list()) == pytest.approx(
        [min(3 * smallest, 1.5 * middle), 1.5 * middle, 1]
    )
    assert found["share"].to_list() == [0.2, 0.04, 0.12, None]


def test_measurers_who_help_nobody_are_seldom_named() -> None:
    source = np.random.default_rng(6)
    rows = [(f"{k:03}", int(source.binomial(150, 0.1175)), 150) for k in range(400)]
    found = bunching(near(*rows).with_columns(expected=pl.lit(0.1175)))
    assert (found["p"] < 0.05).sum() <= 0.05 * 400
    assert (found["adjusted"] > 0.05).all()


def test_a_window_about_a_higher_minimum() -> None:
    """scipy 1.17.1 binomtest(38, 55): two-sided .0064558, Clopper-Pearson .55187 to .80855; greater .0032279."""
    found = window(17, 38)
    assert found.p == pytest.approx(0.0064558, abs=5e-8)
    assert (found.lower, found.upper) == pytest.approx((0.55187, 0.80855), abs=5e-6)
    assert (found.share, found.sign) == (38 / 55, "more")
    assert found.p / 2 == pytest.approx(0.0032279, abs=5e-8)


def test_margins_of_senate_elections_have_no_step() -> None:
    """Counts near 0 of the data rddensity_senate, p by rddensity 3.0: .6724."""
    assert window(621, 637).p == pytest.approx(0.6724, abs=5e-5)


def test_as_many_as_expected_have_no_sign_and_an_empty_window_no_figures() -> None:
    assert (window(5, 5).sign, window(5, 5).p, window(3, 1).sign) == (None, 1, "fewer")
    assert caliper(0, 0) is None


def test_placebos_count_either_side_of_each_cut() -> None:
    found = placebos(np.array([129.875, 130.0, 130.375, 130.5, 140.25]), [130, 135, 140], 0.5)
    assert found.rows() == [(130, 1, 2, pytest.approx(2 / 3), 1), (135, 0, 0, None, None), (140, 0, 1, 1, 1)]
    assert placebo_share(found) == 3 / 4
    assert placebo_share(found.clear()) is None


def test_heaping_on_whole_inches_is_no_step_where_placebos_show_it_too() -> None:
    """Simulated, 60 books in which nobody helps: a half finds a step in each, the placebos' share in few."""
    found = []
    for seed in range(60):
        scores = heaped(seed)
        others = placebo_share(placebos(scores, [cut for cut in range(130, 151) if cut != 140], 0.5))
        at = placebos(scores, [140], 0.5).row(0, named=True)
        assert others is not None
        found.append((at["p"], window(at["below"], at["above"], others).p))
    by_half, by_placebos = np.array(found).T
    assert by_half.max() < 1e-3
    assert np.mean(by_placebos < 0.05) <= 0.1


def test_heads_helped_across_a_minimum_make_a_step_that_placebos_do_not_show() -> None:
    scores = heaped(1)
    helped = np.where(
        (scores >= 139.5) & (scores < 140) & (np.random.default_rng(1).random(scores.size) < 0.5), 140.0, scores
    )
    others = placebo_share(placebos(helped, [cut for cut in range(130, 151) if cut != 140], 0.5))
    at = placebos(helped, [140], 0.5).row(0, named=True)
    assert others is not None
    found = window(at["below"], at["above"], others)
    assert (found.sign, found.p < 1e-4) == ("more", True)
