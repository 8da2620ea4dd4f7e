"""Whether the best get better: straight lines through the median, the upper quarter and the upper tenth of entries.

The line of a quantile tau has the least sum of check losses, tau * r above and (1 - tau) * -r below (Koenker & Bassett
1978, Econometrica 46:33-50). Entries tie on their grid, so counts of (year, score) are all it needs: of each season the
running count over the distinct scores, in which the sum's slope at any line is a look-up. The sum is convex: the best
height at a tilt, and then the best tilt, are found by halving, for every quantile and every repeat at once. Time does
not grow with entries, which a fit by row or by linear programme cannot offer to a page.

Entries of a season share its weather and its hunters, so the interval is that of whole seasons drawn anew
(percentiles). Lines may cross; they are shown as they are.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import polars as pl

from warehouse.trends.arrays import Floats
from warehouse.trends.rank_trend import enough

TAUS = (0.5, 0.75, 0.9)
FEWEST_BEYOND = 5  # entries to be expected beyond the quantile (house rule, no source)
SEED = 1934  # of the seasons drawn, so that a page is the same each time
EXACT, ROUGH = 1e-11, 1e-5  # how far tilts are halved, in spans of score over spans of years: the lines, the repeats
REACH, STEEPEST = 1 / 16, 1e6  # in the same: how far from a line its repeats are looked for, at first and at most

Refused = Literal["few-seasons", "few-beyond"]


@dataclass(frozen=True)
class QuantileTrend:
    """The line of quantile `tau`: score = intercept + slope * year, and the slope's interval; nulls where refused.

    `refused`: "few-seasons" (under 8 with entries), or "few-beyond" (fewer than 5 entries expected beyond the
    quantile).
    """

    tau: float
    intercept: float | None
    slope: float | None
    lower: float | None
    upper: float | None
    refused: Refused | None = None


@dataclass(frozen=True)
class _Seasons:
    """`years`: of each season, less their middle. `values`: the distinct scores, in order. `below[s, k]`: entries of
    season s with one of the first k scores. `middle`: the middle of the years.
    """

    years: Floats
    values: Floats
    below: Floats
    middle: float

    @property
    def sizes(self) -> Floats:
        return self.below[:, -1]

    @property
    def reach(self) -> float:
        """Half the span of years."""
        return float(self.years[-1])

    @property
    def steepness(self) -> float:
        """The span of scores over that of years, the unit in which tilts are halved."""
        return float((self.values[-1] - self.values[0]) / self.reach) or 1.0


@dataclass(frozen=True)
class _Lines:
    """Many lines in work, one a quantile and repeat: how often each season is drawn, shape (lines, seasons)."""

    seasons: _Seasons
    taus: Floats
    drawn: Floats

    def slopes(self, heights: Floats, tilts: Floats) -> tuple[Floats, Floats]:
        """The sum's slope by height and by tilt, at lines of these heights (at the middle of the years) and tilts."""
        data = self.seasons
        places = np.searchsorted(data.values, heights[:, None] + tilts[:, None] * data.years)
        lack = self.drawn * (data.below[np.arange(data.years.size), places] - self.taus[:, None] * data.sizes)
        return lack.sum(axis=1), lack @ data.years


@dataclass
class _Search:
    """The best height of each line at its tilt, between `low` (the sum still falls) and `high`; moved from tilt to
    tilt.
    """

    lines: _Lines
    tilts: Floats
    low: Floats
    high: Floats

    def tilt_slopes(self, tilts: Floats, width: float) -> Floats:
        """The slope of the sum by tilt along the best heights. A line tilted by d moves by d * reach at most."""
        moved = np.abs(tilts - self.tilts) * self.lines.seasons.reach + width / 4  # far more than rounding errors
        self.tilts, self.low, self.high = tilts, self.low - moved, self.high + moved
        for _ in range(_halvings(self.high - self.low, width)):
            middle = (self.low + self.high) / 2
            falls = self.lines.slopes(middle, tilts)[0] < 0
            self.low, self.high = np.where(falls, middle, self.low), np.where(falls, self.high, middle)
        (low, low_tilt), (high, high_tilt) = (self.lines.slopes(at, tilts) for at in (self.low, self.high))
        return np.asarray(low_tilt - (high_tilt - low_tilt) * low / (high - low))  # the entries between, in part


