"""The figures of a trend as files, with what was asked for and what every column means."""

import polars as pl

from dashboards.trends.trend_figures_table import figures_table
from dashboards.trends.trend_frames import frames_of
from dashboards.trends.zip_of_tables import settings_table, zip_of
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.eighths import text_of
from warehouse.trends.code_book import CODE_BOOK

NAME = "trend_figures.zip"


def figures_zip(trend: Trend, settings: TrendSettings) -> bytes:
    """A ZIP of the files of `CODE_BOOK` and code_book.csv."""
    return zip_of(tables(trend, settings), CODE_BOOK)


def tables(trend: Trend, settings: TrendSettings) -> dict[str, pl.DataFrame]:
    """File -> its frame, all but the code book."""
    frames = frames_of(trend)
    return {
        "trend.csv": figures_table(trend), "seasons.csv": frames.seasons, "districts.csv": frames.districts, "areas.csv": frames.areas,
        "settings.csv": settings_table(_settings(trend, settings)),
    }  # fmt: skip


def _settings(trend: Trend, settings: TrendSettings) -> list[tuple[str, object, str]]:
    counted = trend.counted
    least = None if counted.minimum.units is None else text_of(counted.minimum.units, counted.unit)
    return [
        ("book", settings.book, "record book in which the entries qualify"),
        ("category", settings.category, "category of the entries"),
        ("weapons", ", ".join(settings.weapons), "weapons or classes of weapons; empty: any"),
        ("place", trend.place, "district or area, or all that the record book covers"),
        ("first_season", settings.first_season, "asked for; empty: the first with an entry"),
        ("last_season", settings.last_season, "asked for; empty: the last with an entry"),
        ("spread", settings.spread, "standard deviation of all bucks, inches, as it was given; empty: none"),
        ("as_of", settings.as_of, "the book as it was known when this day (UTC) ended; empty: as it is now"),
        ("day", settings.day, "day (UTC) of looking at the book, on which completeness is told"),
        ("clock", trend.filling.clock, "what completeness is told by: days of acceptance, or of official measuring"),
        ("unit", counted.unit, "lengths in units are whole parts of 1/so many inch"),
        ("common_minimum", least, "inches: the highest minimum in force in these seasons"),
        ("cut", text_of(counted.cut, counted.unit), "inches: entries at or above it are counted"),
        ("second_cut", text_of(counted.second, counted.unit), "inches: the share is of entries at or above it"),
        ("effort", trend.effort.kind or "none", "what rates are per: harvest (antlered deer), licences (sold), area (square miles); none: counts"),
        ("effort_known", trend.effort.known, "share of the areas and seasons whose effort is known, 0 to 1"),
        ("per", trend.per, "units of effort that rates are per"),
        ("kept", trend.kept, "entries of the place at or above the cut"),
        ("dropped", trend.dropped, "entries of the place below the cut"),
        ("unplaced", trend.unplaced, "entries at or above the cut whose area is not known or not covered"),
        ("verdict", trend.verdict, "what the rate and the share say together"),
    ]  # fmt: skip
