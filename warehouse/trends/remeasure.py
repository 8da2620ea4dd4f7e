"""Which figures of a measurer are a reason to measure again, by others. None of them accuses anybody.

One rule for all: the chance of a figure so far from what is expected, adjusted for how many measurers are looked at
(Benjamini & Hochberg 1995), is at or under 0.05. Of what is told so, at most one in twenty is expected to be chance
alone; and whatever is no chance may still have an honest cause.
"""

import numpy as np
import polars as pl
from scipy.stats import t

from warehouse.trends.agreement import FEW_HEADS
from warehouse.trends.many_series import adjusted

OPENS = 0.05  # of the adjusted p: the usual level, the one at which many_series tells a trend


def biases_that_open(biases: pl.DataFrame, level: float = 0.95) -> pl.DataFrame:
    """Adds from_middle, p, adjusted and opens to the rows of one line of a panel.

    `biases`: as of `agreement.biases`, with limits at `level`. A bias is against the panel's mean, which one who reads
    high draws up until all others seem to read low; so who stands apart is told from the middle one (`from_middle`: bias
    less the median bias), by a two-sided t test with the bias's own error. Null p where there is no interval; 0 where
    every head is off by the same, and by something. Under ten heads nothing opens: a panel says little then.
    """
    off = biases["bias"].to_numpy() - np.median(biases["bias"].to_numpy()) if biases.height else np.empty(0)
    freedom = np.maximum(biases["heads"].to_numpy() - 1, 1)
    half = (biases["upper"] - biases["bias"]).cast(pl.Float64).to_numpy()
    with np.errstate(divide="ignore", invalid="ignore"):
        p = np.where(off == 0, 1.0, 2 * t.sf(np.abs(off) / half * t.ppf((1 + level) / 2, freedom), freedom))
    known = pl.Series("p", np.where(np.isnan(half), np.nan, p)).fill_nan(None)
    told = biases.with_columns(pl.Series("from_middle", off), known, adjusted(known).alias("adjusted"))
    return _opening(told, pl.when(pl.col("heads") >= FEW_HEADS).then("adjusted"))


def digits_that_open(digits: pl.DataFrame) -> pl.DataFrame:
    """Adds opens to the rows of `digits.digit_preference`, and reads_quarters: too many even eighths for chance."""
    quarters = (pl.col("even_adjusted") <= OPENS) & (pl.col("even_share") > 0.5)
    told = digits.with_columns(reads_quarters=quarters.fill_null(False))
    return told.with_columns(opens=(pl.col("adjusted") <= OPENS).fill_null(False) | pl.col("reads_quarters"))


def bunching_that_opens(rows: pl.DataFrame) -> pl.DataFrame:
    """Adds opens to the rows of `bunching.bunching`: more in the first inch than expected, by more than chance.

    Fewer are no reason: owners do not send in heads that barely qualify.
    """
    return _opening(rows, pl.when(pl.col("sign") == "more").then("adjusted"))


def _opening(frame: pl.DataFrame, p: pl.Expr) -> pl.DataFrame:
    return frame.with_columns(opens=(p <= OPENS).fill_null(False))
