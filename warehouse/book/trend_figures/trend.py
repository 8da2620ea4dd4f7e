"""The trend of one place, with its districts and areas: everything that a page or a command says of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import polars as pl

from warehouse.book import database
from warehouse.book.as_of import reading_as_of
from warehouse.book.named_query import Parameter, frame
from warehouse.book.trend_figures.counting import FOLDER, Counted, count_entries
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.errors import NotInBook
from warehouse.plain_text import shown
from warehouse.trends.counts import RateRatio, rate_ratio
from warehouse.trends.effort import PER, ChosenEffort, Effort, choose_effort
from warehouse.trends.filling import Filling, fill
from warehouse.trends.many_series import Combined
from warehouse.trends.place_series import area_series, summed
from warehouse.trends.places import LEVEL_SEASONS, level_years, levels, place_trends, shares_told, together
from warehouse.trends.rank_trend import RankTrend, enough, hamed_rao, mann_kendall
from warehouse.trends.rate_models import Sensitivity, effort_exponent, trend_sensitivity
from warehouse.trends.rate_trend import fitted_band, rate_trends
from warehouse.trends.regional_kendall import RegionalTrend, regional_kendall
from warehouse.trends.season_table import season_table
from warehouse.trends.spread_trend import SpreadTrend, spread_trends
from warehouse.trends.verdict import Verdict, direction, verdict

SERIAL_SEASONS = 20  # under as many a serial correlation is hardly told (house rule, no source)
EVERYWHERE = "all areas that the book covers"


@dataclass(frozen=True)
class Trend:
    """Trends among the entries of one record book, category and place. Lengths are units of 1/`counted.unit` inch.

    `kept` and `dropped`: entries of the place at or above the cut, and under it; `unplaced`: those at or above it whose area is not
    known or not covered. `effort`, `per`: what rates are per. `seasons`: as of `season_table`, with `median_excess`
    (inches), `fitted`, `fitted_lower`, `fitted_upper` (rates) and `highest` (units: the season's own minimum). `rate`,
    `share`: a row of `rate_trends` and of `share_trends`. `exponent`: of log(effort) where it is left free, with its
    limits. `ends`: the rate of the newest `LEVEL_SEASONS` seasons used over that of the first, as chance in the counts alone
    has it. `ranks`: of the seasons' median excess, `serial` its p with their serial correlation allowed for (from 20
    seasons); `regional`: of its areas'. `spreads`: the mean of all bucks under spreads about the one that is asked for. `districts`, `areas`: as of `place_trends`,
    with names and levels. `combined`: the areas' trends as one. `level_seasons`: those that levels are of.
    """

    place: str
    counted: Counted
    kept: int
    dropped: int
    unplaced: int
    effort: ChosenEffort
    per: int
    filling: Filling
    seasons: pl.DataFrame
    rate: dict[str, Any]
    share: dict[str, Any]
    verdict: Verdict
    sensitivity: Sensitivity | None
    exponent: tuple[float, float, float] | None
    ends: RateRatio | None
    ranks: RankTrend | None
    serial: float | None
    spreads: tuple[SpreadTrend, ...]
    regional: RegionalTrend | None
    districts: pl.DataFrame
    areas: pl.DataFrame
    combined: Combined | None
    level_seasons: tuple[str, ...]


def read_trend(path: Path, settings: TrendSettings, wait: float = database.WAIT_SECONDS) -> Trend:
    """The trend that `settings` ask for, of the book at `path`.

    Raises NotInBook for a place that the record book does not cover, a cut under the common minimum, seasons that are not
    to be compared, or a day before the book began; else as `warehouse.book.database.reading` does.
    """
    with reading_as_of(path, settings.as_of, wait) as connection:
        counted = count_entries(connection, settings)
        place, areas = choose_ground(counted, settings)
        asked = of_place(counted, areas)
        medians = frame(connection, "medians", {**asked, "cut": counted.cut, "unit": counted.unit}, folder=FOLDER)
        entries = frame(connection, "own_minimums", asked, folder=FOLDER) if settings.spread else None
    return _trend(settings, counted, place, areas, medians, entries)


def choose_ground(counted: Counted, settings: TrendSettings) -> tuple[str, pl.DataFrame]:
    """The name of the place that is asked for, and its areas. Raises NotInBook for one that the book does not cover."""
    if settings.area is not None:
        areas = counted.areas.filter(area_code=counted.present.get(settings.area, settings.area))
        name = areas["area"][0] if areas.height else settings.area
    elif settings.district is not None:
        areas, name = counted.areas.filter(district=settings.district), settings.district
    else:
        return EVERYWHERE, counted.areas
    if areas.is_empty():
        raise NotInBook(
            f"{shown(name)}: {shown(settings.book)} covers no such place; expected an area or district that it covers"
        )
    return name, areas


def of_place(counted: Counted, areas: pl.DataFrame) -> dict[str, Parameter]:
    """The parameters of queries about the entries of the place."""
    return {"areas": areas["area_code"].to_list(), "weapons": list(counted.weapons)}


def _trend(
    settings: TrendSettings,
    counted: Counted,
    place: str,
    areas: pl.DataFrame,
    medians: pl.DataFrame,
    entries: pl.DataFrame | None,
) -> Trend:
    effort = effort_of(counted, areas, settings)
    filling = fill(counted.arrivals, counted.seasons, counted.began, settings.day)
    present = counted.seasons.filter("present").select("season", "year")
    grid = area_series(areas, present, counted.cells, counted.ground, effort.kind)
    table = _table(summed(grid, None, effort.kind), counted, filling, medians)
    whole, used = table.filter("whole"), table.filter("used")
    rate = _row(rate_trends(used.select("year", "effort", series=pl.lit(""), count="entries")))
    share = _row(shares_told(whole.select("year", series=pl.lit(""), count="above_second", out_of="all_entries")))
    fitting = grid.join(whole.select("season"), on="season", how="semi")
    districts, by_area, combined = _parts(fitting, settings, effort.kind)
    return Trend(
        **_numbers(counted, areas), place=place, counted=counted, effort=effort, per=PER[effort.kind], filling=filling,
        seasons=_fitted(table, rate), rate=rate, share=share,
        verdict=verdict(direction(rate["lower"], rate["upper"]), direction(share["lower"], share["upper"])),
        sensitivity=_sensitivity(used, rate), exponent=_exponent(used, rate, effort), ends=_ends(used, rate),
        ranks=_ranks(whole), serial=_serial(whole), regional=_regional(fitting),
        spreads=_spreads(entries, whole, settings, counted.unit), districts=districts, areas=by_area, combined=combined,
        level_seasons=_level_seasons(fitting, counted),
    )  # fmt: skip


def _table(sums: pl.DataFrame, counted: Counted, filling: Filling, medians: pl.DataFrame) -> pl.DataFrame:
    """The place season by season, with the median entry and the season's own minimum."""
    table = season_table(sums, counted.seasons.select("season", "year", "present"), filling)
    highest = counted.minimum.by_season.select("season", "highest")
    for beside in (medians, highest):
        table = table.join(beside, on="season", how="left", maintain_order="left")
    return table


