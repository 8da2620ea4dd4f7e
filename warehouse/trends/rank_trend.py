"""Mann and Kendall's trend test, Theil and Sen's slope: no distribution supposed, not moved by one outsize head.

The test cannot tell a step from a slope: where a minimum or a season's rule changed, say so beside it.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr, ndtri
from scipy.stats import kendalltau, rankdata

from warehouse.trends.arrays import Floats

MINIMUM_SEASONS = 8  # house rule, no source: with 4 seasons no order at all is rarer than 1 in 20, two-sided
MOST_EXACT = 10  # seasons up to which p is counted out, where nothing is tied


@dataclass(frozen=True)
class RankTrend:
    """S (rises less falls over all pairs of seasons) with its variance, z and two-sided p; and the slope per unit of x.

    `tau_a` is S over the number of pairs; `exact` tells that p was counted out and z not used. The line is
    `intercept + slope*x`. A limit is infinite where the seasons are too few to have one at that level.
    """

    seasons: int
    s: int
    variance: float
    z: float
    p: float
    exact: bool
    tau_a: float
    slope: float
    intercept: float
    lower: float
    upper: float


def enough(seasons: int) -> bool:
    """Whether a trend may be told of so many seasons."""
    return seasons >= MINIMUM_SEASONS


def mann_kendall(x: npt.ArrayLike, y: npt.ArrayLike, level: float = 0.95) -> RankTrend:
    """Test y against x (both 1-D, of one length; x in years, gaps allowed; pairs with a NaN are left out).

    S = sum of sign(yj - yi) over xi < xj, variance by `rank_variance`, z = (S - sign S)/sqrt(variance) (Mann 1945,
    Econometrica 13:245-259; Kendall 1975, Rank Correlation Methods); p exact to 10 seasons without ties. Slope: the
    median of all pairs' slopes, intercept median(y) - slope*median(x); limits by Sen (1968, JASA 63:1379-1389) with
    Gilbert's interpolated ranks. It refuses nothing (see `enough`): slope and intercept of one season are NaN.
    """
    x, y = _complete(x, y)
    slopes, pairs = pair_slopes(x, y), len(x) * (len(x) - 1) // 2
    s, variance = rank_sum(x, y), rank_variance(x, y)
    z = continuity_z(s, variance)
    exact = 2 <= len(x) <= MOST_EXACT and len(np.unique(x)) == len(np.unique(y)) == len(x)
    p = float(kendalltau(x, y, method="exact").pvalue) if exact else two_sided(z)
    slope = float(np.median(slopes)) if slopes.size else math.nan
    intercept = float(np.median(y) - slope * np.median(x)) if slopes.size else math.nan
    tau_a = s / pairs if pairs else 0.0
    return RankTrend(len(x), s, variance, z, p, exact, tau_a, slope, intercept, *slope_limits(slopes, variance, level))


def hamed_rao(x: npt.ArrayLike, y: npt.ArrayLike) -> tuple[float, float]:
    """Variance of S and two-sided p with the seasons' serial correlation allowed for, as a sensitivity.

    Variance times 1 + 2/(n(n-1)(n-2)) * sum (n-i)(n-i-1)(n-i-2)*r_i over the lags whose correlation r_i of the ranks of
    the detrended y is significant at 5 % (Hamed & Rao 1998, J. Hydrol. 204:182-196). Lags are counted in seasons
    present: gaps close up. Under 20 seasons a serial correlation is hardly told, and the two should not be relied on.
    Where the correction leaves no variance, or nothing varies, the plain variance stands.
    """
    x, y = _complete(x, y)
    n, s, variance = len(x), rank_sum(x, y), rank_variance(x, y)
    if n > 3 and variance > 0:
        ranks = rankdata(y - np.median(pair_slopes(x, y)) * x)[np.argsort(x, kind="stable")]
        lag = np.arange(1, n)
        correlation = _autocorrelation(ranks)
        correlation[np.abs(correlation) <= ndtri(0.975) / math.sqrt(n)] = 0.0
        weighted = float(((n - lag) * (n - lag - 1) * (n - lag - 2) * correlation).sum())
        corrected = variance * (1 + 2 / (n * (n - 1) * (n - 2)) * weighted)
        variance = corrected if corrected > 0 else variance
    return variance, two_sided(continuity_z(s, variance))


def rank_sum(x: Floats, y: Floats) -> int:
    """Kendall's S: pairs that rise with x less pairs that fall."""
    return int((np.sign(x[:, None] - x) * np.sign(y[:, None] - y)).sum()) // 2


