"""The figures of a trend as files, with what was asked for and what every column means."""

import polars as pl

from dashboards.trends.settings_rows import Row, asked_rows, day_rows, length_rows
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


def _settings(trend: Trend, settings: TrendSettings) -> list[Row]:
    counted = trend.counted
    return [
        *asked_rows(settings, trend.place),
        ("spread", settings.spread, "standard deviation of all bucks, inches, as it was given; empty: none"),
        *day_rows(settings),
        ("clock", trend.filling.clock, "what completeness is told by: days of acceptance, or of official measuring"),
        *length_rows(counted),
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
