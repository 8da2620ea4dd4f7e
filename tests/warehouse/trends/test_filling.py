"""Which seasons are whole on a day, by how earlier ones filled up."""

from datetime import date, timedelta

import polars as pl
import pytest

from warehouse.trends.filling import Clock, Filling, fill

DAY = date(2026, 11, 26)
YEARS = range(2010, 2027)
ENDS = pl.DataFrame(
    {
        "season": [f"{year}-{(year + 1) % 100:02d}" for year in YEARS],
        "ends_on": [date(year + 1, 6, 30) for year in YEARS],
    }
)
LONG_AGO = date(2009, 7, 1)


def arrivals(*parts: tuple[int, int]) -> pl.DataFrame:
    """Of every season so many entries (second) so many days (first) behind its end, as far as they are known by DAY."""
    rows = [
        (season, end + timedelta(days), entries)
        for season, end in ENDS.rows()
        for days, entries in parts
        if end + timedelta(days) <= DAY
    ]
    return pl.DataFrame(
        rows, schema={"season": pl.String(), "known_on": pl.Date(), "entries": pl.Int64()}, orient="row"
    )


def filled(known: pl.DataFrame, began: date | None = LONG_AGO, day: date = DAY) -> Filling:
    clocks: dict[Clock, pl.DataFrame] = {"accepted": known, "measured": known}
    return fill(clocks, ENDS, began, day)


def state_of(filling: Filling, season: str) -> tuple[object, ...]:
    row = filling.seasons.row(by_predicate=pl.col("season") == season, named=True)
    return row["state"], row["completeness"]


def test_nine_in_ten_known_after_four_months_is_not_complete() -> None:
    """60 known at the season's end, 30 after three months, 10 after a year: at four months 90 of 100 (by hand)."""
    found = filled(arrivals((-30, 60), (80, 30), (365, 10)))
    assert state_of(found, "2025-26") == ("incomplete", pytest.approx(0.9))
    assert [state_of(found, season)[0] for season in ("2024-25", "2023-24", "2010-11")] == ["complete"] * 3


def test_nineteen_in_twenty_is_complete() -> None:
    assert state_of(filled(arrivals((-30, 95), (365, 5))), "2025-26")[0] == "complete"


def test_a_season_that_has_not_ended_is_running() -> None:
    assert state_of(filled(arrivals((-30, 10))), "2026-27") == ("running", None)


def test_where_nothing_was_ever_known_nothing_can_be_told() -> None:
    assert state_of(filled(arrivals()), "2025-26") == ("unknown", None)


def test_a_season_without_dates_is_waited_for_no_longer() -> None:
    undated = pl.concat([ENDS.head(16), pl.DataFrame({"season": ["2026-27"], "ends_on": [None]}, schema=ENDS.schema)])
    found = fill({"accepted": arrivals((-30, 10)), "measured": arrivals((-30, 10))}, undated, LONG_AGO, DAY)
    assert state_of(found, "2026-27")[0] == "complete"


@pytest.mark.parametrize(("began", "clock"), [
    (LONG_AGO, "accepted"), (date(2024, 6, 30), "accepted"), (date(2024, 7, 1), "measured"), (DAY, "measured"), (None, "measured"),
])  # fmt: skip
def test_a_book_tells_by_acceptance_once_it_has_watched_three_seasons(began: date | None, clock: str) -> None:
    assert filled(arrivals((-30, 10)), began).clock == clock


def test_seasons_that_ended_before_the_book_began_do_not_teach_how_others_fill() -> None:
    """A book begun in 2021 took all older seasons in at one go, five years late."""
    began = date(2021, 1, 1)
    late = arrivals((-30, 60), (80, 40)).with_columns(known_on=pl.max_horizontal("known_on", pl.lit(began)))
    found = filled(late, began)
    assert found.clock == "accepted"
    assert state_of(found, "2025-26")[0] == "complete"
    assert found.seasons.filter(pl.col("months").is_not_null())["season"].to_list()[0] == "2020-21"


def test_the_nowcast_of_an_incomplete_season_is_its_count_over_its_completeness() -> None:
    told = filled(arrivals((-30, 60), (80, 30), (365, 10))).nowcast("2025-26", 45)
    assert told is not None
    assert told.total == pytest.approx(50)
    assert told.lower < 50 < told.upper


@pytest.mark.parametrize("season", ["2010-11", "2024-25", "2026-27"])
def test_complete_and_running_seasons_have_no_nowcast(season: str) -> None:
    assert filled(arrivals((-30, 60), (80, 30), (365, 10))).nowcast(season, 45) is None


def test_under_a_quarter_known_there_is_no_nowcast() -> None:
    found = filled(arrivals((-30, 20), (365, 80)))
    assert state_of(found, "2025-26") == ("incomplete", pytest.approx(0.2))
    assert found.nowcast("2025-26", 20) is None
