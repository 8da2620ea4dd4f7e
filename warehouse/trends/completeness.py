"""Seasons not yet complete: how many entries are still to come, from how earlier seasons filled up.

A triangle is a float array of shape (seasons, ages), oldest season first: the entries known by each age, cumulative,
never falling. NaN is unseen: the lower right is still to come; the upper left may be unknown, too, where nobody wrote
down when. A season is seen from its first known age to its last without a gap.

Looked at backwards, every season has the same share q(k) of what it holds at age k + 1 already at age k (Kalbfleisch &
Lawless 1989, JASA 84:360-372). The estimate of 1 / q(k) is the chain ladder's development factor, and as the shares are
estimated independently, the over-dispersed Poisson model with a factor for seasons and one for ages (Renshaw & Verrall
1998, British Actuarial J. 4:903-923) has its maximum, and the variance there, in closed form. That, unlike an iterative
fit, stands up to ages and seasons in which nothing arrived.
"""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt
from scipy.stats import chi2, norm

from warehouse.trends.arrays import Floats

Ints = npt.NDArray[np.int64]
Number = TypeVar("Number", Floats, np.float64)

COMPLETE = 0.95  # a season below is drawn hollow and is in no trend (house rule, no source)
SHOWN = 0.25  # below, a nowcast rests on too little to be shown (house rule, no source)


@dataclass(frozen=True)
class ChainLadder:
    """`factors`: of each step from one age to the next (NaN: nothing to tell it by). `completeness`: of each age, 0 to
    1.

    Of each season: `ages`, the last age seen; `latest`, the entries by then; `ultimate`, the entries expected in the
    end; `outstanding`, what is missing of them. `total`: all that is outstanding. NaN where completeness is 0 or
    unknown.
    """

    factors: Floats
    completeness: Floats
    ages: Ints
    latest: Floats
    ultimate: Floats
    outstanding: Floats
    total: float


@dataclass(frozen=True)
class OverDispersed:
    """The over-dispersed Poisson model of a triangle; seasons and ages as in `ChainLadder`.

    `phi`: variance over mean of what arrives, at least 1. `prediction_error`: standard error of each season's
    outstanding entries, `total_error` of their sum: from the variance of what is yet to arrive and that of the
    estimates. `var_growth_by_age`: the variance of 1 / completeness.
    """

    phi: float
    outstanding: Floats
    prediction_error: Floats
    total_error: float
    completeness_by_age: Floats
    var_growth_by_age: Floats


@dataclass(frozen=True)
class Nowcast:
    """The entries expected in the end, the limits of what they will be, rounded outwards, and the standard error of
    `total`.
    """

    total: float
    lower: float
    upper: float
    error: float


def development(triangle: Floats, newest: int | None = None) -> Floats:
    """The development factors, one a step (ages - 1): sum at the later age over sum at the earlier, over seasons seen
    at both.

    `newest`: only the newest so many seasons of each step. NaN where the seasons had nothing yet: before the first
    possible delay no factor can say what will come. Source: Taylor & Ashe 1983, J. Econometrics 23:37-61.
    """
    before, after = _steps(_newest(triangle, newest))
    return _quotient(after, before)


def chain_ladder(triangle: Floats, newest: int | None = None) -> ChainLadder:
    """What is still to come of each season: its latest count over the completeness of its age, 1 / product of later
    factors.
    """
    kept = _newest(triangle, newest)
    completeness = _completeness(kept)
    ages, latest = _latest(triangle)
    ultimate = _quotient(latest, completeness[ages])
    outstanding = ultimate - latest
    return ChainLadder(
        development(kept), completeness, ages, latest, ultimate, outstanding, float(outstanding.sum())
    )  # fmt: skip


