"""Exact intervals and tests of counts taken as Poisson: one count, and the ratio of two rates."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import gammainccinv, gammaincinv
from scipy.stats import binomtest

from warehouse.trends.arrays import Floats


def garwood(count: npt.ArrayLike, level: float = 0.95) -> tuple[Floats, Floats]:
    """The exact central interval of the mean of a Poisson count -> lower and upper limits, of the shape of `count`.

    lower = chi2(a/2; 2n)/2 and upper = chi2(1 - a/2; 2n + 2)/2 with a = 1 - level (Garwood 1936, Biometrika
    28:437-442), through the gamma distribution. A count of 0 has (0, 3.69) at 95 %: nothing seen is not nothing known.
    For a rate divide both by the effort. NaN stays NaN. Raises ValueError for a negative count.
    """
    counts = np.asarray(count, dtype=np.float64)
    if (counts < 0).any():
        raise ValueError(f"a count cannot be negative: {counts.min():g}")
    tail = (1 - level) / 2
    lower = np.where(counts == 0, 0.0, gammaincinv(np.where(counts == 0, 1.0, counts), tail))
    return lower, np.asarray(gammainccinv(counts + 1, tail), dtype=np.float64)


@dataclass(frozen=True)
class RateRatio:
    """The first rate over the second, its exact interval, and the two-sided p of their being the same."""

    ratio: float
    lower: float
    upper: float
    p: float


def rate_ratio(count_1: int, effort_1: float, count_2: int, effort_2: float, level: float = 0.95) -> RateRatio:
    """Compare two rates exactly, given the sum of both counts, as R's `poisson.test` does.

    Given the sum, the first count is binomial with chance effort_1/(effort_1 + effort_2) where the rates are the same
    (Przyborowski & Wilenski 1940, Biometrika 31:313-323): p is that of the binomial test, all outcomes no likelier than
    the one seen; the interval is Clopper and Pearson's, carried from the chance to the ratio. With no entry on either
    side the ratio is NaN, between 0 and infinity. Raises ValueError for an effort that is not above 0.
    """
    if not (effort_1 > 0 and effort_2 > 0):
        raise ValueError(f"two rates need two efforts above 0: {effort_1:g} and {effort_2:g}")
    if count_1 + count_2 == 0:
        return RateRatio(math.nan, 0.0, math.inf, 1.0)
    test = binomtest(count_1, count_1 + count_2, effort_1 / (effort_1 + effort_2))
    limits = test.proportion_ci(confidence_level=level, method="exact")
    lower, ratio, upper = (_odds(chance) * effort_2 / effort_1 for chance in (limits.low, test.statistic, limits.high))
    return RateRatio(ratio, lower, upper, float(test.pvalue))


def _odds(chance: float) -> float:
    return math.inf if chance == 1 else float(chance) / (1 - float(chance))
