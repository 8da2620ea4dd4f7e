"""Quantile lines, held to Engel's food data and to the library's fit by rows.

Sources: 235 households, Koenker & Bassett 1982, Econometrica 50:43-61; lines by R quantreg and statsmodels 0.15.0.
"""

from dataclasses import astuple

import numpy as np
import numpy.typing as npt
import pytest
from statsmodels.datasets import engel
from statsmodels.regression.quantile_regression import QuantReg

from warehouse.trends.quantile_trend import QuantileTrend, quantile_trends

Floats = npt.NDArray[np.float64]

ENGEL = engel.load_pandas().data
LINES = {
    0.05: (124.8800, 0.343361), 0.25: (95.4835, 0.474103), 0.5: (81.4822, 0.560181),
    0.75: (62.3966, 0.644014), 0.9: (67.3509, 0.686299), 0.95: (64.1040, 0.709069),
}  # fmt: skip


def entries(seed: int, gain: float = 0.0, seasons: int = 12, each: int = 40) -> tuple[Floats, Floats]:
    """Years and scores in eighths above 125, of an exponential tail whose median gains so much a year; seasons vary."""
    source = np.random.default_rng(seed)
    years = np.repeat(np.arange(2000.0, 2000 + seasons), each)
    means = 10 + gain / np.log(2) * np.arange(seasons) + source.normal(0, 0.5, seasons)
    return years, 125 + np.round(source.exponential(np.repeat(means, each)) * 8) / 8


def check_loss(years: Floats, scores: Floats, tau: float, intercept: float, slope: float) -> float:
    rest = scores - intercept - slope * years
    return float(np.where(rest > 0, tau * rest, (tau - 1) * rest).sum())


def line_of(years: Floats, scores: Floats, tau: float) -> QuantileTrend:
    return quantile_trends(years, scores, (tau,), repeats=2)[0]


@pytest.fixture(scope="module")
def food() -> list[QuantileTrend]:
    return quantile_trends(ENGEL["income"].to_numpy(), ENGEL["foodexp"].to_numpy(), tuple(LINES), repeats=20)


def test_the_lines_of_the_food_data(food: list[QuantileTrend]) -> None:
    assert [line.tau for line in food] == list(LINES)
    assert [line.intercept for line in food] == pytest.approx([at for at, _ in LINES.values()], abs=1e-4)
    assert [line.slope for line in food] == pytest.approx([slope for _, slope in LINES.values()], abs=1e-6)


@pytest.mark.parametrize("tau", [0.05, 0.5, 0.9])
def test_the_lines_of_the_food_data_are_those_of_the_library(food: list[QuantileTrend], tau: float) -> None:
    design = np.column_stack([np.ones(len(ENGEL)), ENGEL["income"]])
    library = QuantReg(ENGEL["foodexp"].to_numpy(), design).fit(q=tau).params
    line = next(line for line in food if line.tau == tau)
    assert line.intercept == pytest.approx(library[0], abs=2e-2)
    assert line.slope == pytest.approx(library[1], abs=1e-3)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("tau", [0.5, 0.75, 0.9])
def test_no_line_of_the_library_has_a_lesser_loss(seed: int, tau: float) -> None:
    """On tied scores several lines may be best, so what is compared is their loss."""
    years, scores = entries(seed, gain=0.3)
    library = QuantReg(scores, np.column_stack([np.ones(years.size), years - 2000])).fit(
        q=tau, p_tol=1e-9, max_iter=5000
    )
    line = line_of(years, scores, tau)
    assert line.intercept is not None and line.slope is not None
    found = check_loss(years, scores, tau, line.intercept, line.slope)
    least = check_loss(years - 2000, scores, tau, *library.params)
    assert found <= least + 1e-6


def test_counts_of_cells_stand_for_entries() -> None:
    years, scores = entries(1)
    cells, counts = np.unique(np.column_stack([years, scores]), axis=0, return_counts=True)
    assert quantile_trends(cells[:, 0], cells[:, 1], counts=counts) == quantile_trends(years, scores)


def test_scores_on_a_line_are_found_exactly() -> None:
    """Closed form: slope 1/4, 3 at the year 0."""
    years = np.repeat(np.arange(1990.0, 2000), 6)
    assert astuple(line_of(years, 3 + years / 4, 0.5)) == pytest.approx((0.5, 3, 0.25, 0.25, 0.25, None), abs=1e-4)


def test_scores_all_alike_have_no_slope() -> None:
    years = np.repeat(np.arange(1990.0, 2000), 6)
    assert astuple(line_of(years, np.full(60, 130.0), 0.5)) == pytest.approx((0.5, 130, 0, 0, 0, None), abs=1e-4)


def test_one_outsize_head_does_not_tilt_the_median() -> None:
    years, scores = entries(2)
    longer = scores.copy()
    longer[np.argmax(scores)] += 300
    assert line_of(years, longer, 0.5).slope == pytest.approx(line_of(years, scores, 0.5).slope)


def test_under_eight_seasons_no_line_is_drawn() -> None:
    found = quantile_trends(*entries(1, seasons=7))
    assert found == [QuantileTrend(tau, None, None, None, None, "few-seasons") for tau in (0.5, 0.75, 0.9)]
    assert quantile_trends(np.zeros(0), np.zeros(0), (0.5,))[0].refused == "few-seasons"


def test_fewer_than_five_entries_beyond_a_quantile_draw_no_line() -> None:
    years, scores = entries(1, seasons=10, each=5)
    assert [line.refused for line in quantile_trends(years, scores, (0.05, 0.1, 0.5, 0.9, 0.95))] == [
        "few-beyond", None, None, None, "few-beyond",
    ]  # fmt: skip


def test_the_interval_is_that_of_seasons_drawn_anew() -> None:
    """The library's fit by rows over books of seasons drawn by hand: percentiles agree within what 150 repeats vary."""
    years, scores = entries(3, gain=0.4)
    source, by_season = np.random.default_rng(0), scores.reshape(12, 40)
    slopes = []
    for _ in range(150):
        drawn = source.integers(0, 12, 12)
        design = np.column_stack([np.ones(480), np.repeat(drawn, 40)])
        slopes.append(QuantReg(by_season[drawn].ravel(), design).fit(q=0.5).params[1])
    found, spread = quantile_trends(years, scores, (0.5,), repeats=1000)[0], np.std(slopes)
    assert (found.lower, found.upper) == pytest.approx(tuple(np.percentile(slopes, [2.5, 97.5])), abs=0.6 * spread)


def test_the_interval_holds_the_true_slope() -> None:
    """Simulated, 60 books of 20 seasons that differ; seasons drawn anew are a little too sure with so few of them."""
    found = [quantile_trends(*entries(seed, gain=0.2, seasons=20), (0.5,), repeats=100)[0] for seed in range(60)]
    within = [line.lower is not None and line.upper is not None and line.lower <= 0.2 <= line.upper for line in found]
    assert 0.85 <= np.mean(within) <= 0.99
