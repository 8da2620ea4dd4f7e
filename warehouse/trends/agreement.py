"""Whether measurers agree: panels in which each scores the same heads, blind, on a sheet of his own.

Values in any one unit (eighths), which biases and errors come out in. What is told of a measurer is his bias, and the
technical error; the intraclass correlations depend on how different the heads are, and so fall in a book of large heads
although nobody measures worse.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.stats import f, t

from warehouse.trends.arrays import Floats

FEW_HEADS = 10  # below, a panel says little (house rule, no source)
BIASES = pl.Schema(
    {"measurer": pl.String, "heads": pl.Int64, "bias": pl.Float64, "lower": pl.Float64, "upper": pl.Float64}
)


@dataclass(frozen=True)
class TwoWay:
    """Two-way analysis of heads and measurers, both random, one value each (Shrout & Fleiss 1979, Psychol. Bull.
    86:420-428).

    `heads`: measured by all; `left_out`: heads that some measurer did not measure; `few_heads`: under 10. Mean squares
    `ms_*`; `f_*`, `p_*` of heads and of measurers against the residual. `icc_*`: of one value and of the mean of k, (1)
    each head by other measurers, (2) absolute agreement, (3) consistency, blind to bias; `lower`, `upper`: of
    `icc_2_1`. `technical_error`: root of the residual mean square; `within_error`: of that within heads, bias included.
    F is infinite where nothing is left over, NaN where nothing differs at all.
    """

    heads: int
    measurers: int
    left_out: int
    few_heads: bool
    ms_heads: float
    ms_measurers: float
    ms_residual: float
    ms_within: float
    f_heads: float
    p_heads: float
    f_measurers: float
    p_measurers: float
    icc_1_1: float
    icc_1_k: float
    icc_2_1: float
    icc_2_k: float
    icc_3_1: float
    icc_3_k: float
    lower: float
    upper: float
    technical_error: float
    within_error: float


@dataclass(frozen=True)
class BlandAltman:
    """Differences first less second: their mean with its t interval, SD, the limits of agreement, and the technical
    error.

    `technical_error`: sqrt(sum d^2 / 2n). NaN for an SD of one pair.
    """

    pairs: int
    bias: float
    bias_lower: float
    bias_upper: float
    sd: float
    lower: float
    upper: float
    technical_error: float


def two_way(frame: pl.DataFrame, level: float = 0.95) -> TwoWay | None:
    """The analysis of a panel; None where not at least two heads were measured by at least two measurers.

    `frame`: head, measurer, value (number), each head and measurer at most once (ValueError else). Only heads measured
    by all measurers count. The interval of ICC(2,1) is that of McGraw & Wong 1996, Psychol. Methods 1:30-46.
    """
    table, left_out = _table(frame)
    heads, measurers = table.shape
    if heads < 2 or measurers < 2:
        return None
    return _analysed(table, left_out, level)


def biases(frame: pl.DataFrame, level: float = 0.95) -> pl.DataFrame:
    """Each measurer's mean deviation from the heads' means, with its t interval over heads.

    `frame`: head, measurer, value; a head that one measurer alone measured is set aside. Out (BIASES), by measurer; the
    interval is null for one head. In an incomplete table a head's mean rests on those who measured it.
    """
    size, sd = pl.len().cast(pl.Int64), pl.col("off").std()
    whose = frame.select(pl.col("measurer").cast(pl.String), "head", pl.col("value").cast(pl.Float64)).filter(
        pl.col("measurer").n_unique().over("head") > 1
    )
    found = (
        whose.with_columns(off=pl.col("value") - pl.col("value").mean().over("head"))
        .group_by("measurer")
        .agg(heads=size, bias=pl.col("off").mean(), error=sd / size.sqrt())
        .sort("measurer")
    )
    width = pl.Series(t.ppf((1 + level) / 2, np.maximum(found["heads"].to_numpy() - 1, 1))) * found["error"]
    return found.with_columns(lower=pl.col("bias") - width, upper=pl.col("bias") + width).select(*BIASES).cast(BIASES)


def bland_altman(
    first: npt.ArrayLike, second: npt.ArrayLike, level: float = 0.95, deviations: float = 1.96
) -> BlandAltman:
    """Limits of agreement, bias +- `deviations` SD (1.96, or 2 as first published), of paired values; at least one
    pair.

    Source: Bland & Altman 1986, Lancet i:307-310.
    """
    off = np.asarray(first, dtype=np.float64) - np.asarray(second, dtype=np.float64)
    bias, sd = float(off.mean()), float(off.std(ddof=1)) if off.size > 1 else float("nan")
    width = float(t.ppf((1 + level) / 2, off.size - 1)) * sd / np.sqrt(off.size)
    error = float(np.sqrt((off**2).mean() / 2))
    return BlandAltman(
        off.size, bias, bias - width, bias + width, sd, bias - deviations * sd, bias + deviations * sd, error
    )  # fmt: skip


def _table(frame: pl.DataFrame) -> tuple[Floats, int]:
    """Values of the heads that all measured, shape (heads, measurers), and how many heads are left out."""
    if frame.select(pl.struct("head", "measurer").is_duplicated().any()).item():
        raise ValueError("a head was measured twice by one measurer of the panel")
    measurers, heads = frame["measurer"].n_unique(), frame["head"].n_unique()
    whole = frame.filter(pl.len().over("head") == measurers).sort("head", "measurer")
    values = whole["value"].cast(pl.Float64).to_numpy().reshape(-1, max(measurers, 1))
    return values, heads - len(values)


def _analysed(table: Floats, left_out: int, level: float) -> TwoWay:
    heads, measurers = table.shape
    rows, columns = heads - 1, measurers - 1
    by_head, by_measurer = table.mean(axis=1), table.mean(axis=0)
    rest = table - by_head[:, None] - by_measurer + table.mean()
    of_heads, of_measurers = measurers * by_head.var(ddof=1), heads * by_measurer.var(ddof=1)
    residual = np.float64((rest**2).sum() / (rows * columns))
    within = (residual * columns * rows + of_measurers * columns) / (heads * columns)
    with np.errstate(divide="ignore", invalid="ignore"):
        f_heads, f_measurers = of_heads / residual, of_measurers / residual
        correlations = _correlations(of_heads, of_measurers, residual, within, table.shape)
        limits = _limits(of_heads, of_measurers, residual, table.shape, level)
    figures = (
        of_heads, of_measurers, residual, within, f_heads, f.sf(f_heads, rows, rows * columns),
        f_measurers, f.sf(f_measurers, columns, rows * columns), *correlations, *limits,
        np.sqrt(residual), np.sqrt(within),
    )  # fmt: skip
    return TwoWay(heads, measurers, left_out, heads < FEW_HEADS, *(float(figure) for figure in figures))


def _correlations(
    heads: np.float64, measurers: np.float64, residual: np.float64, within: np.float64, shape: tuple[int, ...]
) -> tuple[np.float64, ...]:
    """ICC (1,1), (1,k), (2,1), (2,k), (3,1), (3,k) of mean squares."""
    n, k = shape
    bias = (measurers - residual) / n
    return (
        (heads - within) / (heads + (k - 1) * within),
        (heads - within) / heads,
        (heads - residual) / (heads + (k - 1) * residual + k * bias),
        (heads - residual) / (heads + bias),
        (heads - residual) / (heads + (k - 1) * residual),
        (heads - residual) / heads,
    )


def _limits(
    heads: np.float64, measurers: np.float64, residual: np.float64, shape: tuple[int, ...], level: float
) -> tuple[np.float64, np.float64]:
    """The interval of ICC(2,1), whose degrees of freedom are Satterthwaite's."""
    n, k = shape
    single = _correlations(heads, measurers, residual, residual, shape)[2]
    part, whole = k * single * measurers / residual, n * (1 + (k - 1) * single) - k * single
    freedom = (k - 1) * (n - 1) * (part + whole) ** 2 / ((n - 1) * part**2 + whole**2)
    above, below = f.ppf((1 + level) / 2, n - 1, freedom), f.ppf((1 + level) / 2, freedom, n - 1)
    others = k * measurers + (k * n - k - n) * residual
    return (
        n * (heads - above * residual) / (above * others + n * heads),
        n * (below * heads - residual) / (others + n * below * heads),
    )
