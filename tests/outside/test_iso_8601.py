"""Dates. Source: ISO 8601; the oracle is Python's own `datetime.date.fromisoformat`."""

from datetime import date

import polars as pl
from hypothesis import given, settings
from hypothesis import strategies as st

from loaders.dates import FIRST_YEAR, LAST_YEAR, read_dates

any_day = st.dates(date(FIRST_YEAR, 1, 1), date(LAST_YEAR, 12, 31))
number = st.integers(0, 40).map(lambda n: f"{n:02d}")
shaped = st.tuples(st.integers(1700, 2300).map(lambda n: f"{n:04d}"), number, number).map("-".join)


def _oracle(text: str) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if FIRST_YEAR <= day.year <= LAST_YEAR else None


@settings(max_examples=50)
@given(days=st.lists(any_day, min_size=1, max_size=200))
def test_every_iso_date_reads_as_itself(days: list[date]) -> None:
    texts = pl.Series([day.isoformat() for day in days])
    assert read_dates(texts)["date"].to_list() == days
    assert read_dates(texts.str.replace_all("-", ""))["date"].to_list() == days
    assert read_dates(texts)["serial"].any() is False


@settings(max_examples=50)
@given(texts=st.lists(shaped, min_size=1, max_size=200))
def test_a_day_that_is_not_on_the_calendar_is_no_date(texts: list[str]) -> None:
    assert read_dates(pl.Series(texts))["date"].to_list() == [_oracle(text) for text in texts]


def test_a_year_of_two_digits_is_no_year() -> None:
    texts = ["25-11-08", "8 Nov 25", "11-08-24", "+12025-11-08", "0025-11-08"]
    assert read_dates(pl.Series(texts))["date"].to_list() == [None] * len(texts)
