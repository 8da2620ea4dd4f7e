"""The true mean behind entries above a minimum, where the standard deviation of the deer is known from elsewhere.

A normal distribution cut off on the left, each entry at the minimum of its own season, so that no entry is set aside
when a minimum is raised. The standard deviation must come from outside the book: with it free, a mean of 38 inches and
one of 108 fit the same twenty entries equally well (`fit_free`). A'Hearn 2004, Econ. Hum. Biol. 2:5-19, on heights of
soldiers. Scores, minimums and standard deviations in inches or any one unit. `grid`: the step of the scores (1/8),
where a score stands for [score - grid/2, score + grid/2) and the minimum for a cut at minimum - grid/2; None: scores
are exact.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import polars as pl
from scipy.optimize import brentq, minimize
from scipy.special import log_ndtr
from scipy.stats import norm

from warehouse.trends.arrays import Floats
from warehouse.trends.tails import exceedance_gain, mean_gain

FARTHEST = 30.0  # standard deviations that a cut may lie above the mean, where a mean is worked out from moments


@dataclass(frozen=True)
class TruncatedMean:
    """The mean of all deer that is likeliest, its standard error, and the log-likelihood there."""

    entries: int
    mean: float
    se: float
    log_likelihood: float


class TruncatedTrend(NamedTuple):
    """The change of the mean of all deer a year, and its standard error."""

    slope: float
    se: float


class NormalFit(NamedTuple):
    """A normal population behind a truncated sample."""

    mean: float
    sd: float
    log_likelihood: float


@dataclass(frozen=True)
class _Cells:
    """Distinct rows of (year, score, minimum) and how often each occurs: the likelihood needs no more."""

    years: Floats
    scores: Floats
    minimums: Floats
    counts: Floats
    grid: float | None

    def log_likelihood(self, means: Floats, sd: float) -> float:
        half = (self.grid or 0.0) / 2
        density = norm.logpdf(self.scores, means, sd) if not half else _log_cell((self.scores - means) / sd, half / sd)
        return float(self.counts @ (density - log_ndtr((means - self.minimums + half) / sd)))

    def gradient(self, means: Floats, sd: float) -> Floats:
        """Of each cell's part of the log-likelihood by its mean."""
        half = (self.grid or 0.0) / 2
        at = (self.scores - means) / sd
        pull = at if not half else _cell_pull(at, half / sd)
        return np.asarray(self.counts * (pull - exceedance_gain((self.minimums - half - means) / sd)) / sd)

    def information(self, means: Floats, sd: float) -> Floats:
        """The expected information of each cell on its mean; the observed one, too, where scores are exact."""
        half = (self.grid or 0.0) / 2
        return np.asarray(self.counts * mean_gain((self.minimums - half - means) / sd) / sd**2)


def fit_mean(scores: Floats, minimums: Floats, sd: float, grid: float | None = None) -> TruncatedMean:
    """The mean of greatest likelihood for a known `sd`. `minimums`: of each score, at most the score."""
    cells = _cells(np.zeros(np.shape(scores)), scores, minimums, grid)
    at, covariance, greatest = _likeliest(cells, np.ones((cells.counts.size, 1)), sd)
    return TruncatedMean(int(cells.counts.sum()), float(at[0]), float(np.sqrt(covariance[0, 0])), greatest)


def trend(scores: Floats, years: Floats, minimums: Floats, sd: float, grid: float | None = None) -> TruncatedTrend:
    """The slope a year of greatest likelihood for a known `sd`; `years`: of each score, at least three different ones.

    The scores of a year share what that year was like, so the error takes years as clusters (Liang & Zeger 1986, Biometrika
    73:13-22), with the factor years/(years - 2) for few of them.
    """
    cells = _cells(years, scores, minimums, grid)
    since = cells.years - np.average(cells.years, weights=cells.counts)
    design = np.column_stack([np.ones(since.size), since])
    at, covariance, _ = _likeliest(cells, design, sd)
    year, which = np.unique(cells.years, return_inverse=True)
    pulls = np.zeros((year.size, 2))
    np.add.at(pulls, which, design * cells.gradient(design @ at, sd)[:, None])
    clustered = covariance @ (pulls.T @ pulls) @ covariance * year.size / (year.size - 2)
    return TruncatedTrend(float(at[1]), float(np.sqrt(clustered[1, 1])))


