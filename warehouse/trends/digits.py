"""How measurers round: whether the eighths that a measurer writes are those that deer have.

A long measure (a beam, a point, a spread) has no reason to end on one eighth rather than another. A short one has: a
circumference that hardly varies keeps to the eighths about its middle (`density_wave`), so that there a measurer is
compared with the middle one of all others on the same line: were all their measurements thrown together, one busy measurer
who rounds would make every careful one look odd. What stands out is a reason to measure again, and accuses nobody.
"""

from collections.abc import Collection

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.stats import binom, chi2

from warehouse.trends.arrays import Flags, Floats
from warehouse.trends.many_series import adjusted

LONG_LINES = frozenset({"beams", "points", "spreads"})  # of the kinds of lines of a sheet; circumferences are short
FEWEST = 80  # measurements, so that ten are expected of each eighth (house rule, no source)
OTHERS = 3  # measurers with as many, for a middle one to be told (house rule, no source)
MEDIAN = 2 / np.pi  # how much a median is worth of as many values in a mean (asymptotic, normal)
SMALL = 5  # eighths of which fewer are expected are taken together (Cochran 1954, Biometrics 10:417-451)
PREFERENCE = pl.Schema({
    "measurer": pl.String, "line": pl.String, "measurements": pl.Int64, "statistic": pl.Float64, "p": pl.Float64,
    "adjusted": pl.Float64, "move": pl.Float64, "even_share": pl.Float64, "even_p": pl.Float64,
    "even_adjusted": pl.Float64, "refused": pl.String,
})  # fmt: skip
EIGHTHS = pl.Schema({
    "measurer": pl.String, "line": pl.String, "eighth": pl.Int64, "count": pl.Int64, "share": pl.Float64, "expected": pl.Float64,
})  # fmt: skip


def digit_preference(counts: pl.DataFrame, long_lines: Collection[str]) -> pl.DataFrame:
    """Each measurer's eighths on each line against what they should be -> PREFERENCE, by measurer and line.

    `counts`: measurer, line, eighth (0 to 7), count. Lines in `long_lines` are held to an eighth each, by Pearson's X2;
    the others to the middle one of the other measurers (each eighth's median share), by X2 of the table of both
    (`statistic`, `p`). `move`: the share of
    measurements that would have to be another eighth for it to be as it should. `even_share`: of even eighths, with the
    exact binomial p against a half (`even_p`): who reads quarters has too many. Adjusted p (`adjusted`, `even_adjusted`) are
    over both of the whole frame together. `refused`, all figures then null: "few-measurements" (under 80), "few-others" (a
    short line of which fewer than three others have 80).
    """
    names, own, others, is_long = _compared(counts, long_lines)
    figures = _figures(own, others, is_long)
    both = adjusted(pl.concat([figures["p"], figures["even_p"]]))
    return (
        names.hstack(figures)
        .with_columns(adjusted=both.head(names.height), even_adjusted=both.tail(names.height))
        .select(*PREFERENCE)
        .cast(PREFERENCE)
    )


def eighths(counts: pl.DataFrame, long_lines: Collection[str]) -> pl.DataFrame:
    """What `digit_preference` looks at -> EIGHTHS, eight rows a measurer and line: how many measures end so, their `share` of
    the measurer's own, and the `expected` share (null where the others are too few).
    """
    names, own, others, is_long = _compared(counts, long_lines)
    with np.errstate(invalid="ignore"):
        expected = np.where(is_long[:, None], 1 / 8, others / others.sum(axis=1, keepdims=True))
    rows = names.join(pl.DataFrame({"eighth": range(8)}), how="cross", maintain_order="left_right")
    told = {"count": own.ravel(), "share": (own / own.sum(axis=1, keepdims=True)).ravel(), "expected": expected.ravel()}
    return rows.with_columns(pl.Series(name, values).fill_nan(None) for name, values in told.items()).cast(EIGHTHS)


def _compared(counts: pl.DataFrame, long_lines: Collection[str]) -> tuple[pl.DataFrame, Floats, Floats, Flags]:
    """Measurer and line, by name; their measurements by eighth and the middle one of the others', shape (rows, 8); which are long."""
    table = _table(counts)
    own = table.select("^of_.*$").to_numpy().reshape(-1, 8)
    others = _middle_of_others(own, table["line"].to_numpy())
    return table.select("measurer", "line"), own, others, table["line"].is_in(list(long_lines)).to_numpy()


def _table(counts: pl.DataFrame) -> pl.DataFrame:
    """A row a measurer and line, with the count of each eighth; an eighth that does not occur has 0."""
    of_each = (
        pl.col("count").filter(pl.col("eighth") == eighth).sum().cast(pl.Float64).alias(f"of_{eighth}")
        for eighth in range(8)
    )
    return counts.group_by("measurer", "line").agg(of_each).sort("measurer", "line")


def density_wave(sd: float) -> float:
    """How much the density of the fraction of an inch rises and falls about 1 for lengths with this SD (inches).

    1 + A cos(2 pi (x - middle)), A = 2 exp(-2 pi^2 sd^2): the first term of the wrapped normal's series (Mardia & Jupp
    2000, Directional Statistics, section 3.5.7; from memory). Under an SD of .4 a line is short.
    """
    return float(2 * np.exp(-2 * np.pi**2 * sd**2))


def _middle_of_others(own: Floats, line: npt.NDArray[np.object_]) -> Floats:
    """Of each row the measurements, by eighth, that the middle one of the others on its line stands for; 0 for too few."""
    size = own.sum(axis=1)
    enough = size >= FEWEST
    shares = own / np.maximum(size, 1)[:, None]
    found = np.zeros_like(own)
    for row in range(len(own)):
        others = enough & (line == line[row])
        others[row] = False
        if others.sum() >= OTHERS:
            middle = np.median(shares[others], axis=0)
            found[row] = middle / max(middle.sum(), 1e-12) * size[others].sum() * MEDIAN
    return found


def _figures(own: Floats, others: Floats, is_long: Flags) -> pl.DataFrame:
    """`own`, `others`: measurements by eighth, shape (rows, 8), of a measurer on a line and of the middle one of the others."""
    size, rest = own.sum(axis=1), others.sum(axis=1)
    refused = np.select([size < FEWEST, ~is_long & (rest == 0)], ["few-measurements", "few-others"], "")
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