def over_dispersed_poisson(triangle: Floats, newest: int | None = None) -> OverDispersed:
    """The chain ladder as an over-dispersed Poisson model, with analytic prediction errors.

    phi is Pearson's X2 over its degrees of freedom; 1 where that is less or none are left. Var(log q(k)) is phi times
    (1 / sum at age k - 1 / sum at age k + 1); a season's latest count is independent of the shares it is divided by, so
    its error follows by the delta method. Source: England & Verrall 2002, British Actuarial J. 8:443-518, section 7.
    """
    kept = _newest(triangle, newest)
    found, (before, after) = chain_ladder(triangle, newest), _steps(kept)
    phi = _phi(kept, found)
    var_step = np.where(
        before > 0, phi * (_quotient(np.ones_like(before), before) - _quotient(np.ones_like(after), after)), np.nan
    )
    var_log = np.append(var_step[::-1].cumsum()[::-1], 0.0)
    complete = np.where(found.completeness > 0, found.completeness, np.nan)
    var_growth = var_log / complete**2
    own = complete[found.ages]
    error = np.sqrt(_variance(found.latest, own, phi, var_growth[found.ages]))
    alone = _variance(found.latest, own, phi, np.zeros_like(own)).sum()
    shared = np.nansum(_ultimate_by_step(found) ** 2 * var_step)
    return OverDispersed(
        phi, found.outstanding, error, float(np.sqrt(alone + shared)), found.completeness, var_growth
    )  # fmt: skip


def mack_error(triangle: Floats) -> float:
    """Mack's standard error of all that is outstanding: no distribution assumed, but no zero counts either.

    The variance of a step that one season alone has seen is taken from the two before: min(s4/s2, s2, s). Source: Mack
    1993, ASTIN Bulletin 23:213-225.
    """
    found, (before, _after) = chain_ladder(triangle), _steps(triangle)
    spread = _mack_variances(triangle, found.factors) / found.factors**2
    to_come = _ultimate_by_step(found)
    process = to_come * spread / found.completeness[:-1]
    return float(np.sqrt((process + to_come**2 * spread / before).sum()))


def nowcast(seen: int, completeness: float, phi: float, var_growth: float, level: float = 0.95) -> Nowcast:
    """The entries a place will have in the end, of which `seen` are known, if its season fills up as the region's does.

    `completeness` (above 0), `phi`, `var_growth`: of the region, at the season's age. The variance of what is
    outstanding, O = seen * (1/c - 1), is phi * O + phi * seen * ((1 - c)/c)^2 + seen^2 * var_growth; the interval is
    lognormal about O. The limits are rounded outwards to whole entries. Of a place where none is seen: phi times
    Garwood's upper limit of a count of 0, scaled by (1 - c)/c; no standard error. ValueError: a completeness of 0.
    Source: as `over_dispersed_poisson`; the lognormal interval is Mack's (1993).
    """
    if not completeness > 0:
        raise ValueError(f"a season of completeness {completeness} tells nothing of what is to come")
    if completeness >= 1:
        return Nowcast(float(seen), float(seen), float(seen), 0.0)
    odds = (1 - completeness) / completeness
    if seen == 0:
        return Nowcast(0.0, 0.0, float(np.ceil(phi * chi2.ppf((1 + level) / 2, 2) / 2 * odds)), 0.0)
    outstanding = seen * odds
    error = float(np.sqrt(_variance(np.float64(seen), np.float64(completeness), phi, np.float64(var_growth))))
    width = norm.ppf((1 + level) / 2) * np.sqrt(np.log1p((error / outstanding) ** 2))
    lower, upper = seen + outstanding * np.exp([-width, width])
    return Nowcast(float(seen + outstanding), float(np.floor(lower)), float(np.ceil(upper)), error)


def _variance(seen: Number, complete: Number, phi: float, var_growth: Number) -> Number:
    """Of what is outstanding: what is yet to arrive, the season's own level, the shares all seasons have in common."""
    odds = (1 - complete) / complete
    return phi * seen * odds + phi * seen * odds**2 + seen**2 * var_growth