def fit_free(scores: Floats, minimums: Floats, grid: float | None = None) -> NormalFit:
    """Mean and standard deviation both free: for showing that entries alone do not tell them. Never for a page."""
    cells = _cells(np.zeros(np.shape(scores)), scores, minimums, grid)

    def loss(at: Floats) -> float:
        return -cells.log_likelihood(at[0], float(np.exp(at[1])))

    spread = float(np.std(scores))
    found = minimize(loss, [np.mean(scores) - spread, np.log(2 * spread)], method="Nelder-Mead",
                     options={"xatol": 1e-6, "fatol": 1e-10, "maxiter": 4000, "maxfev": 8000})  # fmt: skip
    return NormalFit(float(found.x[0]), float(np.exp(found.x[1])), -float(found.fun))


def moments_fit(mean: float, variance: float, cut: float) -> NormalFit:
    """The maximum of likelihood with one minimum, from the entries' mean and variance (divisor n) alone.

    (1 - lam (lam - a)) / (lam - a)^2 = variance / (mean - cut)^2 is solved for a = (cut - mu) / sigma; log-likelihood:
    of one entry. ValueError: a variance as large as the square of the mean excess, or larger: no normal tail is as
    heavy. Source: Cohen 1959, Technometrics 1:217-237.
    """
    ratio = variance / (mean - cut) ** 2

    def off(alpha: float) -> float:
        return float(mean_gain(alpha) / (exceedance_gain(alpha) - alpha) ** 2) - ratio

    if not 0 < ratio < 1 or off(FARTHEST) < 0:
        raise ValueError(f"no truncated normal has a variance of {ratio:.4g} times its squared mean excess")
    alpha = float(brentq(off, -1 / np.sqrt(ratio) - 1, FARTHEST, xtol=1e-13))
    sd = (mean - cut) / float(exceedance_gain(alpha) - alpha)
    centre = cut - alpha * sd
    squares = (variance + (mean - centre) ** 2) / sd**2
    return NormalFit(centre, sd, float(-np.log(sd) - np.log(2 * np.pi) / 2 - squares / 2 - log_ndtr(-alpha)))


def _cells(years: Floats, scores: Floats, minimums: Floats, grid: float | None) -> _Cells:
    rows = pl.DataFrame(
        [np.asarray(part, dtype=np.float64) for part in (years, scores, minimums)], schema=["y", "s", "m"]
    )
    cells = rows.group_by("y", "s", "m").len().sort("y", "s", "m").cast(pl.Float64)
    year, score, minimum, count = (cells[name].to_numpy() for name in ("y", "s", "m", "len"))
    return _Cells(year, score, minimum, count, grid)


def _likeliest(cells: _Cells, design: Floats, sd: float) -> tuple[Floats, Floats, float]:
    """Coefficients of greatest likelihood, their covariance (inverse information), the log-likelihood: concave, so by
    Newton.

    All is divided by the entries, so that the tolerance is of one entry.
    """
    entries = cells.counts.sum()

    def loss(at: Floats) -> float:
        return float(-cells.log_likelihood(design @ at, sd) / entries)

    def slope(at: Floats) -> Floats:
        return np.asarray(-design.T @ cells.gradient(design @ at, sd) / entries)

    def information(at: Floats) -> Floats:
        return np.asarray((design.T * cells.information(design @ at, sd)) @ design)

    start = np.zeros(design.shape[1])
    start[0] = cells.counts @ cells.scores / entries - sd
    found = minimize(loss, start, jac=slope, hess=lambda at: information(at) / entries, method="trust-exact",
                     options={"gtol": 1e-10})  # fmt: skip
    return found.x, np.asarray(np.linalg.inv(information(found.x))), -float(found.fun) * float(entries)


def _log_cell(at: Floats, half: float) -> Floats:
    """log(Phi(at + half) - Phi(at - half)), on the side where the digits are."""
    upper, lower = log_ndtr(half - np.abs(at)), log_ndtr(-half - np.abs(at))
    return np.asarray(upper + np.log(-np.expm1(lower - upper)))


def _cell_pull(at: Floats, half: float) -> Floats:
    """The derivative of `_log_cell` by the mean, in standard deviations; `at` itself where cells are narrow."""
    return np.asarray((norm.pdf(at - half) - norm.pdf(at + half)) / np.exp(_log_cell(at, half)))
