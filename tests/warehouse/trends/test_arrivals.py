"""How seasons fill: the months since a season's end, counted back from the day of looking."""

from datetime import date

import numpy as np
import polars as pl
import pytest

from warehouse.trends.arrivals import DEVELOPED, MOST_MONTHS, triangle

ENDS = pl.DataFrame(
    {
        "season": [f"{year}-{(year + 1) % 100:02d}" for year in range(2015, 2026)],
        "ends_on": [date(year + 1, 6, 30) for year in range(2015, 2026)],
    }
)
DAY = date(2026, 11, 26)


def arrivals(*known: tuple[str, date, int]) -> pl.DataFrame:
    return pl.DataFrame(
        known, schema={"season": pl.String(), "known_on": pl.Date(), "entries": pl.Int64()}, orient="row"
    )


def test_every_season_is_cut_as_far_behind_its_end_as_the_newest_is() -> None:
    seen = triangle(arrivals(), ENDS, DAY)
    assert dict(zip(seen.seasons, seen.months, strict=True)) == {
        "2018-19": 36, "2019-20": 36, "2020-21": 36, "2021-22": 36, "2022-23": 36, "2023-24": 28, "2024-25": 16, "2025-26": 4,
    }  # fmt: skip
    assert len([month for month in seen.months if month == MOST_MONTHS]) == DEVELOPED


@pytest.mark.parametrize(("known_on", "month"), [
    (date(2026, 1, 3), 0), (date(2026, 7, 27), 0), (date(2026, 7, 28), 1), (date(2026, 8, 26), 1), (date(2026, 8, 27), 2), (DAY, 4),
])  # fmt: skip
def test_an_entry_counts_from_the_month_it_was_known_in(known_on: date, month: int) -> None:
    """The day of looking lies 4 months and 27 days behind the season's end: month 0 ends on the 27th day, July 27."""
    counts = triangle(arrivals(("2025-26", known_on, 3)), ENDS, DAY).counts[-1]
    assert counts[:5].tolist() == [3.0 if column >= month else 0.0 for column in range(5)]
    assert np.isnan(counts[5:]).all()


def test_what_was_known_later_than_the_day_is_not_seen() -> None:
    assert np.nansum(triangle(arrivals(("2025-26", date(2026, 11, 27), 3)), ENDS, DAY).counts) == 0


def test_an_entry_of_long_after_its_season_is_beyond_the_triangle() -> None:
    late = arrivals(("2018-19", date(2024, 1, 1), 2), ("2018-19", date(2020, 1, 1), 1))
    assert triangle(late, ENDS, DAY).counts[0, -1] == 1


def test_a_season_that_has_not_ended_is_not_looked_at() -> None:
    assert "2025-26" not in triangle(arrivals(), ENDS, date(2026, 6, 29)).seasons


def test_no_season_makes_an_empty_triangle() -> None:
    assert triangle(arrivals(), ENDS.clear(), DAY).counts.shape == (0, 0)
