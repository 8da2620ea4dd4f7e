"""A level and a slope fitted by maximum likelihood to many short series of counts at once.

A general program takes milliseconds a series and a page shows hundreds; two terms need no general program, only sums
over the seasons, so that every series takes the same Newton steps side by side.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from warehouse.trends.arrays import Flags, Floats

MOST_STEPS = 100
CLOSE = 1e-10  # of the last step, on the link scale, at the outermost season


@dataclass(frozen=True)
class Family:
    """How a count comes about, given the predictor and what it is counted out of (effort, or trials).

    `mean`, `variance` and `likelihood` (log, without its constant) work cell by cell; `link` is of the overall rate;
    `misses` tells in which seasons more might have been counted than were (see `estimable`).
    """

    link: Callable[[Floats], Floats]
    mean: Callable[[Floats, Floats], Floats]
    variance: Callable[[Floats, Floats], Floats]
    likelihood: Callable[[Floats, Floats, Floats], Floats]
    misses: Callable[[Floats, Floats], Flags]


def _trial_variance(predictor: Floats, trials: Floats) -> Floats:
    product: Floats = trials * expit(predictor) * expit(-predictor)
    return product


POISSON = Family(
    link=np.log,
    mean=lambda predictor, effort: effort * np.exp(predictor),
    variance=lambda predictor, effort: effort * np.exp(predictor),
    likelihood=lambda count, predictor, effort: count * predictor - effort * np.exp(predictor),
    misses=lambda count, effort: effort > 0,
)
BINOMIAL = Family(
    link=lambda share: np.log(share) - np.log1p(-share),
    mean=lambda predictor, trials: trials * expit(predictor),
    variance=_trial_variance,
    likelihood=lambda count, predictor, trials: count * predictor - trials * np.logaddexp(0.0, predictor),
    misses=lambda count, trials: count < trials,
)


@dataclass(frozen=True)
class Grid:
    """Series down, seasons across, all (series, seasons): counts, what they are out of, and time from the middle of
    each series. A season a series does not have is 0 in all three, and so adds nothing to any sum."""

    count: Floats
    out_of: Floats
    time: Floats

    def take(self, rows: Flags) -> "Grid":
        """The series picked out by `rows`."""
        return Grid(self.count[rows], self.out_of[rows], self.time[rows])


@dataclass(frozen=True)
class Fits:
    """One figure a series, all (series,): estimates, their variances and covariance with a dispersion of 1, Pearson's
    chi-square, and whether the steps came to rest."""

    level: Floats
    slope: Floats
    var_level: Floats
    var_slope: Floats
    covariance: Floats
    pearson: Floats
    converged: Flags


def estimable(grid: Grid, family: Family) -> Flags:
    """Whether each series has a finite estimate of level and slope -> (series,).

    It has none where a single date parts the seasons with entries from those that could have had more or fewer: all
    counts 0, all entries in the first season or the last, or (of shares) all one way before a date and the other after
    it. Then a steeper slope is always likelier (Albert & Anderson 1984, Biometrika 71:1-10, for shares; Haberman 1974,
    The Analysis of Frequency Data, for counts).
    """
    first_hit, last_hit = _span(grid, grid.count > 0)
    first_miss, last_miss = _span(grid, family.misses(grid.count, grid.out_of))
    parted = (first_hit >= last_miss) | (first_miss >= last_hit)
    return np.asarray(~parted)


def _span(grid: Grid, where: Flags) -> tuple[Floats, Floats]:
    first = np.where(where, grid.time, np.inf).min(axis=1, initial=np.inf)
    last = np.where(where, grid.time, -np.inf).max(axis=1, initial=-np.inf)
    return first, last


def fit(grid: Grid, family: Family) -> Fits:
    """Fit every series of the grid, each `estimable`, by Newton's method.

    The link is canonical, so the likelihood is concave and Newton's steps are those of iteratively reweighted least
    squares (McCullagh & Nelder 1989, Generalized Linear Models, sec. 2.5). A step that makes a series less likely is
    taken back and halved, without which a sparse series can overshoot.
    """
    level = family.link(grid.count.sum(axis=1) / grid.out_of.sum(axis=1))
    slope, size = np.zeros_like(level), np.ones_like(level)
    reach = np.abs(grid.time).max(axis=1, initial=0.0)
    likelihood = _likelihood(grid, family, level, slope)
    resting = np.zeros(len(level), dtype=bool)
    for _ in range(MOST_STEPS):
        up, along = _step(grid, family, level, slope)
        resting = np.abs(up) + reach * np.abs(along) < CLOSE
        if resting.all():
            break
        tried = _likelihood(grid, family, level + size * up, slope + size * along)
        better = tried >= likelihood - 1e-12 * (1 + np.abs(likelihood))  # within rounding; NaN of an overflow is worse
        level, slope = np.where(better, level + size * up, level), np.where(better, slope + size * along, slope)
        likelihood, size = np.where(better, tried, likelihood), np.where(better, 1.0, size / 2)
    return _fits(grid, family, (level, slope), resting)


def _predictor(grid: Grid, level: Floats, slope: Floats) -> Floats:
    return level[:, None] + slope[:, None] * grid.time


def _likelihood(grid: Grid, family: Family, level: Floats, slope: Floats) -> Floats:
    with np.errstate(over="ignore", invalid="ignore"):
        total: Floats = family.likelihood(grid.count, _predictor(grid, level, slope), grid.out_of).sum(axis=1)
    return total


def _information(grid: Grid, family: Family, predictor: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Fisher's information of (level, level), (level, slope), (slope, slope), and its determinant."""
    weight = family.variance(predictor, grid.out_of)
    once, by_time = weight.sum(axis=1), (weight * grid.time).sum(axis=1)
    by_square = (weight * grid.time**2).sum(axis=1)
    return once, by_time, by_square, once * by_square - by_time**2


def _step(grid: Grid, family: Family, level: Floats, slope: Floats) -> tuple[Floats, Floats]:
    predictor = _predictor(grid, level, slope)
    once, by_time, by_square, determinant = _information(grid, family, predictor)
    residual = grid.count - family.mean(predictor, grid.out_of)
    score, score_time = residual.sum(axis=1), (residual * grid.time).sum(axis=1)
    up = (by_square * score - by_time * score_time) / determinant
    return up, (once * score_time - by_time * score) / determinant


def _fits(grid: Grid, family: Family, terms: tuple[Floats, Floats], resting: Flags) -> Fits:
    predictor = _predictor(grid, *terms)
    once, by_time, by_square, determinant = _information(grid, family, predictor)
    spread = family.variance(predictor, grid.out_of)
    squares = (grid.count - family.mean(predictor, grid.out_of)) ** 2
    pearson = np.divide(squares, spread, out=np.zeros_like(squares), where=spread > 0).sum(axis=1)
    return Fits(*terms, by_square / determinant, once / determinant, -by_time / determinant, pearson, converged=resting)
