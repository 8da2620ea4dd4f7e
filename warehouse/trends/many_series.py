"""Many trends on one page: which of them stand out, and what they come to together."""

import math
from dataclasses import dataclass

import numpy as np
import polars as pl
from scipy.special import chdtrc, ndtr, ndtri, stdtr, stdtrit
from statsmodels.stats.meta_analysis import combine_effects
from statsmodels.stats.multitest import multipletests

from warehouse.trends.arrays import Floats


def adjusted(p: pl.Series) -> pl.Series:
    """p-values adjusted for their number by Benjamini and Hochberg (1995, JRSS B 57:289-300); nulls are kept and not
    counted. Those at or under 0.05 are the trends to be told: of them at most one in twenty is expected to be none."""
    given = p.cast(pl.Float64).fill_nan(None)
    known = given.drop_nulls()
    if known.is_empty():
        return given
    values = np.full(len(given), np.nan)
    values[given.is_not_null().to_numpy()] = multipletests(known.to_numpy(), method="fdr_bh")[1]
    return pl.Series(p.name, values).fill_nan(None)


UNLIKE = 50  # per cent of I-squared (house rule, no source)


@dataclass(frozen=True)
class Combined:
    """Slopes of `members` areas as one: `slope` with its error `se`, its interval and p.

    `fixed` is the slope if all areas had one; `q` on `df` and `q_p` test that they have, `tau2` is the variance of the true
    slopes, `i2` the per cent of the variation seen that it makes up. Where `i2` is high there is no single trend. Of areas
    that share their seasons (`shared_seasons`) `q` to `i2` are of the slopes relative to each other.
    """

    members: int
    left_out: int
    slope: float
    se: float
    lower: float
    upper: float
    p: float
    q: float
    df: int
    q_p: float
    tau2: float
    i2: float
    fixed: float

    @property
    def unlike(self) -> bool:
        """Whether the slopes are so unlike that there is no single one to be told."""
        return self.i2 > UNLIKE


def combine(slopes: pl.DataFrame, level: float = 0.95) -> Combined | None:
    """Counties' slopes into a district's, by DerSimonian & Laird (1986, Control. Clin. Trials 7:177-188).

    In: `slope`, `se`; rows where either is unknown, or `se` is not above 0, are left out and counted. None under two
    members. Interval: Hartung and Knapp (2001, Stat. Med. 20:3875-3889) and Sidik and Jonkman (2002, Stat. Med.
    21:3153-3159), which lets the slopes' own scatter set the error, with Student's t on members - 1; the plain normal
    interval covers too seldom where counties are few. Where slopes happen to lie close together theirs is the
    narrower of the two, so the wider is taken (Wiksten, Rucker & Schwarzer 2016, Stat. Med. 35:2503-2515), as is p.
    """
    kept = slopes.filter(_usable())
    members = kept.height
    if members < 2:
        return None
    with np.errstate(all="ignore"):
        found = combine_effects(_floats(kept, "slope"), _floats(kept, "se") ** 2, method_re="dl")
    # statsmodels lets the moment estimate of tau2 fall below 0, whose random effects (ignored above, and not used) are
    # then no numbers; it is 0 there, and the slope that of a fixed effect.
    q, df, scattered = float(found.q), members - 1, found.tau2 > 0
    slope, se, own = (
        (found.mean_effect_re, found.sd_eff_w_re, math.sqrt(found.var_hksj_re))
        if scattered
        else (found.mean_effect_fe, found.sd_eff_w_fe, math.sqrt(found.var_hksj_fe))
    )
    half = max(stdtrit(df, (1 + level) / 2) * own, ndtri((1 + level) / 2) * se)
    p = max(2 * ndtr(-abs(slope) / se), 2 * stdtr(df, -abs(slope) / own) if own > 0 else 0.0)
    return Combined(
        members, slopes.height - members, float(slope), float(se), float(slope - half), float(slope + half), float(p),
        q=q, df=df, q_p=float(chdtrc(df, max(q, 0.0))), tau2=max(float(found.tau2), 0.0),
        i2=100 * max(0.0, (q - df) / q) if q > 0 else 0.0, fixed=float(found.mean_effect_fe),
    )  # fmt: skip


def shrunk(slopes: pl.DataFrame, combined: Combined) -> pl.Series:
    """Each county's slope drawn towards the district's, the more so the less sure it is -> null where it has none.

    slope*tau2/(tau2 + se^2) + district*se^2/(tau2 + se^2), the empirical Bayes estimate (Efron & Morris 1975, JASA
    70:311-319). In: the frame that was combined.
    """
    slope, variance = pl.col("slope").cast(pl.Float64), pl.col("se").cast(pl.Float64) ** 2
    drawn = (slope * combined.tau2 + combined.slope * variance) / (combined.tau2 + variance)
    return slopes.select(pl.when(_usable()).then(drawn).alias("shrunk"))["shrunk"]


def _floats(frame: pl.DataFrame, name: str) -> Floats:
    return np.asarray(frame[name], dtype=np.float64)


def _usable() -> pl.Expr:
    slope, se = (pl.col(name).cast(pl.Float64) for name in ("slope", "se"))
    return slope.is_finite() & se.is_finite() & (se > 0)