def _numbers(counted: Counted, areas: pl.DataFrame) -> dict[str, int]:
    """How many entries lie at or above the cut, under it, and nowhere that the book covers."""
    inside = counted.cells.join(areas, on="area_code", how="semi")
    outside = counted.cells.join(counted.areas, on="area_code", how="anti")
    return {
        "kept": int(inside["entries"].sum()), "dropped": int(inside["dropped"].sum()), "unplaced": int(outside["entries"].sum()),
    }  # fmt: skip


def effort_of(counted: Counted, areas: pl.DataFrame, settings: TrendSettings) -> ChosenEffort:
    """What the rates of a place's areas are per."""
    if settings.effort == "none":
        return ChosenEffort(None, 0.0)
    present = counted.seasons.filter("present")
    covered = counted.ground.filter("covered")
    there = covered.join(areas, on="area_code", how="semi").join(present, on="season", how="semi")
    return choose_effort(there, there.height, settings.effort)


def _row(trends: pl.DataFrame) -> dict[str, Any]:
    """The one row; where no season is used there is none, and that is refused as too few."""
    if trends.height:
        return trends.row(0, named=True)
    return {**dict.fromkeys(trends.columns), "seasons": 0, "entries": 0, "refused": "few-seasons"}


def _fitted(table: pl.DataFrame, rate: dict[str, Any]) -> pl.DataFrame:
    """The fitted rates beside the seasons, also of those that are not used: the line goes on, drawn otherwise."""
    band = fitted_band(rate, table["year"].to_list()).select(
        pl.col("year").cast(pl.Int64), fitted="rate", fitted_lower="lower", fitted_upper="upper"
    )
    return table.join(band, on="year", how="left", maintain_order="left")