def quantile_trends(
    years: Floats, scores: Floats, taus: Sequence[float] = TAUS, repeats: int = 200, *,
    counts: npt.ArrayLike | None = None, level: float = 0.95, seed: int = SEED,
) -> list[QuantileTrend]:  # fmt: skip
    """The line of each quantile in `taus`, in their order.

    `years`, `scores` (one unit): of each entry, or of each cell of a table with `counts` entries. The interval's limits
    are the percentiles of the slopes of `repeats` books, each of as many seasons drawn anew.
    """
    data = _seasons(years, scores, counts)
    entries, few = data.sizes.sum(), not enough(data.years.size)
    refusals: list[Refused | None] = [
        "few-seasons" if few else "few-beyond" if entries * min(tau, 1 - tau) < FEWEST_BEYOND - 1e-9 else None
        for tau in taus
    ]
    fitted = np.array([tau for tau, refused in zip(taus, refusals, strict=True) if not refused])
    found = iter(_fits(data, fitted, repeats, level, seed) if fitted.size else ())
    return [
        QuantileTrend(tau, None, None, None, None, refused) if refused else next(found)
        for tau, refused in zip(taus, refusals, strict=True)
    ]


def _fits(data: _Seasons, taus: Floats, repeats: int, level: float, seed: int) -> list[QuantileTrend]:
    once = _Lines(data, taus, np.ones((taus.size, data.years.size)))
    tilts, heights = _best(once, np.zeros(taus.size), EXACT)
    source = np.random.default_rng(seed)
    drawn = source.multinomial(data.years.size, np.full(data.years.size, 1 / data.years.size), size=repeats)
    again = _Lines(data, np.repeat(taus, repeats), np.tile(drawn.astype(np.float64), (taus.size, 1)))
    slopes = _best(again, np.repeat(tilts, repeats), ROUGH)[0].reshape(taus.size, repeats)
    lower, upper = np.quantile(slopes, [(1 - level) / 2, (1 + level) / 2], axis=1)
    intercepts = heights - tilts * data.middle
    rows = np.column_stack([taus, intercepts, tilts, lower, upper]).tolist()
    return [QuantileTrend(*row) for row in rows]


def _best(lines: _Lines, near: Floats, precision: float) -> tuple[Floats, Floats]:
    """Tilt and height of the least sum: the tilts are bracketed about `near`, then the brackets halved."""
    data = lines.seasons
    width = precision * data.steepness
    spare = 1 + np.abs(near) * data.reach
    search = _Search(lines, near, data.values[0] - spare, data.values[-1] + spare)
    low, high = (_beyond(search, near, way, width * data.reach) for way in (-1, 1))
    for _ in range(_halvings(high - low, width)):
        middle = (low + high) / 2
        falls = search.tilt_slopes(middle, width * data.reach) < 0
        low, high = np.where(falls, middle, low), np.where(falls, high, middle)
    return (low + high) / 2, (search.low + search.high) / 2


def _beyond(search: _Search, near: Floats, way: int, width: float) -> Floats:
    """For each line a tilt below (`way` -1) or above (1) its best."""
    step = REACH * search.lines.seasons.steepness
    most = STEEPEST * search.lines.seasons.steepness
    tilts = near + way * step
    while (short := (search.tilt_slopes(tilts, width) < 0) == (way > 0)).any() and step < most:
        step *= 2
        tilts = np.where(short, tilts + way * step, tilts)
    return np.asarray(tilts)


def _halvings(widths: Floats, width: float) -> int:
    return max(0, int(np.ceil(np.log2(widths.max() / width))))


def _seasons(years: Floats, scores: Floats, counts: npt.ArrayLike | None) -> _Seasons:
    rows = pl.DataFrame({"year": np.asarray(years, np.float64), "score": np.asarray(scores, np.float64)})
    rows = rows.with_columns(entries=pl.lit(1.0) if counts is None else pl.Series(np.asarray(counts, np.float64)))
    cells = rows.group_by("year", "score").agg(pl.col("entries").sum()).filter(pl.col("entries") > 0)
    (distinct, season), (values, score) = (np.unique(cells[name], return_inverse=True) for name in ("year", "score"))
    table = np.zeros((distinct.size, values.size + 1))
    table[season, score + 1] = cells["entries"]
    middle = float((distinct[0] + distinct[-1]) / 2) if distinct.size else 0.0
    return _Seasons(distinct - middle, values, table.cumsum(axis=1), middle)
