"""Areas as of the date taken, set by set: followed, split, and in the district of their season."""

from datetime import date

import polars as pl

from loaders.area_history import Named, as_of_date_taken, make_history
from loaders.names import make_names

AREAS = {code: Named(f"Area {code}", f"District {code}") for code in ("07001", "07003", "07005", "07007", "07009")}
DAY = date(2015, 5, 1)


def resolved(*entries: tuple[str | None, date | None], season: str | None = None) -> pl.DataFrame:
    """Entries whose area was read as this code, taken on this day."""
    codes, days = [code for code, _ in entries], [day for _, day in entries]
    named = [AREAS.get(code or "", Named("Elsewhere", "Nowhere")) for code in codes]
    return pl.DataFrame(
        {
            "id": pl.Series(range(len(entries)), dtype=pl.UInt32),
            "area_code": pl.Series(codes, dtype=pl.String), "taken_on": pl.Series(days, dtype=pl.Date),
            "season": pl.Series([season] * len(entries), dtype=pl.String),
            "season_stated": pl.Series(["2019-20"] * len(entries), dtype=pl.String),
            "area_name": [one.name for one in named], "district": [one.district for one in named],
            "area.hint": [""] * len(entries),
        }
    )  # fmt: skip


def places(frame: pl.DataFrame) -> list[tuple[object, ...]]:
    return frame.select("area_code", "area_name", "district", "area.hint", "area.ended_code", "area.ended_on").rows()


def test_a_rename_is_followed_from_its_day_on() -> None:
    history = make_history(AREAS, [("07001", "07003", DAY, "renamed")])
    assert history is not None
    found = as_of_date_taken(
        history, resolved(("07001", date(2015, 4, 30)), ("07001", DAY), ("07005", DAY), (None, DAY), ("07001", None))
    )
    assert places(found) == [
        ("07001", "Area 07001", "District 07001", "", None, None),
        ("07003", "Area 07003", "District 07003", "", "07001", DAY),
        ("07005", "Area 07005", "District 07005", "", None, None),
        (None, "Elsewhere", "Nowhere", "", None, None),
        ("07001", "Area 07001", "District 07001", "", None, None),
    ]


def test_a_chain_is_followed_as_far_as_it_had_come_and_never_through_a_split() -> None:
    changes = [
        ("07001", "07003", DAY, "merged"), ("07003", "07005", date(2018, 1, 1), "renamed"),
        ("07005", "07007", date(2020, 1, 1), "split"), ("07005", "07009", date(2020, 1, 1), "split"),
    ]  # fmt: skip
    history = make_history(AREAS, changes)
    assert history is not None
    days = [date(2014, 1, 1), date(2016, 1, 1), date(2019, 1, 1), date(2020, 1, 1)]
    found = as_of_date_taken(history, resolved(*(("07001", day) for day in days), ("07005", date(2021, 1, 1))))
    assert places(found) == [
        ("07001", "Area 07001", "District 07001", "", None, None),
        ("07003", "Area 07003", "District 07003", "", "07001", DAY),
        ("07005", "Area 07005", "District 07005", "", "07001", DAY),
        (None, None, None, "Area 07007 or Area 07009", "07001", date(2020, 1, 1)),
        (None, None, None, "Area 07007 or Area 07009", "07005", date(2020, 1, 1)),
    ]
    assert found["id"].to_list() == [0, 1, 2, 3, 4]
    assert found.columns == [*resolved().columns, "area.ended_on", "area.ended_code"]


def test_a_code_that_lasted_no_day_and_one_that_the_table_lacks() -> None:
    history = make_history(AREAS, [("07001", "07003", DAY, "renamed"), ("07003", "07999", DAY, "renamed")])
    assert history is not None
    found = as_of_date_taken(history, resolved(("07001", DAY)))
    assert places(found) == [("07999", "07999", "", "", "07001", DAY)]


def test_a_circle_in_a_book_that_was_edited_by_hand_ends() -> None:
    history = make_history(AREAS, [("07001", "07003", DAY, "renamed"), ("07003", "07001", DAY, "renamed")])
    assert history is not None
    assert as_of_date_taken(history, resolved(("07001", DAY)))["area_code"].to_list() == ["07001"]


def test_the_district_is_that_of_the_season() -> None:
    rows = [("07001", "West", "2010-11", "2012-13"), ("07001", "East", "2013-14", None)]
    history = make_history(AREAS, [], rows)
    assert history is not None
    found = {}
    for season in ("2009-10", "2010-11", "2012-13", "2013-14", "2030-31", None):
        entries = as_of_date_taken(history, resolved(("07001", DAY), ("07003", DAY), (None, DAY), season=season))
        found[season] = entries["district"].to_list()
    assert found == {
        "2009-10": ["District 07001", "District 07003", "Nowhere"], "2010-11": ["West", "District 07003", "Nowhere"],
        "2012-13": ["West", "District 07003", "Nowhere"], "2013-14": ["East", "District 07003", "Nowhere"],
        "2030-31": ["East", "District 07003", "Nowhere"], None: ["East", "District 07003", "Nowhere"],
    }  # fmt: skip


def test_a_followed_area_lies_in_the_district_of_its_new_code() -> None:
    history = make_history(AREAS, [("07001", "07003", DAY, "renamed")], [("07003", "West", "2015-16", "2019-20")])
    assert history is not None
    found = as_of_date_taken(history, resolved(("07001", DAY), season="2016-17"))
    assert found.select("area_code", "district").rows() == [("07003", "West")]


def test_without_changes_there_is_no_history_and_nothing_to_do() -> None:
    assert make_history(AREAS, [], []) is None
    assert make_names(areas=[("07001", "Abberlow", "ZZ", "North")]).history is None