def rank_variance(x: Floats, y: Floats) -> float:
    """The variance of S where no trend is, ties in x and y allowed for (Kendall 1975, Rank Correlation Methods, ch. 4).

    [n(n-1)(2n+5) - sum t(t-1)(2t+5) - sum u(u-1)(2u+5)]/18, t and u the sizes of the ties, and two terms that are
    0 unless both x and y have ties.
    """
    n, pairs, threes = len(x), Fraction(0), Fraction(0)
    t, u = (np.unique(values, return_counts=True)[1].tolist() for values in (x, y))
    if n > 1:
        pairs = Fraction(_product(t, 2) * _product(u, 2), 2 * n * (n - 1))
    if n > 2:
        threes = Fraction(_product(t, 3) * _product(u, 3), 9 * n * (n - 1) * (n - 2))
    return float(Fraction(_cubic([n]) - _cubic(t) - _cubic(u), 18) + pairs + threes)


def pair_slopes(x: Floats, y: Floats) -> Floats:
    """The slope of every pair of seasons with xi < xj, not sorted."""
    run, rise = x[:, None] - x, y[:, None] - y
    forward = run > 0
    return np.asarray(rise[forward] / run[forward])


def slope_limits(slopes: Floats, variance: float, level: float) -> tuple[float, float]:
    """Limits of the median slope: of N sorted slopes those at the ranks (N - C)/2 and (N + C)/2 + 1, interpolated,
    where C = z*sqrt(variance of S) (Gilbert 1987, Statistical Methods for Environmental Pollution Monitoring, sec.
    16.5)."""
    n = len(slopes)
    half = float(ndtri((1 + level) / 2)) * math.sqrt(variance)
    if not n or (n - half) / 2 < 1:
        return -math.inf, math.inf
    ranks = ((n - half) / 2, (n + half) / 2 + 1)
    lower, upper = np.interp(ranks, np.arange(1, n + 1), np.sort(slopes))
    return float(lower), float(upper)


def continuity_z(s: int, variance: float) -> float:
    """S in standard errors, moved one towards 0 (S moves in steps of 2); 0 where nothing can vary."""
    return float((s - np.sign(s)) / math.sqrt(variance)) if variance > 0 else 0.0


def two_sided(z: float) -> float:
    """The chance of a normal deviate at least so far from 0."""
    return float(2 * ndtr(-abs(z)))


def _complete(x: npt.ArrayLike, y: npt.ArrayLike) -> tuple[Floats, Floats]:
    xs, ys = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    kept = np.isfinite(xs) & np.isfinite(ys)
    return xs[kept], ys[kept]


def _cubic(ties: list[int]) -> int:
    return sum(t * (t - 1) * (2 * t + 5) for t in ties)


def _product(ties: list[int], factors: int) -> int:
    """Sum of t(t-1), or of t(t-1)(t-2)."""
    return sum(math.perm(t, factors) for t in ties)


def _autocorrelation(values: Floats) -> Floats:
    """Of every lag from 1, the divisor n for all of them; 0 where all values are one."""
    away = values - values.mean()
    products = np.correlate(away, away, "full")[len(values) - 1 :]
    return products[1:] / products[0] if products[0] > 0 else np.zeros(len(values) - 1)
