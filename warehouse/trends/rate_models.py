"""Models of one series or table of counts, for what a trend must be held against: other errors, another offset.

Thin over statsmodels, a few milliseconds a fit. Pages full of trends use `rate_trend`.
"""

import warnings
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri, stdtrit
from statsmodels.discrete.discrete_model import NegativeBinomial
from statsmodels.genmod.families import Poisson
from statsmodels.genmod.generalized_linear_model import GLM, GLMResults
from statsmodels.tools.sm_exceptions import PerfectSeparationWarning

from warehouse.trends.arrays import Floats


@dataclass(frozen=True)
class RateFit:
    """A log-link Poisson fit: terms and their errors, all (k,). `se_quasi` is `se_poisson` times sqrt(phi), phi
    (Pearson's chi-square over `df`) taken as 1 where it is below; `se_cluster` lets the rows of a group move
    together."""

    params: Floats
    se_poisson: Floats
    se_quasi: Floats
    se_cluster: Floats | None
    phi: float
    deviance: float
    df: int


def fit_rates(
    count: npt.ArrayLike, design: npt.ArrayLike, effort: npt.ArrayLike, groups: npt.ArrayLike | None = None
) -> RateFit:
    """Fit counts (n,) to a design (n, k; its constant column included) with the offset log(effort), effort above 0.

    `groups` (n,), whole numbers, names the group of each row, such as its county, for `se_cluster` (Liang & Zeger 1986,
    Biometrika 73:13-22, with statsmodels' correction for few groups): wanted wherever counties are pooled.
    """
    model = GLM(_floats(count), _floats(design), family=Poisson(), offset=np.log(_floats(effort)))
    begun = _fitted(model).params
    plain = _fitted(model, start_params=begun)  # statsmodels' errors are those of the step before the last
    phi = float(plain.pearson_chi2 / plain.df_resid)
    clustered = None
    if groups is not None:
        together = {"cov_type": "cluster", "cov_kwds": {"groups": np.asarray(groups)}}
        clustered = _floats(_fitted(model, start_params=begun, **together).bse)
    quasi = _floats(plain.bse) * np.sqrt(max(phi, 1.0))
    deviance = float(plain.deviance)
    return RateFit(_floats(plain.params), _floats(plain.bse), quasi, clustered, phi, deviance, int(plain.df_resid))


def _fitted(model: GLM, **settings: Any) -> GLMResults:
    """Counts that lie on the line itself are a good fit, though statsmodels warns of them as of shares parted by a
    date."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", PerfectSeparationWarning)
        return model.fit(tol=1e-12, **settings)


@dataclass(frozen=True)
class NegativeBinomialFit:
    """Terms and errors (k,), alpha (variance = mean + alpha*mean^2; 1/theta of R), and the whole log-likelihood."""

    params: Floats
    se: Floats
    alpha: float
    likelihood: float


def negative_binomial(count: npt.ArrayLike, design: npt.ArrayLike, effort: npt.ArrayLike) -> NegativeBinomialFit | None:
    """Fit counts as `fit_rates` does, but with errors of the negative binomial of the second kind, alpha estimated.

    A negative-binomial GLM would hold alpha at 1, which is another model (Hilbe 2011, Negative Binomial Regression).
    None where it does not converge or leaves no errors, and where counts scatter no more than Poisson, for alpha is
    then 0.
    """
    counts, terms, given = _floats(count), _floats(design), _floats(effort)
    if not (_told(counts, terms) and _scattered(counts, terms, given)):
        return None
    with warnings.catch_warnings(), np.errstate(all="ignore"):
        warnings.simplefilter("ignore")  # steps that overflow on the way, and not converging: told by None
        try:
            found = NegativeBinomial(counts, terms, loglike_method="nb2", exposure=given).fit(disp=0, maxiter=500)
            errors = _floats(found.bse)
        except np.linalg.LinAlgError:
            return None
    if not found.mle_retvals["converged"] or not np.isfinite(errors).all():
        return None
    return NegativeBinomialFit(_floats(found.params[:-1]), errors[:-1], float(found.params[-1]), float(found.llf))


def _scattered(count: Floats, design: Floats, effort: Floats) -> bool:
    """Whether a little alpha is likelier than none: sum of (count - mean)^2 - count above 0 at the Poisson fit, which
    is twice the slope of the likelihood at alpha = 0 (Dean & Lawless 1989, JASA 84:467-472)."""
    mean = effort * np.exp(design @ fit_rates(count, design, effort).params)
    return bool(((count - mean) ** 2 - count).sum() > 0)


def effort_exponent(
    year: npt.ArrayLike, count: npt.ArrayLike, effort: npt.ArrayLike, level: float = 0.95
) -> tuple[float, float, float]:
    """The power of effort that entries went with, the year's slope beside it -> estimate, lower, upper.

    An offset says it is 1. Far from 1, the effort is a poor one to divide by. Quasi-Poisson, Student's t on seasons -
    3; NaN where seasons are fewer than 4, or those with entries do not tell effort from year.
    """
    years, logs = _floats(year), np.log(_floats(effort))
    design = np.column_stack([np.ones_like(years), years - years.mean(), logs - logs.mean()])
    df = len(years) - design.shape[1]
    if df < 1 or not _told(count, design):
        return float("nan"), float("nan"), float("nan")
    found = fit_rates(count, design, np.ones_like(years))
    half = stdtrit(df, (1 + level) / 2) * found.se_quasi[-1]
    return float(found.params[-1]), float(found.params[-1] - half), float(found.params[-1] + half)


@dataclass(frozen=True)
class Sensitivity:
    """A trend as the negative binomial has it: per cent a year, its interval, and alpha."""

    percent: float
    lower: float
    upper: float
    alpha: float


def trend_sensitivity(
    year: npt.ArrayLike, count: npt.ArrayLike, effort: npt.ArrayLike, level: float = 0.95
) -> Sensitivity | None:
    """The trend of one series with negative-binomial errors, to be held against that of `rate_trend`: they should say
    the same. Normal interval. None where the model does not converge, which is so wherever counts scatter too
    little."""
    years, given = _floats(year), _floats(effort)
    # the unit of effort moves the level alone, but the search begins at a level of 1
    found = negative_binomial(count, np.column_stack([np.ones_like(years), years - years.mean()]), given / given.mean())
    if found is None:
        return None
    slope, half = found.params[1], ndtri((1 + level) / 2) * found.se[1]
    percent, lower, upper = (float(100 * np.expm1(value)) for value in (slope, slope - half, slope + half))
    return Sensitivity(percent, lower, upper, found.alpha)


def _told(count: npt.ArrayLike, design: npt.ArrayLike) -> bool:
    """Whether the rows with entries tell every term apart, which is enough for finite estimates (Haberman 1974)."""
    rows = _floats(design)[_floats(count) > 0]
    return bool(rows.size) and int(np.linalg.matrix_rank(rows)) == rows.shape[1]


def _floats(values: npt.ArrayLike) -> Floats:
    return np.asarray(values, dtype=np.float64)