def _newest(triangle: Floats, newest: int | None) -> Floats:
    """The triangle without what the newest so many seasons of each step do not need."""
    if newest is None:
        return triangle
    pairs = _pairs(triangle)
    used = pairs & (pairs[::-1].cumsum(axis=0)[::-1] <= newest)
    keep = np.zeros(triangle.shape, dtype=bool)
    keep[:, :-1] |= used
    keep[:, 1:] |= used
    ages, _counts = _latest(triangle)
    keep[np.arange(ages.size), ages] = True
    return np.where(keep, triangle, np.nan)


def _pairs(triangle: Floats) -> npt.NDArray[np.bool_]:
    seen = ~np.isnan(triangle)
    return seen[:, :-1] & seen[:, 1:]


def _steps(triangle: Floats) -> tuple[Floats, Floats]:
    """Of each step, the sums at its earlier and its later age over the seasons seen at both."""
    pairs = _pairs(triangle)
    before, after = (np.where(pairs, part, 0.0).sum(axis=0) for part in (triangle[:, :-1], triangle[:, 1:]))
    return before, after


def _completeness(triangle: Floats) -> Floats:
    """1 at the last age; 0 up to an age at which seasons had nothing and later something; NaN where nobody knows."""
    before, after = _steps(triangle)
    shares = _quotient(before, after)[::-1]
    product = np.where(np.logical_or.accumulate(shares == 0), 0.0, shares.cumprod())
    return np.append(product[::-1], 1.0)


def _latest(triangle: Floats) -> tuple[Ints, Floats]:
    places = np.arange(1, triangle.shape[1] + 1)
    ages = np.where(np.isnan(triangle), 0, places).max(axis=1, initial=0) - 1
    counts: Floats = triangle[np.arange(ages.size), ages]
    return ages, counts


def _quotient(above: Floats, below: Floats) -> Floats:
    """NaN where the divisor is not above zero."""
    quotient: Floats = np.divide(above, below, out=np.full(np.shape(above), np.nan), where=below > 0)
    return quotient


def _ultimate_by_step(found: ChainLadder) -> Floats:
    """Of each step, the ultimate of the seasons that still have to take it."""
    to_come = np.arange(found.factors.size)[None, :] >= found.ages[:, None]
    return np.asarray(np.where(to_come, found.ultimate[:, None], 0.0).sum(axis=0))


def _phi(kept: Floats, found: ChainLadder) -> float:
    """Pearson's X2 of what arrived at each age (at the first one seen: by then) over its degrees of freedom, at least
    1.
    """
    expected = _arrivals(np.where(np.isnan(kept), np.nan, found.ultimate[:, None] * found.completeness))
    there = expected > 0
    shares = _quotient(found.completeness[:-1], found.completeness[1:])
    freedom = there.sum() - there.any(axis=1).sum() - ((shares > 0) & (shares < 1)).sum()
    if freedom < 1:
        return 1.0
    off = (_arrivals(kept)[there] - expected[there]) ** 2 / expected[there]
    return max(1.0, float(off.sum() / freedom))


def _arrivals(cumulative: Floats) -> Floats:
    """What each age added to the one before; the first age seen of a season keeps its sum."""
    before = np.zeros(cumulative.shape)
    before[:, 1:] = np.nan_to_num(cumulative[:, :-1])
    return cumulative - before


def _mack_variances(triangle: Floats, factors: Floats) -> Floats:
    pairs = _pairs(triangle)
    start, end = np.where(pairs, triangle[:, :-1], np.nan), triangle[:, 1:]
    freedom = pairs.sum(axis=0) - 1
    off = np.nansum((end - factors * start) ** 2 / start, axis=0)
    variances: Floats = np.divide(off, freedom, out=np.full(off.shape, np.nan), where=freedom > 0)
    for step in np.flatnonzero(freedom < 1):
        one, two = variances[step - 2 : step]
        variances[step] = min(two**2 / one, one, two)
    return variances
