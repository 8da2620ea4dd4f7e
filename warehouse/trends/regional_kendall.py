"""A district's trend from its counties: Mann and Kendall's test summed over blocks, so that county is held to itself.

Counties share weather and rules, so their trends are not independent: where there are seasons enough the variance takes
in how they moved together, else the plain one is too small and must be called not corrected.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.special import chdtrc

from warehouse.trends.arrays import Floats
from warehouse.trends.rank_trend import continuity_z, rank_variance, slope_limits, two_sided

ENOUGH_TO_CORRELATE = 10  # seasons (Hirsch & Slack 1984, Water Resour. Res. 20:727-732, found fewer too few)

UNLIKE = 0.05  # chance under which blocks are unlike


@dataclass(frozen=True)
class RegionalTrend:
    """S, variance, z and p over all blocks, as if independent; slope and limits per unit of x.

    `pairs` is the number of pairs within blocks and `tau` S over it. `heterogeneity` (chi-square on
    `heterogeneity_df`) tests that the blocks share one trend: do not tell of one where `heterogeneity_p` is small.
    `variance_correlated` and `p_correlated` let the blocks move together; None under 10 distinct x.
    """

    blocks: int
    pairs: int
    s: int
    variance: float
    z: float
    p: float
    tau: float
    slope: float
    lower: float
    upper: float
    heterogeneity: float
    heterogeneity_df: int
    heterogeneity_p: float
    variance_correlated: float | None
    p_correlated: float | None

    @property
    def unlike(self) -> bool:
        """Whether the blocks go different ways, so that there is no single slope to be told."""
        return self.heterogeneity_p < UNLIKE


def regional_kendall(blocks: pl.DataFrame, level: float = 0.95) -> RegionalTrend:
    """The regional Kendall test (Helsel & Frans 2006, Environ. Sci. Technol. 40:4066-4073).

    In: `block`, `x` (years), `y`; a block may lack any x, but has none twice; rows with no y are left out. The slope
    is the median of all slopes within blocks, with Gilbert's limits (see `rank_trend.slope_limits`) by the variance that
    allows for the correlation of blocks, where there is one. Heterogeneity:
    sum z_i^2 - k*mean(z)^2, z_i without continuity correction, on k - 1 degrees of freedom (van Belle & Hughes 1984,
    Water Resour. Res. 20:127-136); blocks in which nothing varies count in neither. Raises ValueError for an x that a
    block has twice.
    """
    years, y = _grid(blocks)
    run, rise = years - years[:, None], y[:, None, :] - y[:, :, None]  # of season j (last axis) over season i
    later = (run > 0) & np.isfinite(rise)
    signs = np.where(later, np.sign(rise), 0.0)
    sums = signs.sum(axis=(1, 2))
    variances = np.asarray([rank_variance(years[held], row[held]) for row, held in zip(y, np.isfinite(y), strict=True)])
    s, variance, pairs = int(sums.sum()), math.fsum(variances), int(later.sum())
    slopes = (rise / np.where(run > 0, run, 1.0))[later]
    z = continuity_z(s, variance)
    unlike, df, unlike_p = _heterogeneity(sums, variances)
    correlated = _correlated(y, signs, sums, variances) if len(years) >= ENOUGH_TO_CORRELATE else None
    lower, upper = slope_limits(slopes, variance if correlated is None else correlated, level)
    return RegionalTrend(
        len(y), pairs, s, variance, z, two_sided(z), s / pairs if pairs else 0.0,
        float(np.median(slopes)) if pairs else math.nan, lower, upper, unlike, df, unlike_p,
        correlated, None if correlated is None else two_sided(continuity_z(s, correlated)),
    )  # fmt: skip


def _grid(blocks: pl.DataFrame) -> tuple[Floats, Floats]:
    """The distinct x in order, (seasons,), and y as (blocks, seasons), NaN where a block has none."""
    x, y = (pl.col(name).cast(pl.Float64).fill_nan(None) for name in ("x", "y"))
    rows = blocks.with_columns(x, y).filter(pl.col("x").is_not_null() & pl.col("y").is_not_null())
    twice = rows.filter(pl.struct("block", "x").is_duplicated())
    if twice.height:
        raise ValueError(f"block {twice['block'][0]!r} has x = {twice['x'][0]:g} twice")
    row = rows["block"].rank("dense").to_numpy().astype(np.int64) - 1
    years, column = np.unique(rows["x"].to_numpy(), return_inverse=True)
    grid = np.full((int(row.max(initial=-1)) + 1, len(years)), np.nan)
    grid[row, column] = rows["y"].to_numpy()
    return years, grid


def _heterogeneity(sums: Floats, variances: Floats) -> tuple[float, int, float]:
    varied = variances > 0
    z = sums[varied] / np.sqrt(variances[varied])
    df = max(len(z) - 1, 0)
    squares = float(((z - z.mean()) ** 2).sum()) if df else 0.0
    return squares, df, float(chdtrc(df, squares)) if df else 1.0


def _correlated(y: Floats, signs: Floats, sums: Floats, variances: Floats) -> float | None:
    """The variance of S with the covariances of the blocks; None where their estimates leave nothing above 0."""
    covariance = covariances(np.isfinite(y), signs)
    np.fill_diagonal(covariance, variances)
    total = float(covariance.sum())
    return total if total > 0 else None


def covariances(held: npt.NDArray[np.bool_], signs: Floats) -> Floats:
    """The covariance of every two blocks' S where no trend is, each block lacking any seasons -> (blocks, blocks).

    `held` (blocks, seasons) tells which seasons a block has, `signs` (blocks, seasons, seasons) the sign of its
    change from an earlier season (first) to a later one. Two pairs of seasons, one of each block, covary only if they
    share a season. Where they share both, by t, the mean product of the two signs: there are c(c - 1)/2 such, of the
    c seasons both have. Where they share one, by r times +1 or -1 as it comes first or last in them, r being the mean
    product of the signs away from it. With K the sum of products over common pairs, and A_i and D_i a block's signs
    away from season i, of y and of x, summed:

        cov = K + r*(sum D_gi D_hi - c(c - 1)),   r = (sum A_gi A_hi - 2K)/(c(n_g - 1)(n_h - 1) - c(c - 1))

    With nothing lacking this is (K + 4 sum R_gi R_hi - n(n + 1)^2)/3 of Dietz & Killeen (1981, JASA 76:169-174),
    which Hirsch & Slack (1984) took over. Their midrank for a lacking value supposes that seasons lack at random;
    counties lack them at an end, where the sign of D tells.
    """
    present = held.astype(np.float64)
    common, seasons = present @ present.T, present.sum(axis=1)
    flat = signs.reshape(len(signs), -1)
    products = flat @ flat.T
    away = signs.sum(axis=2) - signs.sum(axis=1)
    seasons_after = np.cumsum(present[:, ::-1], axis=1)[:, ::-1] - present
    apart = present * (seasons_after - (np.cumsum(present, axis=1) - present))
    shared = common * (common - 1)
    triples = common * np.outer(seasons - 1, seasons - 1) - shared
    mean_sign = np.divide(away @ away.T - 2 * products, triples, out=np.zeros_like(triples), where=triples > 0)
    found: Floats = products + mean_sign * (apart @ apart.T - shared)
    return found
