"""Zero is a count, missing is not; a rate's count and effort are of the same ground."""

import polars as pl

from warehouse.trends.place_series import area_series, summed

AREAS = pl.DataFrame({"area_code": ["a", "b"], "district": ["D", "D"]})
SEASONS = pl.DataFrame({"season": ["2010-11", "2011-12"], "year": [2010, 2011]})
CELLS = pl.DataFrame({"area_code": ["a", "a", "b"], "season": ["2010-11", "2011-12", "2011-12"], "entries": [5, 7, 2],
                      "above_second": [1, 2, 0], "median_excess": [3.0, 4.0, 1.0]})  # fmt: skip
EFFORT = pl.DataFrame(
    {"area_code": ["a", "a", "b", "b"], "season": ["2010-11", "2011-12"] * 2, "harvest": [100.0, None, 50.0, 60.0]}
)


def test_an_area_without_an_entry_has_none_there() -> None:
    series = area_series(AREAS, SEASONS, CELLS, EFFORT, None)
    assert series.select("area_code", "season", "entries", "effort").rows() == [
        ("a", "2010-11", 5, None), ("a", "2011-12", 7, None), ("b", "2010-11", 0, None), ("b", "2011-12", 2, None),
    ]  # fmt: skip


def test_a_season_that_is_not_there_makes_no_row() -> None:
    assert area_series(AREAS, SEASONS.head(1), CELLS, EFFORT, None)["season"].unique().to_list() == ["2010-11"]


def test_where_effort_is_not_known_the_entries_do_not_count_in_the_rate() -> None:
    sums = summed(area_series(AREAS, SEASONS, CELLS, EFFORT, "harvest"), "district", "harvest")
    assert sums.select("series", "season", "entries", "all_entries", "above_second", "effort", "areas").rows() == [
        ("D", "2010-11", 5, 5, 1, 150.0, 2), ("D", "2011-12", 2, 9, 2, 60.0, 1),
    ]  # fmt: skip


def test_without_any_effort_there_is_no_rate_and_no_zero_effort() -> None:
    nothing = EFFORT.with_columns(harvest=pl.lit(0.0))
    sums = summed(area_series(AREAS, SEASONS, CELLS, nothing, "harvest"), None, "harvest")
    assert sums.select("effort", "entries", "all_entries").rows() == [(None, 0, 5), (None, 0, 9)]


def test_a_count_is_one_a_season_whatever_the_ground() -> None:
    sums = summed(area_series(AREAS, SEASONS, CELLS, EFFORT, None), "district", None)
    assert sums.select("season", "entries", "effort", "areas").rows() == [
        ("2010-11", 5, 1.0, 2),
        ("2011-12", 9, 1.0, 2),
    ]
