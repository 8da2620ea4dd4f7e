"""What many places say together: their trends as one, how many stand out, and what small areas do not tell."""

import math

import polars as pl

from dashboards.number_words import chance, change_a_year, interval, named, rate
from dashboards.words import counted
from warehouse.book.trend_figures.trend import Trend
from warehouse.plain_text import shown
from warehouse.trends.many_series import Combined
from warehouse.trends.verdict import CLEAR

BY_NAME = (
    "Areas are listed by district and name: an order by rates would be one of chance. A small area’s own rate is mostly chance too; "
    "the smoothed level draws it towards that of all areas, the more the less is known of it."
)


def sentences(trend: Trend) -> list[str]:
    """The areas' trends as one, how many stand out, the levels and their flags. Nothing where there is one area."""
    if trend.areas.height < 2:
        return []
    told = [
        *_together(trend.combined),
        *_standing_out(trend.districts, "district"),
        *_standing_out(trend.areas, "area"),
    ]
    return [*told, *_levels(trend)]


def _together(found: Combined | None) -> list[str]:
    if found is None:
        return ["The areas’ trends are not put together: of fewer than two one can be held against the others."]
    left_out = f", {counted(found.left_out, 'area')} without a trend left out" if found.left_out else ""
    unlike = f"I-squared {found.i2:.0f} %, test of unlike trends: {chance(found.q_p)}"
    if found.unlike:
        return [
            f"The {found.members} areas go different ways ({unlike}{left_out}): no single trend of them is told; each has its own in "
            "the table."
        ]
    middle, lower, upper = (100 * math.expm1(value) for value in (found.slope, found.lower, found.upper))
    return [
        f"The trends of {found.members} areas as one: {change_a_year(middle)} entries a year (95 % interval "
        f"{interval(lower, upper)}; {unlike}{left_out})."
    ]


def _standing_out(places: pl.DataFrame, kind: str) -> list[str]:
    """How many trends remain after their number was allowed for."""
    with_trend = places.drop_nulls("p_adjusted")
    if with_trend.height < 2:
        return []
    found = with_trend.filter(pl.col("p_adjusted") <= CLEAR)[kind]
    names = f": {named([shown(name) for name in found])}" if len(found) else ""
    stand = "stands" if len(found) == 1 else "stand"
    return [
        f"Of {counted(with_trend.height, kind)}, {len(found) or 'none'} {stand} out after allowing for their number{names}."
    ]


def _levels(trend: Trend) -> list[str]:
    newest = trend.level_seasons
    if not newest:
        return []
    span = newest[0] if len(newest) == 1 else f"{newest[0]} to {newest[-1]}"
    if trend.effort.kind is None:
        return [
            f"Levels are entries a season, {span}. Without an effort areas are not told apart: a large one holds more heads than a "
            "small one, so there is no smoothing and no funnel."
        ]
    return [f"Levels are of {span}. {BY_NAME}{_otherwise(trend)}", *_flags(trend.areas)]


def _otherwise(trend: Trend) -> str:
    """By how much the two ways of smoothing differ at most."""
    apart = trend.areas.select((pl.col("smoothed") - pl.col("smoothed_gamma")).abs().max() * trend.per).item()
    return (
        ""
        if apart is None
        else f" Smoothed in a second way (gamma and Poisson), no level is further off than {rate(apart)}."
    )


def _flags(areas: pl.DataFrame) -> list[str]:
    outside = {way: [shown(name) for name in areas.filter(flag=way)["area"]] for way in ("above", "below")}
    parts = [f"{way} {named(names)}" for way, names in outside.items() if names]
    if not parts:
        return [f"No area lies outside the 99.8 % limits of the funnel.{_widened(areas)}"]
    return [
        f"Outside the 99.8 % limits of the funnel: {'; '.join(parts)}. That asks for a look; it is no rank.{_widened(areas)}"
    ]


def _widened(areas: pl.DataFrame) -> str:
    phi = max(areas["funnel_phi"].drop_nulls(), default=0.0)
    return f" The limits are widened, for areas differ more than chance makes them (phi {phi:.1f})." if phi > 1 else ""
