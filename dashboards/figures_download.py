"""The figures of a trend as one ZIP of CSV files, with what was asked for and what every column means.

The same figures give the same bytes: times are fixed, and nothing is compressed, for compressors differ.
"""

import io
import zipfile

import polars as pl

from dashboards.publications.printed_text import plain
from dashboards.tables import csv_for_spreadsheets
from dashboards.trend_frames import frames_of
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.eighths import text_of
from warehouse.trends.code_book import CODE_BOOK

NAME = "trend_figures.zip"
_BEGINNING = (1980, 1, 1, 0, 0, 0)  # the earliest time that a ZIP can tell


def figures_zip(trend: Trend, settings: TrendSettings) -> bytes:
    """seasons.csv, districts.csv, areas.csv, settings.csv and code_book.csv."""
    files = {**tables(trend, settings), "code_book.csv": code_book()}
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_STORED) as archive:
        for name, frame in files.items():
            entry = zipfile.ZipInfo(name, _BEGINNING)
            entry.create_system, entry.external_attr = 3, 0o644 << 16  # the same on every system
            archive.writestr(entry, csv_for_spreadsheets(plain(frame)).replace("\n", "\r\n").encode())
    return whole.getvalue()


def tables(trend: Trend, settings: TrendSettings) -> dict[str, pl.DataFrame]:
    """File -> its frame, all but the code book."""
    frames = frames_of(trend)
    return {
        "seasons.csv": frames.seasons, "districts.csv": frames.districts, "areas.csv": frames.areas,
        "settings.csv": _settings(trend, settings),
    }  # fmt: skip


def code_book() -> pl.DataFrame:
    """Every column of every file: file, column, unit, meaning."""
    rows = [
        (file, name, column.unit, column.meaning)
        for file, columns in CODE_BOOK.items()
        for name, column in columns.items()
    ]
    return pl.DataFrame(rows, schema=["file", "column", "unit", "meaning"], orient="row")


def _settings(trend: Trend, settings: TrendSettings) -> pl.DataFrame:
    counted = trend.counted
    least = None if counted.minimum.units is None else text_of(counted.minimum.units, counted.unit)
    rows: list[tuple[str, object, str]] = [
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
    told = [(name, "" if value is None else str(value), meaning) for name, value, meaning in rows]
    return pl.DataFrame(told, schema=["setting", "value", "meaning"], orient="row")
