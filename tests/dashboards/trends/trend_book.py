"""A book whose trends are worked out by hand: ten seasons, two areas, 500 antlered deer harvested in each and season.

2014-15 to 2023-24, numbered 0 to 9. Season y has 2 + y // 2 heads, each y inches above 130 0/8; the first of a season is of
Abberlow (North), the others are of Brackwater (South). So a rate per 1,000 harvested is the count. The minimum is 125 0/8 up to 2018-19,
130 0/8 since; one more head of 2014-15 lies between the two, and one of 2023-24 is of no known area.
"""

import atexit
import shutil
from datetime import date, datetime
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

import duckdb
import polars as pl

from tests.record_books import AREAS, BOOK, MINIMUM, head, insert
from warehouse.book.database import create, writing
from warehouse.book.reference.season_labels import label_of
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend, read_trend

FIRST, SEASONS = 2014, 10
CUT, INCH = 1040, 8
TODAY = date(2026, 11, 25)


def trend_book(path: Path) -> Path:
    """Make the book at `path`."""
    create(path)
    with writing(path) as connection:
        _references(connection)
        number = 0
        for year in range(SEASONS):
            for nth in range(2 + year // 2):
                number += 1
                _head(connection, number, year, CUT + INCH * year, AREAS[0 if nth == 0 else 1][0])
        _head(connection, number + 1, 0, CUT - INCH, AREAS[0][0])
        _head(connection, number + 2, 9, CUT + 20 * INCH, None)
    return path


@cache
def book_of_tests() -> Path:
    """The book, made once."""
    folder = Path(mkdtemp(prefix="trend-book-"))
    atexit.register(shutil.rmtree, folder)
    return trend_book(folder / "trends.duckdb")


def settings(**more: Any) -> TrendSettings:
    """What is asked of the book: all of it, but for `more`."""
    return TrendSettings("State Book", "whitetail-typical", TODAY, **more)


def trend_of(**more: Any) -> Trend:
    """The trend of the book under `settings`."""
    return _read(settings(**more))


@cache
def _read(asked: TrendSettings) -> Trend:
    return read_trend(book_of_tests(), asked)


def with_season(trend: Trend, season: str, **changes: Any) -> pl.DataFrame:
    """The seasons of `trend`, one of them with other values, as if the book were in another state."""
    here = pl.col("season") == season
    frame = trend.seasons
    return frame.with_columns(
        pl.when(here).then(pl.lit(value, dtype=frame.schema[name])).otherwise(pl.col(name)).alias(name)
        for name, value in changes.items()
    )


def _references(connection: duckdb.DuckDBPyConnection) -> None:
    insert(connection, "record_book", BOOK)
    for units, first, last in ((1000, "2014-15", "2018-19"), (1040, "2019-20", None)):
        insert(connection, "minimum", MINIMUM | {"minimum_units": units, "first_season": first, "last_season": last})
    for code, name, district in AREAS[:2]:
        connection.execute("INSERT INTO area VALUES (?, ?, 'county', 'ZZ', ?, 'High')", [code, name, district])
    for year in range(FIRST, FIRST + SEASONS):
        season = {"season": label_of(year), "starts_on": f"{year}-07-01", "ends_on": f"{year + 1}-06-30"}
        insert(connection, "season", season)
        for code, _, _ in AREAS[:2]:
            effort = {"area_code": code, "season": label_of(year), "square_miles": 100, "antlered_harvest": 500}
            insert(connection, "effort", effort)


def _head(connection: duckdb.DuckDBPyConnection, number: int, year: int, net: int, area: str | None) -> None:
    start = FIRST + year
    head(
        connection, number, area_code=area, season=label_of(start), taken_on=f"{start}-11-08", measured_on=f"{start + 1}-01-20", net=net, gross=net + 46,
        made_at=datetime(start + 1, 2, 1),
    )  # fmt: skip
