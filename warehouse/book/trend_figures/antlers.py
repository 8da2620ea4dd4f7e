"""What the antlers are like above the cut: their measures, their quantiles, and how large a head is one in a thousand."""

from dataclasses import dataclass
from pathlib import Path

import duckdb
import polars as pl

from warehouse.book import database
from warehouse.book.as_of import reading_as_of
from warehouse.book.named_query import frame, text_of_query
from warehouse.book.trend_figures.counting import FOLDER, Counted, count_entries
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import choose_ground, effort_of, of_place
from warehouse.trends.effort import ChosenEffort
from warehouse.trends.filling import Filling, fill
from warehouse.trends.grouped_quantiles import grouped_quantiles
from warehouse.trends.pareto_tail import ParetoTail, ReturnLevel, fit_tail, return_level, stability
from warehouse.trends.place_series import area_series, summed
from warehouse.trends.quantile_trend import QuantileTrend, quantile_trends

MEASURES = ("score", "beam", "h1", "spread", "points", "age")
ONE_IN = 1_000
STEPS = (0, 2, 5, 10, 15)  # inches above the cut at which the tail is fitted again
QUARTILES = {"lower_quarter": 0.25, "middle": 0.5, "upper_quarter": 0.75}


@dataclass(frozen=True)
class Tail:
    """The entries' excess over the cut as a generalised Pareto distribution (`tail`; None: under 30 entries).

    `above`: entries at or above the cut for each unit of effort, over the complete seasons; `one_in_thousand`: the score
    that one of 1,000 units of effort exceeds, in inches; None where effort is not known or the level lies below the cut.
    `steps`: as of `pareto_tail.stability`, by rising cuts (inches).
    """

    tail: ParetoTail | None
    above: float | None
    one_in_thousand: ReturnLevel | None
    steps: pl.DataFrame


@dataclass(frozen=True)
class Antlers:
    """Composition of the entries of one place at or above the cut.

    `by_season`: district (null: the whole place; '' not known), season, year, measure (of `MEASURES`; antlers in inches, of two
    sides the mean; points of both sides; age in years), entries, lower_quarter, middle, upper_quarter. `by_weapon`, `by_age`:
    weapon_class or age_half_years, measure, entries and quartiles, over all seasons. `scores`: season, year, score_units,
    entries. `quantiles`: of the complete seasons, in inches a year.
    """

    place: str
    counted: Counted
    kept: int
    effort: ChosenEffort
    filling: Filling
    by_season: pl.DataFrame
    by_weapon: pl.DataFrame
    by_age: pl.DataFrame
    scores: pl.DataFrame
    quantiles: tuple[QuantileTrend, ...]
    tail: Tail


def read_antlers(path: Path, settings: TrendSettings, wait: float = database.WAIT_SECONDS) -> Antlers:
    """The composition that `settings` ask for, of the book at `path`. Raises as `trend.read_trend` does."""
    with reading_as_of(path, settings.as_of, wait) as connection:
        counted = count_entries(connection, settings)
        place, areas = choose_ground(counted, settings)
        _choose(connection, counted, settings, areas)
        measures = frame(connection, "measures", folder=FOLDER)
        scores = frame(connection, "scores", folder=FOLDER)
    filling = fill(counted.arrivals, counted.seasons, counted.began, settings.day)
    years = counted.seasons.select("season", "year")
    scores = scores.join(years, on="season", maintain_order="left")
    complete = scores.join(filling.seasons.filter(state="complete"), on="season", how="semi")
    effort = effort_of(counted, areas, settings)
    return Antlers(
        place=place, counted=counted, kept=int(scores["entries"].sum()), effort=effort, filling=filling,
        by_season=_by_season(measures, counted.unit).join(years, on="season", maintain_order="left"),
        by_weapon=_by_weapon(measures.filter(kind="weapon"), counted),
        by_age=_quartiles(measures.filter(kind="age"), ["age_half_years", "measure"], counted.unit),
        scores=scores, quantiles=_quantiles(complete, counted), tail=_tail(complete, counted, areas, effort, filling),
    )  # fmt: skip


def _choose(
    connection: duckdb.DuckDBPyConnection, counted: Counted, settings: TrendSettings, areas: pl.DataFrame
) -> None:
    """Put the entries of the place into the temporary table `chosen`."""
    asked = {**of_place(counted, areas), "cut": counted.cut, "last_season": counted.last_season}
    connection.execute(f"CREATE OR REPLACE TEMP TABLE chosen AS {text_of_query('chosen', FOLDER)}", asked)


def _by_season(measures: pl.DataFrame, unit: int) -> pl.DataFrame:
    """By district, and for all of them together."""
    each = measures.filter(kind="season").select("district", "season", "measure", "twice", "entries")
    together = (
        each.group_by("season", "measure", "twice")
        .agg(pl.col("entries").sum())
        .with_columns(district=pl.lit(None, pl.String))
    )
    return _quartiles(pl.concat([together.select(each.columns), each]), ["district", "measure", "season"], unit)


def _by_weapon(measures: pl.DataFrame, counted: Counted) -> pl.DataFrame:
    of_class = pl.col("weapon").replace_strict(counted.weapon_classes, default=None, return_dtype=pl.String)
    return _quartiles(measures.with_columns(weapon_class=of_class), ["weapon_class", "measure"], counted.unit)


def _quartiles(cells: pl.DataFrame, by: list[str], unit: int) -> pl.DataFrame:
    in_halves = pl.col("measure").is_in(["points", "age"])
    value = pl.col("twice") / pl.when(in_halves).then(2).otherwise(2 * unit)
    return grouped_quantiles(cells.with_columns(value=value), by, QUARTILES)


def _quantiles(complete: pl.DataFrame, counted: Counted) -> tuple[QuantileTrend, ...]:
    inches = complete["score_units"].to_numpy() / counted.unit
    years = complete["year"].cast(pl.Float64).to_numpy()
    return tuple(quantile_trends(years, inches, counts=complete["entries"].to_numpy()))


def _tail(
    complete: pl.DataFrame, counted: Counted, areas: pl.DataFrame, effort: ChosenEffort, filling: Filling
) -> Tail:
    """A score on the grid of units stands for half a unit to either side of it, so that the tail begins half a unit lower."""
    half = 0.5 / counted.unit
    scores, entries = complete["score_units"].to_numpy() / counted.unit, complete["entries"].to_numpy()
    cut = counted.cut / counted.unit
    found = fit_tail(scores - cut + half, entries)
    above = _above(counted, areas, effort, filling)
    level = return_level(found, cut - half, above, ONE_IN) if found and above and above < 1 else None
    return Tail(found, above, level, stability(scores, [cut + step for step in STEPS], grid=2 * half, counts=entries))


def _above(counted: Counted, areas: pl.DataFrame, effort: ChosenEffort, filling: Filling) -> float | None:
    """Entries of the complete seasons per unit of effort. Square miles are no heads: of them there is no one in a thousand."""
    if effort.kind not in ("harvest", "licences"):
        return None
    present = counted.seasons.filter("present").join(filling.seasons.filter(state="complete"), on="season", how="semi")
    grid = area_series(areas, present.select("season", "year"), counted.cells, counted.ground, effort.kind)
    sums = summed(grid, None, effort.kind).drop_nulls("effort")
    entries, units = float(sums["entries"].sum()), float(sums["effort"].sum())
    return entries / units if entries else None
