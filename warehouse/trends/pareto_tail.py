"""The tail above a cut as a generalised Pareto distribution, and how large a head is one in a thousand.

Excesses are scores less the cut, in inches or any unit. Scores on a grid (eighths) that are taken from the cut upwards
stand for what lies above the cut less half a step: give them half a step more. The shape is the tail's form: 0
exponential, below 0 bounded, above 0 heavy. Source throughout: Coles 2001, An Introduction to Statistical Modeling of
Extreme Values, chapter 4.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.optimize import brentq, minimize_scalar
from scipy.special import exprel
from scipy.stats import chi2, norm
from statsmodels.tools.numdiff import approx_fprime, approx_hess

from warehouse.trends.arrays import Floats

FEWEST = 30  # excesses that a tail is fitted to (house rule, no source)
REGULAR = -0.5  # at a shape below, the information says nothing of the errors (Smith 1985, Biometrika 72:67-90)
BOUND = -1.0  # at a shape below, the likelihood has no maximum
GRID = np.linspace(-12, 24, 73)  # log(1 + greatest excess * shape / scale): where the maximum is looked for
FORBIDDEN = 1e6  # the loss a head at shapes below the bound; finite, for the search computes with it
STABILITY = pl.Schema({
    "cut": pl.Float64, "entries": pl.Int64, "scale": pl.Float64, "modified_scale": pl.Float64, "shape": pl.Float64,
    "mean_excess": pl.Float64,
})  # fmt: skip


@dataclass(frozen=True)
class ParetoTail:
    """Scale and shape of greatest likelihood. `covariance`: of (scale, shape), None where the shape is below -0.5."""

    entries: int
    scale: float
    shape: float
    log_likelihood: float
    covariance: Floats | None

    @property
    def scale_se(self) -> float | None:
        """Standard error of the scale."""
        return None if self.covariance is None else float(np.sqrt(self.covariance[0, 0]))

    @property
    def shape_se(self) -> float | None:
        """Standard error of the shape."""
        return None if self.covariance is None else float(np.sqrt(self.covariance[1, 1]))


@dataclass(frozen=True)
class ReturnLevel:
    """The score that one head in so many exceeds, with its limits (None where the tail has no covariance)."""

    level: float
    lower: float | None
    upper: float | None


@dataclass(frozen=True)
class _Excesses:
    """Distinct excesses, in order, and how often each occurs: they tie on their grid; the likelihood needs no more."""

    values: Floats
    counts: Floats

    @property
    def entries(self) -> float:
        return float(self.counts.sum())

    @property
    def greatest(self) -> float:
        return float(self.values[-1])

    def mean(self, values: Floats) -> float:
        return float(self.counts @ values / self.entries)

    def log_likelihood(self, scale: float, shape: float) -> float:
        """-inf outside the parameters' range."""
        if scale <= 0 or 1 + shape * self.greatest / scale <= 0:
            return -np.inf
        stretch = shape * self.values / scale
        spent = self.mean(np.log1p(stretch)) + self.mean(self.values * _log_ratio(stretch)) / scale
        return float(-self.entries * (np.log(scale) + spent))


def fit_tail(excesses: Floats, counts: npt.ArrayLike | None = None) -> ParetoTail | None:
    """The generalised Pareto distribution of greatest likelihood; None for fewer than 30 excesses, or all of them
    alike.

    `excesses`: at least 0; with `counts`, how many entries have each. The likelihood is maximised over shape / scale alone, for which the best shape is the mean
    of log(1 + excess * shape / scale) (Grimshaw 1993, Technometrics 35:185-191); shapes below -1 are left out.
    Covariance: the inverse of the observed information, by differences.
    """
    data = _data(excesses, counts)
    if data.entries < FEWEST or data.values.size < 2:
        return None
    scale, shape = _best(data)
    return ParetoTail(
        int(data.entries), scale, shape, data.log_likelihood(scale, shape), _covariance(data, scale, shape)
    )  # fmt: skip


def return_level(
    tail: ParetoTail, cut: float, share_above: float, one_in: float, level: float = 0.95
) -> ReturnLevel | None:
    """The score that one head in `one_in` exceeds: cut + scale/shape * ((one_in * share_above)^shape - 1).

    `share_above`: the share of all heads that lie above the cut. Limits by the delta method, the binomial variance of
    that share in them (Coles 2001, section 4.3.3). None where one in `one_in` is a head below the cut, of which no tail
    tells.
    """
    if one_in * share_above < 1:
        return None

    def above(parameters: Floats) -> float:
        times = np.log(one_in) + parameters[0]
        return float(cut + parameters[1] * times * exprel(parameters[2] * times))

    at = np.array([np.log(share_above), tail.scale, tail.shape])
    if tail.covariance is None:
        return ReturnLevel(above(at), None, None)
    covariance = np.zeros((3, 3))
    covariance[0, 0] = (1 - share_above) / tail.entries  # of the logarithm of the share
    covariance[1:, 1:] = tail.covariance
    gradient = approx_fprime(at, above, centered=True)
    width = float(norm.ppf((1 + level) / 2) * np.sqrt(gradient @ covariance @ gradient))
    return ReturnLevel(above(at), above(at) - width, above(at) + width)


