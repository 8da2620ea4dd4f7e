"""The mean of all bucks, as its trend must be if their scores are normal with a spread that is known from elsewhere.

Every entry counts, above its own season's minimum: none is set aside. But entries alone tell mean and spread together
hopelessly badly, so the spread must come from outside the book, and the trend is told for spreads beside it, too
(A'Hearn 2004, Econ. Hum. Biol. 2:5-19, for heights of soldiers under changing requirements).
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from scipy.special import stdtrit

from warehouse.trends.rank_trend import enough
from warehouse.trends.truncated_normal import trend

BESIDE = 1.5  # inches to either side of the spread that is given (house rule, no source)


@dataclass(frozen=True)
class SpreadTrend:
    """Inches a year of the mean, with its 95 per cent limits, if the standard deviation is `sd` inches."""

    sd: float
    slope: float
    lower: float
    upper: float


def spread_trends(entries: pl.DataFrame, sd: float, unit: int, level: float = 0.95) -> tuple[SpreadTrend, ...]:
    """The trend for `sd` inches (above `BESIDE`) and for `BESIDE` less and more; none under eight seasons.

    `entries`: year, minimum_units, score_units (1/`unit` inch), entries (Int). Likelihood of each score between the middles of
    the grid of units to either side, given that it reached its minimum. Limits by Student's t on seasons - 2.
    """
    seasons = entries["year"].n_unique()
    if not enough(seasons):
        return ()
    times = entries["entries"].to_numpy()
    years, minimums, scores = (
        np.repeat(entries[name].to_numpy().astype(np.float64), times)
        for name in ("year", "minimum_units", "score_units")
    )
    told = []
    for spread in (sd - BESIDE, sd, sd + BESIDE):
        found = trend(scores / unit, years, minimums / unit, spread, grid=1 / unit)
        half = float(stdtrit(seasons - 2, (1 + level) / 2)) * found.se
        told.append(SpreadTrend(spread, found.slope, found.slope - half, found.slope + half))
    return tuple(told)
