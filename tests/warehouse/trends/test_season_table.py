"""One place by season: intervals, states, and which seasons a trend may rest on."""

from datetime import date
from typing import Any

import polars as pl
import pytest

from warehouse.trends.filling import Filling
from warehouse.trends.season_table import season_table

SEASONS = pl.DataFrame({"season": ["2021-22", "2022-23", "2023-24", "2024-25", "2025-26"], "year": [2021, 2022, 2023, 2024, 2025],
                        "present": [True, False, True, True, True]})  # fmt: skip
SUMS = pl.DataFrame({"series": "", "season": ["2021-22", "2023-24", "2024-25", "2025-26"], "year": [2021, 2023, 2024, 2025],
                     "entries": [10, 0, None, 9], "all_entries": [10, 0, 4, 9], "above_second": [2, 0, 1, 3], "effort": [1000.0, 500.0, None, 900.0],
                     "areas": [2, 2, 0, 2], "ground": [2, 2, 2, 2]})  # fmt: skip
FILLING = Filling(
    "measured", date(2026, 11, 26),
    pl.DataFrame({"season": SEASONS["season"], "months": [None, None, 28, 16, 4], "completeness": [1.0, 1.0, 1.0, 1.0, 0.9],
                  "state": ["complete", "complete", "complete", "complete", "incomplete"]}),
    1.0, {"2025-26": 0.0},
)  # fmt: skip
TABLE = season_table(SUMS, SEASONS, FILLING)


def of(season: str) -> dict[str, Any]:
    return TABLE.row(by_predicate=pl.col("season") == season, named=True)


def test_a_rate_has_garwoods_interval_per_unit_of_effort() -> None:
    row = of("2021-22")
    limits = (4.795389 / 1000, 18.390356 / 1000)  # Garwood 1936, Biometrika 28:437-442, n = 10
    assert (row["rate"], row["rate_lower"], row["rate_upper"]) == pytest.approx((0.01, *limits), rel=1e-6)


def test_a_season_with_no_entry_has_a_rate_of_zero_and_an_upper_limit() -> None:
    row = of("2023-24")
    assert (row["state"], row["rate"], row["rate_lower"]) == ("complete", 0.0, 0.0)
    assert row["rate_upper"] == pytest.approx(3.688879 / 500)  # Garwood 1936, n = 0


def test_a_season_that_the_book_does_not_hold_is_missing_not_zero() -> None:
    row = of("2022-23")
    assert (row["state"], row["used"], row["entries"], row["rate"], row["rate_upper"], row["share"]) == (
        "missing",
        False,
        None,
        None,
        None,
        None,
    )


def test_without_effort_there_is_no_rate_but_a_share() -> None:
    row = of("2024-25")
    assert (row["state"], row["used"], row["rate"], row["rate_upper"], row["share"]) == (
        "no-rate",
        False,
        None,
        None,
        0.25,
    )


def test_an_incomplete_season_is_not_used_and_is_told_what_it_will_come_to() -> None:
    row = of("2025-26")
    assert (row["state"], row["used"], row["nowcast"]) == ("incomplete", False, pytest.approx(10.0))
    assert row["nowcast_lower"] <= 10 <= row["nowcast_upper"]


def test_complete_seasons_with_effort_are_used_and_have_no_nowcast() -> None:
    assert TABLE.filter("used")["season"].to_list() == ["2021-22", "2023-24"]
    assert TABLE.filter("used")["nowcast"].to_list() == [None, None]


def test_a_complete_season_without_effort_is_whole_though_it_has_no_rate() -> None:
    row = of("2024-25")
    assert (row["whole"], row["entries"], row["all_entries"]) == (True, None, 4)


def test_an_incomplete_season_is_told_what_it_comes_to_although_its_effort_is_not_published_yet() -> None:
    late = SUMS.with_columns(
        effort=pl.when(pl.col("season") != "2025-26").then("effort"),
        entries=pl.when(pl.col("season") != "2025-26").then("entries"),
    )
    row = season_table(late, SEASONS, FILLING).row(-1, named=True)
    assert (row["state"], row["all_entries"], row["nowcast"], row["nowcast_rate"]) == (
        "incomplete",
        9,
        pytest.approx(10.0),
        None,
    )


@pytest.mark.parametrize("sums", [SUMS.head(3), SUMS.with_columns(ground=pl.lit(0))], ids=["no row", "none covered"])
def test_a_season_whose_ground_the_book_did_not_cover_is_told_as_such(sums: pl.DataFrame) -> None:
    row = season_table(sums, SEASONS, FILLING).row(-1, named=True)
    assert (row["state"], row["whole"], row["used"], row["nowcast"]) == ("not-covered", False, False, None)
