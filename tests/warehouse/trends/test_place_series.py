"""Zero is a count, missing is not; a rate is of the same ground in all of its seasons."""

import polars as pl
import pytest

from warehouse.trends.place_series import area_series, constant_ground, summed

AREAS = pl.DataFrame({"area_code": ["a", "b"], "district": ["D", "D"]})
SEASONS = pl.DataFrame({"season": ["2010-11", "2011-12"], "year": [2010, 2011]})
CELLS = pl.DataFrame({"area_code": ["a", "a", "b"], "season": ["2010-11", "2011-12", "2011-12"], "entries": [5, 7, 2],
                      "above_second": [1, 2, 0], "median_excess": [3.0, 4.0, 1.0]})  # fmt: skip
GROUND = pl.DataFrame({"area_code": ["a", "a", "b", "b"], "season": ["2010-11", "2011-12"] * 2, "covered": True,
                       "harvest": [100.0, None, 50.0, 60.0]})  # fmt: skip


def test_an_area_without_an_entry_has_none_there() -> None:
    series = area_series(AREAS, SEASONS, CELLS, GROUND, None)
    assert series.select("area_code", "season", "entries", "counted").rows() == [
        ("a", "2010-11", 5, True), ("a", "2011-12", 7, True), ("b", "2010-11", 0, True), ("b", "2011-12", 2, True),
    ]  # fmt: skip


def test_a_season_that_is_not_there_makes_no_row() -> None:
    assert area_series(AREAS, SEASONS.head(1), CELLS, GROUND, None)["season"].unique().to_list() == ["2010-11"]


def test_an_area_that_was_none_yet_makes_no_row() -> None:
    later = GROUND.filter((pl.col("area_code") == "a") | (pl.col("season") == "2011-12"))
    assert area_series(AREAS, SEASONS, CELLS, later, None).select("area_code", "season").rows()[-1] == ("b", "2011-12")


def test_ground_that_the_book_did_not_cover_is_not_counted_as_zero() -> None:
    covered = GROUND.with_columns(covered=(pl.col("area_code") == "a") | (pl.col("season") == "2011-12"))
    series = area_series(AREAS, SEASONS, CELLS, covered, None)
    assert series["counted"].to_list() == [True, True, False, True]
    assert summed(series, "area_code", None).select("series", "season", "effort").rows() == [
        ("a", "2010-11", 1.0), ("a", "2011-12", 1.0), ("b", "2010-11", None), ("b", "2011-12", 1.0),
    ]  # fmt: skip


def test_an_area_whose_effort_is_not_known_throughout_is_in_no_season_of_the_rate() -> None:
    """a is counted in one season and b in both: two seasons of b are as many rows as one of both, and more seasons."""
    sums = summed(area_series(AREAS, SEASONS, CELLS, GROUND, "harvest"), "district", "harvest")
    assert sums.select("series", "season", "entries", "all_entries", "above_second", "effort", "areas", "ground").rows() == [
        ("D", "2010-11", 0, 5, 1, 50.0, 1, 2), ("D", "2011-12", 2, 9, 2, 60.0, 1, 2),
    ]  # fmt: skip


def test_without_any_effort_there_is_no_rate_and_no_zero_effort() -> None:
    nothing = GROUND.with_columns(harvest=pl.lit(0.0))
    sums = summed(area_series(AREAS, SEASONS, CELLS, nothing, "harvest"), None, "harvest")
    assert sums.select("effort", "entries", "all_entries").rows() == [(None, None, 5), (None, None, 9)]


def test_a_count_is_one_a_season_whatever_the_ground() -> None:
    sums = summed(area_series(AREAS, SEASONS, CELLS, GROUND, None), "district", None)
    assert sums.select("season", "entries", "effort", "areas").rows() == [
        ("2010-11", 5, 1.0, 2),
        ("2011-12", 9, 1.0, 2),
    ]


def counted(*areas: str) -> pl.DataFrame:
    """An area an argument, a season a sign: "x" where it is counted."""
    rows = [
        (str(number), 2000 + year, sign == "x") for number, signs in enumerate(areas) for year, sign in enumerate(signs)
    ]
    return pl.DataFrame(rows, schema=["area_code", "year", "counted"], orient="row")


@pytest.mark.parametrize(("areas", "kept"), [
    (("xxxxxxxxxx", "xxxxxxxxxx"), ("xxxxxxxxxx", "xxxxxxxxxx")),
    (("xxxxxxxxxx", "xxxx-xxxxx", "xxxxxxxxxx"), ("xxxx-xxxxx", "xxxx-xxxxx", "xxxx-xxxxx")),  # a gap: 27 rows without the season, 20 without the area
    (("x--xxxx---", "xxxxxxxxxx", "xxxxxxxxxx"), ("----------", "xxxxxxxxxx", "xxxxxxxxxx")),  # five: 20 without the area
    (("xxxxxxxxx-", "xxxxxxxxx-", "xxxxxxxxxx"), ("xxxxxxxxx-", "xxxxxxxxx-", "xxxxxxxxx-")),  # a season of one area
    (("xxxxxx----", "-----xxxxx"), ("xxxxxx----", "----------")),  # none in both halves: the longer one, for all that it is short
    (("xxxxxxxx--", "-----xxxxx", "-----xxxxx", "-----xxxxx"), ("xxxxxxxx--", "----------", "----------", "----------")),  # eight first
    (("----------",), ("----------",)),
])  # fmt: skip
def test_the_ground_is_the_same_in_every_season(areas: tuple[str, ...], kept: tuple[str, ...]) -> None:
    series = counted(*areas)
    found = series.with_columns(kept=constant_ground(series)).filter("kept").select("area_code", "year").rows()
    assert found == counted(*kept).filter("counted").select("area_code", "year").rows()


def test_an_area_by_itself_keeps_all_that_is_counted() -> None:
    series = counted("xx-xx-xx")
    assert constant_ground(series, alone=True).to_list() == series["counted"].to_list()
