"""Dates as people write them, and seasons."""

from datetime import date, timedelta

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loaders.dates import read_dates, read_seasons, season_of

NOVEMBER = date(2025, 11, 8)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2025-11-08", NOVEMBER), (" 2025-11-08 ", NOVEMBER), ("2025-11-08 [yyyy-mm-dd]", NOVEMBER), ("20251108", NOVEMBER),
        ("2025-11-08T00:00:00", NOVEMBER), ("2025-11-08 00:00:00", NOVEMBER), ("8 Nov 2025", NOVEMBER),
        ("Nov 8, 2025", NOVEMBER), ("8 November 2025", NOVEMBER), ("November 8, 2025", NOVEMBER),
        ("11/25/2025", date(2025, 11, 25)), ("25.11.2025", date(2025, 11, 25)), ("8/8/2025", date(2025, 8, 8)),
        ("11/8/2025", None), ("8-11-2025", None), ("13/13/2025", None), ("2025-02-29", None), ("2024-02-29", date(2024, 2, 29)),
        ("0000-01-01", None), ("1/1/0000", None), ("45969.5", None), ("soon", None), ("٤٥٩٦٩", None), ("٣/٢٥/2025", None),
        ("", None), (None, None),
    ],
)  # fmt: skip
def test_what_has_one_meaning_is_read(text: str | None, day: date | None) -> None:
    assert read_dates(pl.Series([text], dtype=pl.String)).row(0) == (day, False)


def test_a_bare_spreadsheet_number_is_marked() -> None:
    """Day 1 of that calendar is 1 January 1900, and its 29 February 1900 never was (from memory)."""
    serials = range(20_000, 60_001)
    found = read_dates(pl.Series([str(n) for n in serials]))
    assert found["date"].to_list() == [date(1899, 12, 30) + timedelta(n) for n in serials]
    assert found["serial"].all()
    assert read_dates(pl.Series(["19999", "60001", "45969.0"])).rows() == [
        (None, False),
        (None, False),
        (NOVEMBER, True),
    ]


@settings(max_examples=50)
@given(
    texts=st.lists(st.one_of(st.text(max_size=12), st.text(alphabet="0123456789/-. TNov٣", max_size=10)), min_size=1)
)
def test_any_text_is_a_date_or_none(texts: list[str]) -> None:
    cells = pl.Series(texts, dtype=pl.String)
    days = read_dates(cells)["date"].to_list()
    assert all(day is None or date.min <= day <= date.max for day in days)
    assert len(read_seasons(cells).to_list()) == len(texts)


@pytest.mark.parametrize(
    ("text", "season"),
    [
        ("2025", "2025-26"), ("2025-26", "2025-26"), ("2025-2026", "2025-26"), ("2025/26", "2025-26"), ("2025–26", "2025-26"),
        ("1999-00", "1999-00"), ("1999-2000", "1999-00"), ("2025-27", None), ("25-26", None), ("", None), (None, None), ("٢٠٢٥", None),
    ],
)  # fmt: skip
def test_seasons_as_stated(text: str | None, season: str | None) -> None:
    assert read_seasons(pl.Series([text], dtype=pl.String)).item() == season


@settings(max_examples=50)
@given(days=st.lists(st.dates(min_value=date(1900, 1, 1)), min_size=1, max_size=100))
def test_a_season_runs_from_july_to_june(days: list[date]) -> None:
    first = [day.year if day.month >= 7 else day.year - 1 for day in days]
    assert season_of(pl.Series(days)).to_list() == [f"{year}-{(year + 1) % 100:02d}" for year in first]
