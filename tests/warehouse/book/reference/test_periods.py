"""Rows in force from season to season: overlaps and gaps name both rows; what follows each other is right."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.warehouse.book.reference.table_texts import tables_of
from warehouse.book.reference.season_labels import label_of, span, year_of
from warehouse.book.reference.table_checks import table_problems

BOOK = "book,first_season,last_season\n"
MINIMUM = "book,category,weapon_class,antler_state,minimum,first_season,last_season\n"


def minimums(*periods: tuple[str, str], kind: str = "any,any") -> str:
    return MINIMUM + "\n".join(f"B,whitetail-typical,{kind},100 0/8,{first},{last}" for first, last in periods)


def problems(table: str, text: str) -> list[str]:
    return table_problems(tables_of(**{table: text}), {table})


WHERE = "minimum.csv, row 3, first_season: B, whitetail-typical, any, any:"


def of_minimums(*periods: tuple[str, str]) -> list[str]:
    tables = tables_of(minimum=minimums(*periods), record_book=f"{BOOK}B,1990-91,")
    return table_problems(tables, {"minimum"})


@pytest.mark.parametrize(
    ("periods", "found"),
    [
        ([("2006-07", "2011-12"), ("2011-12", "2018-19")],
         f"{WHERE} 2011-12 to 2018-19 overlaps 2006-07 to 2011-12 of minimum.csv, row 2; let the one end the season before the other begins"),
        ([("2006-07", "2006-07"), ("2006-07", "")],
         f"{WHERE} 2006-07 on overlaps 2006-07 of minimum.csv, row 2; let the one end the season before the other begins"),
        ([("2006-07", ""), ("2030-31", "2031-32")],
         f"{WHERE} 2030-31 to 2031-32 overlaps 2006-07 on of minimum.csv, row 2; let the one end the season before the other begins"),
        ([("1998-99", "1999-00"), ("2001-02", "")],
         f"{WHERE} nothing is in force in 2000-01, between minimum.csv, row 2 (1998-99 to 1999-00) and this row (2001-02 on); "
         "let them follow each other"),
        ([("2006-07", "2007-08"), ("2012-13", "2013-14")],
         f"{WHERE} nothing is in force in 2008-09 to 2011-12, between minimum.csv, row 2 (2006-07 to 2007-08) and this row "
         "(2012-13 to 2013-14); let them follow each other"),
    ],
)  # fmt: skip
def test_overlaps_and_gaps_name_both_rows(periods: list[tuple[str, str]], found: str) -> None:
    assert of_minimums(*periods) == [found]


def test_a_row_inside_a_longer_one_and_a_gap_behind_that() -> None:
    found = of_minimums(("2006-07", "2011-12"), ("2007-08", "2008-09"), ("2013-14", ""))
    assert [(line[:18], "overlaps" in line, "2012-13, between minimum.csv, row 2 " in line) for line in found] == [
        ("minimum.csv, row 3", True, False), ("minimum.csv, row 4", False, True),
    ]  # fmt: skip


def test_periods_that_follow_each_other_in_any_order_of_rows() -> None:
    assert of_minimums(("2012-13", ""), ("1999-00", "2011-12"), ("1998-99", "1998-99")) == []


def test_each_weapon_class_and_state_of_antlers_has_periods_of_its_own() -> None:
    text = minimums(("2006-07", "")) + "\n" + minimums(("2010-11", ""), kind="bow,any").split("\n", 1)[1]
    text += "\n" + minimums(("2010-11", ""), kind="any,velvet").split("\n", 1)[1]
    assert table_problems(tables_of(minimum=text, record_book=f"{BOOK}B,1990-91,"), {"minimum"}) == []
    again = text + "\n" + minimums(("2012-13", ""), kind="any,velvet").split("\n", 1)[1]
    assert table_problems(tables_of(minimum=again, record_book=f"{BOOK}B,1990-91,"), {"minimum"}) == [
        "minimum.csv, row 5, first_season: B, whitetail-typical, any, velvet: 2012-13 on overlaps 2010-11 on of minimum.csv, "
        "row 4; let the one end the season before the other begins"
    ]


def test_rules_of_books_and_districts_of_areas_too() -> None:
    assert problems("record_book", f"{BOOK}B,2006-07,2007-08\nC,2006-07,\nB,2009-10,") == [
        "record_book.csv, row 4, first_season: B: nothing is in force in 2008-09, between record_book.csv, row 2 (2006-07 to "
        "2007-08) and this row (2009-10 on); let them follow each other"
    ]
    text = (
        "area_code,district,first_season,last_season\n07001,North,2006-07,\n07001,South,2009-10,\n07003,South,2009-10,"
    )
    assert problems("area_district", text) == [
        "area_district.csv, row 3, first_season: 07001: 2009-10 on overlaps 2006-07 on of area_district.csv, row 2; let the one "
        "end the season before the other begins"
    ]


@given(st.lists(st.tuples(st.integers(1990, 2010), st.integers(0, 4)), min_size=1, max_size=6))
def test_no_problem_exactly_where_every_season_between_has_one_row(periods: list[tuple[int, int]]) -> None:
    text = minimums(*((label_of(first), label_of(first + more)) for first, more in periods))
    tables = tables_of(minimum=text, record_book=f"{BOOK}B,1980-81,")
    in_force = [year for first, more in periods for year in range(first, first + more + 1)]
    each_once = sorted(in_force) == list(range(min(in_force), max(in_force) + 1))
    assert (table_problems(tables, {"minimum"}) == []) == each_once


def test_labels_of_seasons() -> None:
    assert [label_of(year) for year in (1999, 2000, 2024)] == ["1999-00", "2000-01", "2024-25"]
    assert year_of("1999-00") == 1999
    assert [span(2001, 2001), span(1999, 2001)] == ["2001-02", "1999-00 to 2001-02"]
