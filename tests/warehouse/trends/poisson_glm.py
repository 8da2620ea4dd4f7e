"""The over-dispersed Poisson model of a triangle fitted by iteration, with the library: what the closed form is held
to.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from statsmodels.genmod.families import Poisson
from statsmodels.genmod.generalized_linear_model import GLM

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Fitted:
    """Figures as in `OverDispersed`; a season that has nothing outstanding has 0."""

    phi: float
    outstanding: Floats
    prediction_error: Floats
    total_error: float


def fitted(triangle: Floats) -> Fitted:
    """The model with a factor for seasons and one for ages; ages and seasons without any count are left out of it."""
    arrivals = np.diff(triangle, axis=1, prepend=0.0)
    seasons, ages = np.nansum(arrivals, axis=1) > 0, np.nansum(arrivals, axis=0) > 0
    kept = arrivals[np.ix_(seasons, ages)]
    seen = ~np.isnan(kept)
    design = _design(kept.shape)
    fit = GLM(kept[seen], design[seen.ravel()], family=Poisson()).fit(scale="X2", tol=1e-13, maxiter=200)
    expected = np.where(seen, 0.0, fit.predict(design).reshape(kept.shape))
    moved = (expected.ravel()[:, None] * design).reshape(*kept.shape, -1)
    by_season = moved.sum(axis=1)
    covariance = fit.cov_params()
    errors = fit.scale * expected.sum(axis=1) + np.einsum("si,ij,sj->s", by_season, covariance, by_season)
    whole = by_season.sum(axis=0)
    outstanding, error = np.zeros(seasons.size), np.zeros(seasons.size)
    outstanding[seasons], error[seasons] = expected.sum(axis=1), np.sqrt(errors)
    total = np.sqrt(fit.scale * expected.sum() + whole @ covariance @ whole)
    return Fitted(float(fit.scale), outstanding, error, float(total))


def _design(shape: tuple[int, int]) -> Floats:
    season, age = (places.ravel() for places in np.indices(shape))
    return np.hstack([np.eye(shape[0])[season], np.eye(shape[1])[age][:, 1:]])
