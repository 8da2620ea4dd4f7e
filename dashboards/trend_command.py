"""The command `trend`: what the entries of a record book tell of trends, and what they do not."""

import argparse
from collections.abc import Iterable
from dataclasses import replace

from duckdb import DuckDBPyConnection

from dashboards.asked import one_of, today
from dashboards.asked_of_book import area_of, category_of, check_window, usual_category, weapons_of
from dashboards.printing import print_lines
from dashboards.trends import antlers_report, trend_lines, trend_report
from loaders.load import book_names
from warehouse.book import database, rankings, standing
from warehouse.book.reading import read_choices
from warehouse.book.trend_figures.antlers import read_antlers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import read_trend
from warehouse.categories import all_categories
from warehouse.eighths import units_of
from warehouse.errors import NotInBook
from warehouse.plain_text import shown


def run(asked: argparse.Namespace) -> int:
    """Print the trend of one place, or what its antlers are like."""
    _check_antlers(asked)
    category = category_of(asked.category) or usual_category(read_choices(asked.book).categories)
    with database.reading(asked.book, asked.wait) as connection:
        settings = _settings(asked, category, connection)
    print_lines((_antlers if asked.antlers else _rates)(asked, settings))
    return 0


def _rates(asked: argparse.Namespace, settings: TrendSettings) -> Iterable[str]:
    trend = read_trend(asked.book, settings, asked.wait)
    return trend_lines.json_lines(trend, settings) if asked.json else trend_report.report(trend, settings)


def _antlers(asked: argparse.Namespace, settings: TrendSettings) -> Iterable[str]:
    antlers = read_antlers(asked.book, settings, asked.wait)
    return antlers_report.json_lines(antlers, settings) if asked.json else antlers_report.report(antlers, settings)


def _check_antlers(asked: argparse.Namespace) -> None:
    """Raise NotInBook where something is asked for that only rates have."""
    of_rates = {"--second": asked.second, "--spread": asked.spread}
    given = [name for name, value in of_rates.items() if value is not None]
    if asked.antlers and given:
        raise NotInBook(f"{given[0]} is of the rates; it does not go with --antlers")


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
