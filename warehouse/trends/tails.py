"""What a book can see of a normal population when it holds only what lies above a cut. Closed forms; inches or any
unit.

They say why the mean of entries is no measure of the deer: above one standard deviation it moves by a fifth of what the
true mean moves, while the share of deer above the cut moves by ten in a hundred for an inch (standard deviation 15).
"""

import numpy as np
import numpy.typing as npt
from scipy.special import log_ndtr, ndtri

from warehouse.trends.arrays import Floats


def exceedance_gain(alpha: npt.ArrayLike) -> Floats:
    """d ln P(X > u) / d mu in units of 1 / sigma: the hazard phi(alpha) / (1 - Phi(alpha)), alpha = (u - mu) / sigma.

    The inverse Mills ratio; divide by sigma for the relative change an inch. Johnson, Kotz & Balakrishnan 1994,
    Continuous Univariate Distributions 1, section 13.10.1 (from memory).
    """
    cut = np.asarray(alpha, dtype=np.float64)
    return np.asarray(np.exp(-(cut**2) / 2 - np.log(2 * np.pi) / 2 - log_ndtr(-cut)), dtype=np.float64)


def mean_gain(alpha: npt.ArrayLike) -> Floats:
    """d E(X | X > u) / d mu: what part of a change of the true mean the mean of entries shows, 1 + alpha*lam - lam^2.

    It is also the variance of what lies above the cut over that of all. Source as `exceedance_gain`.
    """
    cut, hazard = np.asarray(alpha, dtype=np.float64), exceedance_gain(alpha)
    return np.asarray(1 + cut * hazard - hazard**2)


def mean_gain_of_share(share: float) -> float:
    """`mean_gain` where the cut is known only by the `share` of all that lies above it, over 0 and under 1.

    alpha is the normal quantile above which so large a share lies.
    """
    return float(mean_gain(-ndtri(share)))


def mean_above(cut: npt.ArrayLike, mean: npt.ArrayLike, sd: float) -> Floats:
    """E(X | X > cut) of a normal population: mean + sd * lam((cut - mean) / sd)."""
    centre = np.asarray(mean, dtype=np.float64)
    return np.asarray(centre + sd * exceedance_gain((np.asarray(cut) - centre) / sd))


def share_above(cut: npt.ArrayLike, second: npt.ArrayLike, mean: npt.ArrayLike, sd: float) -> Floats:
    """P(X > second | X > cut) of a normal population: what a zeal that is the same for every size leaves as it is."""
    centre = np.asarray(mean, dtype=np.float64)
    above = (log_ndtr((centre - np.asarray(value)) / sd) for value in (second, cut))
    return np.asarray(np.exp(next(above) - next(above)))
