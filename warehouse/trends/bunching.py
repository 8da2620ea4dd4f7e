"""Whether scores crowd just above a minimum, as they would where measurers help a head across it.

A book holds nothing below its own minimum, so a test for a step there always finds one. What can be asked: whether a
measurer has more heads in the first inch than the tail above that inch foretells (`bunching`); and whether there is a
step at the minimum of a higher book, among the entries of a lower one (`caliper`, `placebos`). The sign counts: fewer
in the first inch means that owners do not send in heads that barely qualify. A result is a reason to measure again, and
accuses nobody.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.special import exprel
from scipy.stats import binom

from warehouse.trends.arrays import Floats
from warehouse.trends.many_series import adjusted
from warehouse.trends.pareto_tail import ParetoTail
from warehouse.trends.shares import clopper_pearson

Sign = Literal["more", "fewer"]

BUNCHING = pl.Schema({
    "measurer": pl.String, "first_inch": pl.Int64, "above": pl.Int64, "share": pl.Float64, "expected": pl.Float64,
    "sign": pl.String, "p": pl.Float64, "adjusted": pl.Float64,
})  # fmt: skip
PLACEBOS = pl.Schema({"cut": pl.Float64, "below": pl.Int64, "above": pl.Int64, "share": pl.Float64, "p": pl.Float64})


@dataclass(frozen=True)
class Caliper:
    """Entries in a window on either side of a cut-off, the share of those above it with exact limits, and p.

    `p`: two-sided, exact, twice the smaller tail; `sign`: whether more or fewer are above than expected (None: as
    many).
    """

    below: int
    above: int
    share: float
    lower: float
    upper: float
    expected: float
    sign: Sign | None
    p: float


def expected_first_inch(tail: ParetoTail, width: float = 1.0) -> float:
    """The share of all heads from a minimum upwards that lie in the first `width` above it, if nobody helps.

    `tail`: of the excesses over minimum + `width`. A generalised Pareto tail is one above any lower cut as well, its
    scale smaller by shape * width: 1 - (scale_below / scale)^(1 / shape). 1 where no such tail reaches so low.
    """
    below = tail.scale - tail.shape * width
    if below <= 0:
        return 1.0
    relative = width / below
    stretch = np.log1p(tail.shape * relative)  # log(1 + shape * relative) / shape, without dividing by a shape of 0
    return float(-np.expm1(-relative * (1 / exprel(stretch))))


def bunching(near: pl.DataFrame) -> pl.DataFrame:
    """Each measurer's share in the first inch against the expected one -> BUNCHING, by measurer.

    `near`: measurer, first_inch (heads in the first inch above the minimum), above (all heads from the minimum upwards,
    those among them), expected (the share to be expected of these heads). p: exact binomial, two-sided: twice the smaller tail; adjusted p are over all measurers. Null
    without heads.
    """
    first, above = (near[name].cast(pl.Int64).to_numpy() for name in ("first_inch", "above"))
    expected = near["expected"].cast(pl.Float64).to_numpy()
    p = pl.Series("p", np.where(above > 0, _two_sided(first, above, expected), np.nan)).fill_nan(None)
    share = pl.when(pl.col("above") > 0).then(pl.col("first_inch") / pl.col("above"))
    apart = share - pl.col("expected")
    sign = pl.when(apart > 0).then(pl.lit("more")).when(apart < 0).then(pl.lit("fewer"))
    return (
        near.with_columns(share=share, sign=sign, p=p, adjusted=adjusted(p))
        .select(*BUNCHING)
        .cast(BUNCHING)
        .sort("measurer")
    )


def caliper(below: int, above: int, expected: float = 0.5, level: float = 0.95) -> Caliper | None:
    """The window about a higher book's minimum; None where it is empty.

    `expected`: the share above if nobody helps: a half in a narrow window, or what other cut-offs show
    (`placebo_share`). Limits of the share: Clopper & Pearson. Source: Gerber & Malhotra 2008, Q. J. Political Sci.
    3:313-326 (from memory).
    """
    both = below + above
    if not both:
        return None
    share = above / both
    lower, upper = clopper_pearson(above, both, level)
    sign: Sign | None = "more" if share > expected else "fewer" if share < expected else None
    p = float(_two_sided(np.array([above]), np.array([both]), expected)[0])
    return Caliper(below, above, share, float(lower), float(upper), expected, sign, p)


def placebos(scores: Floats, cuts: Iterable[float], window: float) -> pl.DataFrame:
    """The same window about cut-offs at which no minimum stands -> PLACEBOS, one row a cut, in the order given.

    Scores thin out upwards and heap on whole inches, both of which a half does not allow for: take whole inches (if the
    minimum is one) whose windows do not reach the minimum. Counts are of [cut - window, cut) and [cut, cut + window).
    """
    at, ordered = np.asarray(list(cuts), dtype=np.float64), np.sort(np.asarray(scores, dtype=np.float64))
    low, middle, high = (np.searchsorted(ordered, at + step) for step in (-window, 0.0, window))
    below, above = middle - low, high - middle
    frame = pl.DataFrame({"cut": at, "below": below, "above": above, "p": _two_sided(above, below + above, 0.5)})
    some = pl.col("below") + pl.col("above") > 0
    share = pl.col("above") / (pl.col("below") + pl.col("above"))
    told = frame.with_columns(share=pl.when(some).then(share), p=pl.when(some).then("p"))
    return told.select(*PLACEBOS).cast(PLACEBOS)


def placebo_share(placebos: pl.DataFrame) -> float | None:
    """The share above over all placebo cut-offs together: what to expect at the minimum. None where all are empty."""
    below, above = int(placebos["below"].sum()), int(placebos["above"].sum())
    return above / (below + above) if below + above else None


def _two_sided(hits: npt.NDArray[np.int64], out_of: npt.NDArray[np.int64], expected: float | Floats) -> Floats:
    """Twice the smaller tail, at most 1."""
    lower, upper = binom.cdf(hits, out_of, expected), binom.sf(hits - 1, out_of, expected)
    return np.asarray(np.minimum(1.0, 2 * np.minimum(lower, upper)), dtype=np.float64)