def profile_shape(excesses: Floats, level: float = 0.95) -> tuple[float, float] | None:
    """The interval of the shape whose profile likelihood is within chi2(level, 1) / 2 of the greatest; None as
    `fit_tail`.

    The lower limit is -1 where the likelihood does not fall so far before.
    """
    tail, data = fit_tail(excesses), _data(excesses)
    if tail is None:
        return None
    least = tail.log_likelihood - float(chi2.ppf(level, 1)) / 2

    def over(shape: float) -> float:
        return data.log_likelihood(_scale_for(data, shape), shape) - least

    lowest, highest = BOUND + 1e-6, max(tail.shape, 0.0) + 0.5
    while over(highest) > 0:
        highest += 0.5
    lower = brentq(over, lowest, tail.shape) if tail.shape > lowest and over(lowest) < 0 else BOUND
    return float(lower), float(brentq(over, max(tail.shape, lowest), highest))


def stability(
    scores: Floats, cuts: Iterable[float], grid: float = 0.0, counts: npt.ArrayLike | None = None
) -> pl.DataFrame:
    """The tail at each cut, for finding the lowest one above which shape and modified scale (scale - shape * cut) stay
    put.

    Out (STABILITY): one row a cut, in the order given; entries from the cut upwards; nulls where `fit_tail` is None,
    the mean excess where there is no entry. `grid`: the scores' step, half of which is added to each excess. Coles
    2001, 4.3.4.
    """
    data = _data(scores, counts)
    rows = []
    for cut in cuts:
        above = data.values >= cut
        rows.append(_at_cut(data.values[above] - cut + grid / 2, data.counts[above], cut))
    return pl.DataFrame(rows, schema=STABILITY, orient="row")


def _at_cut(excesses: Floats, counts: Floats, cut: float) -> tuple[float | None, ...]:
    entries = int(counts.sum())
    mean = float(excesses @ counts / entries) if entries else None
    tail = fit_tail(excesses, counts)
    if tail is None:
        return cut, entries, None, None, None, mean
    return cut, entries, tail.scale, tail.scale - tail.shape * cut, tail.shape, mean


def _data(excesses: Floats, counts: npt.ArrayLike | None = None) -> _Excesses:
    values, place = np.unique(np.asarray(excesses, dtype=np.float64), return_inverse=True)
    weights = None if counts is None else np.asarray(counts, dtype=np.float64)
    return _Excesses(values, np.bincount(place, weights, minlength=len(values)).astype(np.float64))


def _log_ratio(stretch: Floats) -> Floats:
    """log(1 + y) / y, 1 at 0."""
    ratio: Floats = np.divide(np.log1p(stretch), stretch, out=np.ones_like(stretch), where=stretch != 0)
    return ratio


def _best(data: _Excesses) -> tuple[float, float]:
    """Scale and shape: the highest point of a grid, then of its neighbourhood."""

    def parameters(place: float) -> tuple[float, float]:
        stretch = np.expm1(place) * data.values / data.greatest
        return data.mean(data.values * _log_ratio(stretch)), data.mean(np.log1p(stretch))

    def loss(place: float) -> float:
        scale, shape = parameters(place)
        return float(np.log(scale)) + shape + 1 if shape >= BOUND else FORBIDDEN

    best = int(np.argmin([loss(place) for place in GRID]))
    around = GRID[max(best - 1, 0)], GRID[min(best + 1, GRID.size - 1)]
    found = minimize_scalar(loss, bounds=around, method="bounded", options={"xatol": 1e-9})
    return parameters(found.x if found.fun < loss(GRID[best]) else GRID[best])


def _covariance(data: _Excesses, scale: float, shape: float) -> Floats | None:
    if shape < REGULAR:
        return None
    information = -approx_hess(np.array([scale, shape]), lambda at: data.log_likelihood(at[0], at[1]))
    if not np.isfinite(information).all() or (np.linalg.eigvalsh(information) <= 0).any():
        return None
    return np.asarray(np.linalg.inv(information))


def _scale_for(data: _Excesses, shape: float) -> float:
    """The best scale for a shape above -1: the only root of the likelihood's derivative, which falls with the scale."""

    def slope(scale: float) -> float:
        return data.mean((1 + shape) * data.values / (scale + shape * data.values)) - 1

    lowest = max(-shape * data.greatest * (1 + 1e-12), data.greatest * 1e-12)
    return float(brentq(slope, lowest, data.greatest, rtol=1e-9))