def _sensitivity(used: pl.DataFrame, rate: dict[str, Any]) -> Sensitivity | None:
    if rate["refused"]:
        return None
    return trend_sensitivity(*_arrays(used))


def _exponent(used: pl.DataFrame, rate: dict[str, Any], effort: ChosenEffort) -> tuple[float, float, float] | None:
    """None where there is no effort, or it hardly varies from season to season, so that nothing can be told of it."""
    if rate["refused"] or effort.kind is None or used["effort"].n_unique() < 3:
        return None
    return effort_exponent(*_arrays(used))


def _ends(used: pl.DataFrame, rate: dict[str, Any]) -> RateRatio | None:
    """The newest seasons against the first ones; None under twice as many."""
    if rate["refused"] or used.height < 2 * LEVEL_SEASONS:
        return None
    counts = [
        (int(part["entries"].sum()), float(part["effort"].sum()))
        for part in (used.tail(LEVEL_SEASONS), used.head(LEVEL_SEASONS))
    ]
    return rate_ratio(*counts[0], *counts[1])


def _arrays(used: pl.DataFrame) -> Sequence[Any]:
    return [used[name].cast(pl.Float64).to_numpy() for name in ("year", "entries", "effort")]


def _ranks(whole: pl.DataFrame) -> RankTrend | None:
    told = whole.drop_nulls("median_excess")
    return mann_kendall(told["year"].to_numpy(), told["median_excess"].to_numpy()) if enough(told.height) else None


def _serial(whole: pl.DataFrame) -> float | None:
    told = whole.drop_nulls("median_excess")
    return (
        hamed_rao(told["year"].to_numpy(), told["median_excess"].to_numpy())[1]
        if told.height >= SERIAL_SEASONS
        else None
    )


def _spreads(
    entries: pl.DataFrame | None, whole: pl.DataFrame, settings: TrendSettings, unit: int
) -> tuple[SpreadTrend, ...]:
    if entries is None or settings.spread is None:
        return ()
    return spread_trends(entries.join(whole.select("season", "year"), on="season"), settings.spread, unit)


def _regional(fitting: pl.DataFrame) -> RegionalTrend | None:
    told = fitting.drop_nulls("median_excess").select(block="area_code", x="year", y="median_excess")
    if told["block"].n_unique() < 2 or not enough(told["x"].n_unique()):
        return None
    return regional_kendall(told)


def _parts(
    fitting: pl.DataFrame, settings: TrendSettings, kind: Effort | None
) -> tuple[pl.DataFrame, pl.DataFrame, Combined | None]:
    """Districts (of the whole region only), areas, and the areas' trends as one."""
    sums = summed(fitting, "area_code", kind)
    by_area = _with_levels(sums, kind)
    combined, areas = together(sums.drop_nulls("effort"), by_area)
    names = fitting.select("area_code", "area", "district").unique("area_code", maintain_order=True)
    areas = names.join(areas.rename({"series": "area_code"}), on="area_code", how="left", maintain_order="left")
    if settings.area is not None or settings.district is not None:
        return areas.clear(), areas, combined
    districts = _with_levels(summed(fitting, "district", kind), kind).rename({"series": "district"})
    return districts, areas, combined


def _level_seasons(fitting: pl.DataFrame, counted: Counted) -> tuple[str, ...]:
    years = level_years(fitting.filter("counted"))
    return tuple(counted.seasons.filter(pl.col("year").is_in(years))["season"])


def _with_levels(sums: pl.DataFrame, kind: Effort | None) -> pl.DataFrame:
    there = sums.drop_nulls("effort")
    return place_trends(there).join(levels(there, kind), on="series", how="left", maintain_order="left")
