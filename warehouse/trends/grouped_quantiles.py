"""Quantiles of values that come counted: a million entries on a grid of eighths are a few hundred distinct values."""

from collections.abc import Mapping, Sequence

import polars as pl


def grouped_quantiles(cells: pl.DataFrame, by: Sequence[str], quantiles: Mapping[str, float]) -> pl.DataFrame:
    """The quantiles of every group -> the columns `by`, entries (Int64), and one Float64 column a name of `quantiles`.

    `cells`: `by`, value (number), entries (Int, above 0): how many have that value; a value may stand in several rows.
    Between two entries a quantile is interpolated: type 7 of Hyndman & Fan 1996, Am. Stat. 50:361-365. Groups in the
    order of `by`, nulls first.
    """
    # in the order of values, which each group keeps: to sort by the groups' names as well would cost more than all the rest
    counted = cells.select(*by, pl.col("value").cast(pl.Float64), pl.col("entries").cast(pl.Int64)).sort("value")
    whole = pl.col("entries").sum()
    found = counted.group_by(by).agg(whole, *(_quantile(whole, tau).alias(name) for name, tau in quantiles.items()))
    return found.sort(by)


def _quantile(whole: pl.Expr, tau: float) -> pl.Expr:
    place = (whole - 1) * tau
    below = place.floor()
    lower, upper = (
        pl.col("value").filter(pl.col("entries").cum_sum() > rank).first() for rank in (below, place.ceil())
    )
    return lower + (upper - lower) * (place - below)
