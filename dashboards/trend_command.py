"""The command `trend`: what the entries of a record book tell of trends, and what they do not."""

import argparse
from dataclasses import replace

from duckdb import DuckDBPyConnection

from dashboards.asked import one_of, today
from dashboards.asked_of_book import area_of, category_of, check_window, weapons_of
from dashboards.printing import print_lines
from dashboards.trend_lines import json_lines
from dashboards.trend_report import report
from loaders.load import book_names
from warehouse.book import database, rankings, standing
from warehouse.book.reading import read_choices
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import read_trend
from warehouse.categories import all_categories
from warehouse.eighths import units_of
from warehouse.errors import NotInBook
from warehouse.plain_text import shown

USUAL = "whitetail-typical"


def run(asked: argparse.Namespace) -> int:
    """Print the trend of one place."""
    category = category_of(asked.category) or _usual(read_choices(asked.book).categories)
    with database.reading(asked.book, asked.wait) as connection:
        settings = _settings(asked, category, connection)
    trend = read_trend(asked.book, settings, asked.wait)
    print_lines(json_lines(trend, settings) if asked.json else report(trend, settings))
    return 0


def _usual(there: tuple[str, ...]) -> str:
    """The category where none is named: white-tailed deer, typical, else the only one of the book."""
    if USUAL in there or not there:
        return USUAL
    if len(there) == 1:
        return there[0]
    raise NotInBook(f"the book holds no {USUAL}; name one of its categories with --category: {', '.join(there)}")


def _settings(asked: argparse.Namespace, category: str, connection: DuckDBPyConnection) -> TrendSettings:
    check_window(asked.first_season, asked.last_season)
    settings = TrendSettings(
        book=str(one_of("--in", asked.record_book, standing.books(connection))),
        category=category,
        today=today(),
        weapons=weapons_of(asked.weapon),
        district=one_of("--district", asked.district, rankings.districts(connection)),
        area=area_of(asked.area, book_names(connection)),
        first_season=asked.first_season,
        last_season=asked.last_season,
        effort=asked.effort,
        cut=_cut(asked.cut, category),
        as_of=asked.as_of,
        spread=asked.spread,
    )
    return settings if asked.second is None else replace(settings, second=asked.second)


def _cut(text: str | None, category: str) -> int | None:
    if text is None:
        return None
    unit = all_categories()[category].unit
    whole = text.strip()
    try:
        return units_of(f"{whole} 0/{unit}" if whole.isdigit() else whole, unit)
    except ValueError as refusal:
        raise NotInBook(f"--cut '{shown(text)}': expected a length like 140 or '140 4/{unit}'") from refusal
