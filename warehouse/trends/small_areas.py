"""Rates of small areas: drawn towards the whole by how little is known of each, and told apart by a funnel.

A map of drawn-in rates is not a list of the best areas: it draws true extremes in too far. An area is flagged by the
limits of the funnel only.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.optimize import minimize
from scipy.special import digamma, gammaln
from scipy.stats import poisson

from warehouse.trends.arrays import Floats

FUNNEL = (0.001, 0.025, 0.975, 0.999)
LIMITS = ("lower_998", "lower_95", "upper_95", "upper_998")
LOG_BOUNDS = (-10.0, 12.0)  # of nu and alpha: beyond, the areas differ by less than any count shows


def marshall(areas: pl.DataFrame) -> pl.DataFrame:
    """The areas with their global empirical-Bayes rates (Marshall 1991, Appl. Stat. 40:283-294).

    In: `count`, `effort` and any other columns. Adds `rate`, count per unit of effort; `weight`, from 0 (nothing of
    its own) to 1; and `smoothed` = m + weight*(rate - m). With m = sum count/sum effort, s2 = sum effort*(rate -
    m)^2/sum effort and a = s2 - m/mean effort, not below 0, weight = a/(a + m/effort). Where effort is unknown or not
    above 0, or the count unknown, all three are null and the area counts in no sum.
    """
    count, effort = (pl.col(name).cast(pl.Float64).fill_nan(None) for name in ("count", "effort"))
    known = areas.with_columns(pl.when(effort > 0).then(count / effort).alias("rate"))
    used = pl.when(pl.col("rate").is_not_null()).then(effort)
    m = count.filter(pl.col("rate").is_not_null()).sum() / used.sum()
    between = (used * (pl.col("rate") - m) ** 2).sum() / used.sum() - m / used.mean()
    weight = pl.when(between > 0).then(between / (between + m / used)).when(pl.col("rate").is_not_null()).then(0.0)
    return known.with_columns(weight=weight, smoothed=m + weight * (pl.col("rate") - m))


def gamma_poisson(count: npt.ArrayLike, expected: npt.ArrayLike) -> tuple[float, float, Floats]:
    """Relative risks as gamma(nu, rate alpha), by maximum likelihood -> nu, alpha, (count + nu)/(expected + alpha).

    A sensitivity beside `marshall` (Clayton & Kaldor 1987, Biometrics 43:671-681). nu and alpha are kept within e^-10
    to e^12: areas that differ no more than chance have no finite estimate, and at the bound all are drawn in to the
    pooled ratio. Raises ValueError where an expected count is not above 0 or a count is negative.
    """
    counts, expects = np.asarray(count, dtype=np.float64), np.asarray(expected, dtype=np.float64)
    if not (expects > 0).all() or not (counts >= 0).all():
        raise ValueError("counts must be 0 or more, and expected counts above 0")

    def unlikelihood(logs: Floats) -> tuple[float, Floats]:
        nu, alpha = np.exp(logs)
        each = gammaln(counts + nu) - gammaln(nu) + nu * logs[1] - (counts + nu) * np.log(expects + alpha)
        by_nu = (digamma(counts + nu) - digamma(nu) + logs[1] - np.log(expects + alpha)).sum()
        by_alpha = (nu / alpha - (counts + nu) / (expects + alpha)).sum()
        return -float(each.sum()), np.asarray([-nu * by_nu, -alpha * by_alpha])

    options = {"ftol": 1e-15, "gtol": 1e-9, "maxiter": 1000}
    best = minimize(unlikelihood, np.zeros(2), jac=True, method="L-BFGS-B", bounds=[LOG_BOUNDS] * 2, options=options)
    nu, alpha = np.exp(best.x).tolist()
    return nu, alpha, (counts + nu) / (expects + alpha)


def funnel_limits(expected: npt.ArrayLike, probabilities: Sequence[float] = FUNNEL) -> Floats:
    """Limits of a Poisson count about its expected counts (n,) -> (n, probabilities), interpolated, not below 0.

    With r the quantile of p and F the distribution function, limit = r - (F(r) - p)/(F(r) - F(r - 1)) (Spiegelhalter
    2005, Stat. Med. 24:1185-1202, appendix), which is smooth in the expected count where r moves in steps.
    """
    mean, p = np.asarray(expected, dtype=np.float64)[:, None], np.asarray(probabilities)
    quantile = poisson.ppf(p, mean)
    over = (poisson.cdf(quantile, mean) - p) / poisson.pmf(quantile, mean)
    return np.asarray(np.maximum(quantile - over, 0.0))


def winsorised_phi(z: npt.ArrayLike, share: float = 0.10) -> float:
    """How much more the areas differ than chance lets them: the mean of z^2, the lowest and highest `share` of the z
    moved in to the quantile there, so that the areas to be found do not widen the funnel (Spiegelhalter 2005). NaN of
    no z."""
    values = np.asarray(z, dtype=np.float64)
    if not values.size:
        return float("nan")
    lower, upper = np.quantile(values, (share, 1 - share))
    return float(np.mean(np.clip(values, lower, upper) ** 2))


def funnel(areas: pl.DataFrame, share: float = 0.10, widen: bool = True) -> pl.DataFrame:
    """The areas with where each stands in the funnel of counts about the pooled rate.

    In: `count`, `effort` and any other columns. Adds `expected`, effort at the pooled rate; `z` = (count -
    expected)/sqrt(expected); `phi`, one figure for all (see `winsorised_phi`), to be told on the chart; `lower_998`,
    `lower_95`, `upper_95`, `upper_998` as counts (over effort they are rates), which stand sqrt(phi) as far from the
    expected count where phi is above 1 and `widen` is set; and `flag`, "above" or "below" the limits of 99.8 %, or "".
    Where effort or count is unknown, or effort not above 0, all are null and the flag is "".
    """
    count, effort = (pl.col(name).cast(pl.Float64).fill_nan(None) for name in ("count", "effort"))
    used = (effort > 0) & count.is_not_null()
    expected = pl.when(used).then(effort) * (count.filter(used).sum() / effort.filter(used).sum())
    z = pl.when(pl.col("expected") > 0).then((count - pl.col("expected")) / pl.col("expected").sqrt())
    told = areas.with_columns(expected=expected).with_columns(z=z)
    phi = winsorised_phi(told["z"].drop_nulls().to_numpy(), share)
    told = told.with_columns(pl.lit(phi).fill_nan(None).alias("phi"), *_limits(told["expected"], phi if widen else 1.0))
    return told.with_columns(
        pl.when(count > pl.col("upper_998"))
        .then(pl.lit("above"))
        .when(count < pl.col("lower_998"))
        .then(pl.lit("below"))
        .otherwise(pl.lit(""))
        .alias("flag")
    )


def _limits(expected: pl.Series, phi: float) -> list[pl.Series]:
    mean = expected.to_numpy().astype(np.float64)
    limits = np.full((len(mean), len(LIMITS)), np.nan)
    known = np.isfinite(mean)
    wider = np.sqrt(phi) if phi > 1 else 1.0
    middle = mean[known, None]
    limits[known] = np.maximum(middle + wider * (funnel_limits(middle[:, 0]) - middle), 0.0)
    return [pl.Series(name, limits[:, at]).fill_nan(None) for at, name in enumerate(LIMITS)]
