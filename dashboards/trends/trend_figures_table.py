"""The figures that a trend comes to, one a row, for who works on with them."""

import math

import polars as pl

from warehouse.book.trend_figures.trend import Trend

Row = tuple[str, str, float | None, float | None, float | None, float | None]
COLUMNS = {
    "figure": pl.String,
    "unit": pl.String,
    "estimate": pl.Float64,
    "lower": pl.Float64,
    "upper": pl.Float64,
    "p": pl.Float64,
}
PER_CENT, INCHES = "per cent a year", "inches a year"


def figures_table(trend: Trend) -> pl.DataFrame:
    """figure, unit, estimate, lower, upper (95 %), p; null where there is none. What has no trend has no row."""
    rows = [*_rates(trend), *_medians(trend), *_areas(trend)]
    finite = [tuple(_finite(cell) for cell in row) for row in rows]
    return pl.DataFrame(finite, schema=COLUMNS, orient="row")


def _finite(cell: str | float | None) -> str | float | None:
    return None if isinstance(cell, float) and not math.isfinite(cell) else cell


def _rates(trend: Trend) -> list[Row]:
    rows: list[Row] = []
    for name, fit in (("rate", trend.rate), ("odds of the share", trend.share)):
        if not fit["refused"]:
            rows.append((name, PER_CENT, fit["percent"], fit["percent_lower"], fit["percent_upper"], fit["p"]))
            rows.append((f"scatter of the {name} (phi)", "ratio", fit["phi"], None, None, None))
    if trend.sensitivity:
        other = trend.sensitivity
        rows.append(("rate, negative binomial", PER_CENT, other.percent, other.lower, other.upper, None))
    if trend.exponent:
        rows.append(("power of the effort", "number", *trend.exponent, None))
    if trend.ends:
        ends = trend.ends
        rows.append(("rate of the newest seasons over the first", "ratio", ends.ratio, ends.lower, ends.upper, ends.p))
    return rows


def _medians(trend: Trend) -> list[Row]:
    rows: list[Row] = []
    if trend.ranks:
        rows.append(("median entry", INCHES, trend.ranks.slope, trend.ranks.lower, trend.ranks.upper, trend.ranks.p))
    if trend.serial is not None:
        rows.append(("median entry, seasons alike", INCHES, None, None, None, trend.serial))
    if trend.regional:
        found = trend.regional
        p = found.p if found.p_correlated is None else found.p_correlated
        rows.append(("median entry, area by area", INCHES, found.slope, found.lower, found.upper, p))
    rows += [
        (f"mean of all bucks, spread {told.sd:g}", INCHES, told.slope, told.lower, told.upper, None)
        for told in trend.spreads
    ]
    return rows


def _areas(trend: Trend) -> list[Row]:
    found = trend.combined
    if found is None:
        return []
    middle, lower, upper = (100 * math.expm1(slope) for slope in (found.slope, found.lower, found.upper))
    return [
        ("rate, areas as one", PER_CENT, middle, lower, upper, found.p),
        ("unlike areas (I-squared)", "per cent", found.i2, None, None, found.q_p),
    ]
