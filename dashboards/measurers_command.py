"""The command `measurers`: how alike measurers measure, and what is a reason to measure again, by others."""

import argparse

from duckdb import DuckDBPyConnection

from dashboards.asked import one_of, today
from dashboards.asked_of_book import category_of, check_window, usual_category
from dashboards.printing import print_lines
from dashboards.trends.measurers_report import json_lines, report
from warehouse.book import database, standing
from warehouse.book.reading import read_choices
from warehouse.book.trend_figures.measurers import read_measurers
from warehouse.book.trend_figures.settings import TrendSettings


def run(asked: argparse.Namespace) -> int:
    """Print what the book tells of its measurers."""
    category = category_of(asked.category) or usual_category(read_choices(asked.book).categories)
    with database.reading(asked.book, asked.wait) as connection:
        settings = _settings(asked, category, connection)
    measurers = read_measurers(asked.book, settings, asked.wait)
    print_lines(json_lines(measurers, settings) if asked.json else report(measurers, settings))
    return 0


def _settings(asked: argparse.Namespace, category: str, connection: DuckDBPyConnection) -> TrendSettings:
    check_window(asked.first_season, asked.last_season)
    return TrendSettings(
        book=str(one_of("--in", asked.record_book, standing.books(connection))), category=category, today=today(),
        first_season=asked.first_season, last_season=asked.last_season, as_of=asked.as_of,
    )  # fmt: skip
