"""How measurers round: whether the eighths that a measurer writes are those that deer have.

A long measure (a beam, a spread, a total) has no reason to end on one eighth rather than another. A short one has: a
circumference that hardly varies keeps to the eighths about its middle (`density_wave`), so that there a measurer is
compared with all others of the same line. A total near a minimum is cut off in the middle of an inch: keep whole inches
above it. What stands out is a reason to measure again, and accuses nobody.
"""

from collections.abc import Collection

import numpy as np
import polars as pl
from scipy.stats import binom, chi2

from warehouse.trends.arrays import Flags, Floats
from warehouse.trends.many_series import adjusted

FEWEST = 80  # measurements, so that ten are expected of each eighth (house rule, no source)
SMALL = 5  # eighths of which fewer are expected are taken together (Cochran 1954, Biometrics 10:417-451)
PREFERENCE = pl.Schema({
    "measurer": pl.String, "line": pl.String, "measurements": pl.Int64, "statistic": pl.Float64, "p": pl.Float64,
    "adjusted": pl.Float64, "move": pl.Float64, "even_share": pl.Float64, "even_p": pl.Float64,
    "even_adjusted": pl.Float64, "refused": pl.String,
})  # fmt: skip


def digit_preference(counts: pl.DataFrame, long_lines: Collection[str]) -> pl.DataFrame:
    """Each measurer's eighths on each line against what they should be -> PREFERENCE, by measurer and line.

    `counts`: measurer, line, eighth (0 to 7), count. Lines in `long_lines` are held to an eighth each, by Pearson's X2;
    the others to those of all other measurers, by X2 of the table of both (`statistic`, `p`). `move`: the share of
    measurements that would have to be another eighth for it to be as it should. `even_share`: of even eighths, with the
    exact binomial p against a half (`even_p`): who reads quarters has too many. Adjusted p are over the whole frame
    (`adjusted`). `refused`, all figures then null: "few-measurements" (under 80), "few-others" (a short line of which
    the others have under 80).
    """
    table = counts.group_by("measurer", "line").agg(
        pl.col("count").filter(pl.col("eighth") == eighth).sum().cast(pl.Float64).alias(f"of_{eighth}")
        for eighth in range(8)
    )
    table = table.sort("measurer", "line").with_columns(pl.col("^of_.*$").sum().over("line").name.prefix("all_"))
    own, every = (table.select(f"^{prefix}of_.*$").to_numpy().reshape(-1, 8) for prefix in ("", "all_"))
    figures = _figures(own, every - own, table["line"].is_in(list(long_lines)).to_numpy())
    return (
        table.select("measurer", "line")
        .hstack(figures)
        .with_columns(adjusted=adjusted(figures["p"]), even_adjusted=adjusted(figures["even_p"]))
        .select(*PREFERENCE)
        .cast(PREFERENCE)
    )


def density_wave(sd: float) -> float:
    """How much the density of the fraction of an inch rises and falls about 1 for lengths with this SD (inches).

    1 + A cos(2 pi (x - middle)), A = 2 exp(-2 pi^2 sd^2): the first term of the wrapped normal's series (Mardia & Jupp
    2000, Directional Statistics, section 3.5.7; from memory). Under an SD of .4 a line is short.
    """
    return float(2 * np.exp(-2 * np.pi**2 * sd**2))


def _figures(own: Floats, others: Floats, is_long: Flags) -> pl.DataFrame:
    """`own`, `others`: measurements by eighth, shape (rows, 8), of a measurer on a line and of all others on it."""
    size, rest = own.sum(axis=1), others.sum(axis=1)
    refused = np.select([size < FEWEST, ~is_long & (rest < FEWEST)], ["few-measurements", "few-others"], "")
    sizes, rests = np.maximum(size, 1)[:, None], np.maximum(rest, 1)[:, None]
    even = own[:, ::2].sum(axis=1)
    reference = np.where(is_long[:, None], 1 / 8, others / rests)
    statistic, p = _chi_squared(own, others, is_long)
    told = pl.DataFrame({
        "statistic": statistic,
        "p": p,
        "move": np.abs(own / sizes - reference).sum(axis=1) / 2,
        "even_share": even / sizes[:, 0],
        "even_p": np.minimum(1, 2 * binom.cdf(np.minimum(even, size - even), size, 0.5)),
    })  # fmt: skip
    why = pl.Series("refused", refused).replace({"": None})
    return told.select(pl.when(why.is_null()).then(pl.all()).fill_nan(None)).with_columns(
        why, pl.Series("measurements", size)
    )  # fmt: skip


def _chi_squared(own: Floats, others: Floats, is_long: Flags) -> tuple[Floats, Floats]:
    """X2 and its p; NaN where all measurements are of one class. Eighths with small expectations are one class."""
    size, rest = own.sum(axis=1)[:, None], others.sum(axis=1)[:, None]
    alone = is_long[:, None]
    shares = np.where(alone, 1 / 8, (own + others) / np.maximum(size + rest, 1))
    small = np.where(alone, size, np.minimum(size, rest)) * shares < SMALL
    off = own - size * shares
    together = np.column_stack([np.where(small, 0, off), np.where(small, off, 0).sum(axis=1)])
    classes = np.column_stack([np.where(small, 0, shares), np.where(small, shares, 0).sum(axis=1)])
    parts = np.divide(together**2, classes, out=np.zeros_like(classes), where=classes > 0)
    weight = 1 / np.maximum(size, 1) + np.where(alone, 0, 1 / np.maximum(rest, 1))
    freedom = (classes > 0).sum(axis=1) - 1
    statistic = np.where(freedom > 0, weight[:, 0] * parts.sum(axis=1), np.nan)
    return statistic, np.asarray(chi2.sf(statistic, np.maximum(freedom, 1)))
