"""One pass over the book: every entry that qualifies, counted into frames that no longer grow with the entries."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import duckdb
import polars as pl

from warehouse.book.named_query import Parameter, frame, text_of_query
from warehouse.book.reference.season_labels import year_of
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.categories import all_categories
from warehouse.eighths import text_of
from warehouse.errors import NotInBook
from warehouse.trends.common_minimum import CommonMinimum, common_minimum
from warehouse.trends.filling import CLOCKS, Clock

FOLDER = "trend_figures"
FOUND = "found"  # the weapon of a head that was found dead


@dataclass(frozen=True)
class Counted:
    """What the book holds of one kind of heads, by area and season, at or above a `cut` (units of 1/`unit` inch).

    `seasons`: season, year (Int), ends_on (null: not in the book's table), in order, those with a minimum in force, from
    the first to the last that holds an entry; `present`: whether it holds any. `areas`: area_code, area, district, those that
    the record book covered in any of them. `ground`: area_code, season, covered, harvest, licences, area (null: not known); no
    row where the area was none. `cells`: area_code (null: not known), season, entries, above_second, dropped, median_excess
    (inches). `arrivals`: season, known_on, entries, by clock ("accepted", "measured"). `began`: the day of the book's first
    event. `present`: area code -> the code that its renames and mergers have led to. `rule_changes`: season, what (names
    of the rules of the record book, minimums apart, that are others from then on). `weapons`: those that were asked for, one by one; () for any. `weapon_classes`: weapon -> its
    class. `taken`: the weapons with a minimum in force, of those that were asked for.
    """

    unit: int
    cut: int
    second: int
    minimum: CommonMinimum
    seasons: pl.DataFrame
    areas: pl.DataFrame
    ground: pl.DataFrame
    cells: pl.DataFrame
    arrivals: dict[Clock, pl.DataFrame]
    began: date | None
    present: dict[str, str]
    rule_changes: pl.DataFrame
    weapons: tuple[str, ...]
    weapon_classes: dict[str, str]
    taken: frozenset[str]

    @property
    def is_empty(self) -> bool:
        """Whether no entry is at or above the cut."""
        return bool(self.cells["entries"].sum() == 0)

    @property
    def some_weapons(self) -> bool:
        """Whether only some weapons are counted: an effort is of them all."""
        return bool(self.taken) and not self.taken | {FOUND} >= self.weapon_classes.keys()

    @property
    def with_found(self) -> bool:
        """Whether heads that were found dead are counted."""
        return FOUND in self.taken

    @property
    def last_season(self) -> str:
        """The newest season of the window; '' where there is none. Districts are taken as they are drawn in it."""
        return str(self.seasons["season"][-1]) if self.seasons.height else ""


def count_entries(connection: duckdb.DuckDBPyConnection, settings: TrendSettings) -> Counted:
    """Count what qualifies under `settings`, everywhere: places are chosen later, from the frames.

    Raises NotInBook for a cut below the common minimum, or seasons in which the book ranked by net and by gross.
    """
    unit = all_categories()[settings.category].unit
    make_counted(connection, settings)
    held = _held(connection, settings)
    window: dict[str, Parameter] = {"first_season": _end(held, 0), "last_season": _end(held, -1)}
    of_book: dict[str, Parameter] = {"book": settings.book, **window}
    in_force = _ask(
        connection, "minimums", {**of_book, "category": settings.category, "weapons": list(settings.weapons)}
    )
    minimum = common_minimum(in_force)
    cut = _cut(settings, minimum, unit)
    classes = dict(connection.execute("SELECT weapon, weapon_class FROM weapon").fetchall())
    weapons = one_by_one(settings.weapons, classes)
    cuts: dict[str, Parameter] = {"cut": cut, "weapons": list(weapons)}
    second = cut + settings.second * unit
    ground = _ask(connection, "ground", of_book)
    named = _ask(connection, "areas", {"last_season": window["last_season"]})
    return Counted(
        unit=unit, cut=cut, second=second, minimum=minimum, seasons=held.join(minimum.by_season, on="season", how="semi"),
        areas=named.join(ground.filter("covered"), on="area_code", how="semi", maintain_order="left"), ground=ground,
        cells=_ask(connection, "cells", {**cuts, "second": second, "unit": unit}),
        arrivals={clock: _ask(connection, "arrivals", {**cuts, "clock": clock}) for clock in CLOCKS},
        began=connection.execute("SELECT min(happened_at)::DATE FROM event").fetchall()[0][0],
        present=dict(connection.execute("SELECT area_code, min(present_code) FROM area_present GROUP BY area_code").fetchall()),
        weapons=weapons, weapon_classes=classes, taken=frozenset(in_force.drop_nulls("minimum_units")["weapon"]), rule_changes=_rule_changes(_ask(connection, "rules", {"book": settings.book}), held["season"]),
    )  # fmt: skip


def one_by_one(asked: Sequence[str], classes: Mapping[str, str]) -> tuple[str, ...]:
    """Weapons and classes of weapons as weapons. Of what is neither there is no entry: it stays, for () would mean any."""
    weapons = (weapon for weapon, of in classes.items() if weapon in asked or of in asked)
    return tuple(weapons) or tuple(asked)


def make_counted(connection: duckdb.DuckDBPyConnection, settings: TrendSettings) -> None:
    """Put the entries that qualify into the temporary table `counted`, which the other queries read."""
    text = f"CREATE OR REPLACE TEMP TABLE counted AS {text_of_query('counted', FOLDER)}"
    connection.execute(text, settings.of_book())


def _ask(connection: duckdb.DuckDBPyConnection, name: str, parameters: dict[str, Parameter]) -> pl.DataFrame:
    return frame(connection, name, parameters, folder=FOLDER)


def _cut(settings: TrendSettings, minimum: CommonMinimum, unit: int) -> int:
    if minimum.mixed_scores:
        raise NotInBook(
            f"{settings.book}: ranked by net in some of these seasons and by gross in others, which are not to be "
            "compared; expected a window of seasons with one rule (--from, --to)"
        )
    least = minimum.units or 0
    if settings.cut is not None and settings.cut < least:
        raise NotInBook(
            f"a cut of {text_of(settings.cut, unit)} lies under the highest minimum of these seasons, {text_of(least, unit)}: under "
            "it the rules would show, not the deer; expected that or more, or a shorter window"
        )
    return settings.cut if settings.cut is not None else least


def _held(connection: duckdb.DuckDBPyConnection, settings: TrendSettings) -> pl.DataFrame:
    """Seasons from the first to the last that holds an entry; those in between without one are missing, not zero."""
    asked: dict[str, Parameter] = {"first_season": settings.first_season, "last_season": settings.last_season}
    found = _ask(connection, "seasons", asked)
    held = found.filter(pl.col("entries") > 0)["season"]
    within = (
        found.filter(pl.col("season").is_between(pl.lit(held.min()), pl.lit(held.max())))
        if len(held)
        else found.clear()
    )
    year = pl.col("season").map_elements(year_of, return_dtype=pl.Int64)
    return within.select("season", year.alias("year"), "ends_on", present=pl.col("entries") > 0)


def _end(held: pl.DataFrame, place: int) -> str:
    return str(held["season"][place]) if held.height else ""


def _rule_changes(rules: pl.DataFrame, seasons: pl.Series) -> pl.DataFrame:
    """What differs between one version of the rules and the next, where that comes into force within the seasons."""
    told = []
    for before, after in pairwise(rules.iter_rows(named=True)):
        since = after.pop("first_season")
        what = [name for name, value in after.items() if value != before[name]]
        if what and len(seasons) and seasons[0] < since <= seasons[-1]:
            told.append((since, what))
    return pl.DataFrame(told, schema={"season": pl.String(), "what": pl.List(pl.String())}, orient="row")
