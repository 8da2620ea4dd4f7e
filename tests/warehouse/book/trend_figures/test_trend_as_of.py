"""What the book said of its newest season on an earlier day, and says of it now."""

from datetime import date, datetime
from pathlib import Path

import pytest

from tests.record_books import AREAS, BOOK, MINIMUM, insert
from warehouse.book import database, events
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend, read_trend

# Of every season 60 heads are received before it ends, 30 within three months and 10 after eleven months.
HEADS = """
INSERT INTO entry SELECT i, 'E' || i FROM range(1, 1201) r(i);
INSERT INTO entry_revision BY NAME
SELECT i AS revision_id, i AS entry_id, 1 AS revision_no, i AS row_id, 'x' AS author, 'first received' AS reason, 'accepted' AS status,
    'whitetail-typical' AS category, 8 AS unit, '07001' AS area_code, year::VARCHAR || '-' || printf('%02d', (year + 1) % 100) AS season, 'rifle' AS weapon,
    make_date(year, 11, 8) AS taken_on, make_date(year + 1, 1, 20) AS measured_on, 'M-12' AS measurer, 46 AS deductions, 1183 AS gross, 1137 AS net,
    make_date(year + 1, 6, 30) + CASE WHEN i % 100 < 60 THEN -40 WHEN i % 100 < 90 THEN 80 ELSE 330 END + INTERVAL 10 HOUR AS made_at
FROM (SELECT i, 2014 + (i - 1) // 100 AS year FROM range(1, 1201) r(i));
INSERT INTO season SELECT y::VARCHAR || '-' || printf('%02d', (y + 1) % 100), make_date(y, 7, 1), make_date(y + 1, 6, 30) FROM range(2014, 2026) r(y);
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book that was begun in 2014 and has watched twelve seasons fill up, 2014-15 to 2025-26."""
    path = tmp_path_factory.mktemp("watched") / "book.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        insert(connection, "record_book", BOOK)
        insert(connection, "minimum", MINIMUM)
        for code, name, district in AREAS:
            connection.execute("INSERT INTO area VALUES (?, ?, 'county', 'ZZ', ?, 'High')", [code, name, district])
        events.append(connection, events.Event("load", "Una Reed", "the first sheets"), datetime(2014, 8, 1))
        connection.execute(HEADS)
    return path


def on(book: Path, day: date) -> Trend:
    return read_trend(book, TrendSettings("State Book", "whitetail-typical", date(2027, 8, 1), as_of=day))


def test_on_a_day_of_autumn_the_newest_season_was_nine_tenths_complete(book: Path) -> None:
    trend = on(book, date(2025, 11, 1))
    newest = trend.seasons.row(-1, named=True)
    assert (trend.filling.clock, newest["season"], newest["state"], newest["entries"]) == (
        "accepted",
        "2024-25",
        "incomplete",
        90,
    )
    assert newest["completeness"] == pytest.approx(0.9)
    assert newest["nowcast"] == pytest.approx(100)
    assert not newest["used"]
    assert trend.rate["seasons"] == 10


def test_a_year_later_it_is_complete_and_the_trend_rests_on_it(book: Path) -> None:
    trend = on(book, date(2026, 7, 15))
    told = {
        season: (state, entries) for season, state, entries in trend.seasons.select("season", "state", "entries").rows()
    }
    assert told["2024-25"] == ("complete", 100)
    assert told["2025-26"] == ("incomplete", 60)
    assert trend.rate["seasons"] == 11


def test_while_a_season_runs_it_is_drawn_but_not_used(book: Path) -> None:
    trend = on(book, date(2025, 6, 1))
    assert trend.seasons.row(-1, named=True)["state"] == "running"


def test_before_eight_seasons_were_complete_there_was_no_trend(book: Path) -> None:
    trend = on(book, date(2021, 12, 1))
    assert (trend.rate["refused"], trend.verdict, trend.ranks, trend.sensitivity) == (
        "few-seasons",
        "unknown",
        None,
        None,
    )
    assert trend.kept == 690
