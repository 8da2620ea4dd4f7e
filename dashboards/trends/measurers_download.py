"""The measurers' figures as files, with what was asked for and what every column means."""

from dashboards.trends.measurers_frames import MeasurersFrames
from dashboards.trends.zip_of_tables import settings_table, zip_of
from warehouse.book.trend_figures.measurers import Measurers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.trends.code_book_measurers import CODE_BOOK_MEASURERS

NAME = "measurers_figures.zip"


def figures_zip(measurers: Measurers, frames: MeasurersFrames, settings: TrendSettings) -> bytes:
    """A ZIP of the files of `CODE_BOOK_MEASURERS` and code_book.csv."""
    tables = {
        "panels.csv": frames.panels, "biases.csv": frames.biases, "against_panel.csv": frames.against_panel,
        "digits.csv": frames.digits,
        "eighths.csv": frames.eighths, "first_inch.csv": frames.first_inch,
        "higher_minimums.csv": frames.higher_minimums,
        "settings.csv": settings_table(_settings(measurers, settings)),
    }  # fmt: skip
    return zip_of(tables, CODE_BOOK_MEASURERS)


def _settings(measurers: Measurers, settings: TrendSettings) -> list[tuple[str, object, str]]:
    return [
        ("book", settings.book, "record book whose minimums are looked at"),
        ("category", settings.category, "category of the entries; panel sessions are of all"),
        ("first_season", settings.first_season, "asked for; empty: the first"),
        ("last_season", settings.last_season, "asked for; empty: the last"),
        ("as_of", settings.as_of, "the book as it was known when this day (UTC) ended; empty: as it is now"),
        ("day", settings.day, "day (UTC) of looking at the book"),
        ("entries", measurers.above.entries, "entries that qualify and have a measurer"),
        ("expected", measurers.above.expected, "share expected in the first inch above a minimum; empty: cannot be told"),
    ]  # fmt: skip
