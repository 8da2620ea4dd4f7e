"""Whole tables against each other: seasons, the books of minimums, the codes of areas and what became of them."""

import pytest

from tests.warehouse.book.reference.table_texts import tables_of
from warehouse.book.reference.table_checks import table_problems

AREAS = "area_code,name,state,district\n07001,Abberlow,QM,North\n07003,Brindmoor,QM,South\n07005,Corrowick,QM,South"
BOOK = "book,first_season,last_season\n"
MINIMUM = "book,category,weapon_class,minimum,first_season,last_season\n"
CHANGE = "old_code,new_code,changed_on,kind\n"


def problems(**texts: str) -> list[str]:
    return table_problems(tables_of(**texts), set(texts))


def test_a_day_belongs_to_one_season() -> None:
    season = "season,starts_on,ends_on\n2025-26,2025-07-01,2026-06-30\n2024-25,2024-07-01,2025-07-01"
    assert problems(season=season) == [
        "season.csv, row 2, starts_on: 2025-26 begins on 2025-07-01, before 2024-25 in season.csv, row 3 has ended on "
        "2025-07-01; a day belongs to one season"
    ]
    assert problems(season=season.replace("2024-07-01,2025-07-01", "2024-07-01,2025-06-29")) == []


def test_there_are_no_more_kinds_of_certificates_than_can_be_told_apart() -> None:
    rows = [f"M-{n},Somebody,2001-03-10,kind {n}" for n in range(66)]
    heading = "measurer_no,name,certified_from,certificate"
    assert problems(measurer="\n".join([heading, *rows])) == [
        "measurer.csv, row 66, certificate: 'kind 64' is one kind too many; expected at most 64"
    ]
    assert problems(measurer="\n".join([heading, *rows[:64]])) == []


@pytest.mark.parametrize(
    ("minimum", "found"),
    [
        ("C,whitetail-typical,any,9 0/8,2010-11,",
         "minimum.csv, row 2, book: found 'C'; expected a book with rules (books.csv): B, D"),
        ("B,whitetail-typical,any,9 0/8,2005-06,2011-12",
         "minimum.csv, row 2, first_season: the minimum is in force in 2005-06 to 2011-12, but the book's rules only begin with "
         "2006-07 to 2009-10 (record_book.csv, row 2)"),
        ("B,whitetail-typical,any,9 0/8,2010-11,",
         "minimum.csv, row 2, last_season: the minimum is in force in 2010-11 on, but the book's rules end with 2010-11 to 2012-13 "
         "(record_book.csv, row 3)"),
        ("B,whitetail-typical,any,9 0/8,2010-11,2013-14",
         "minimum.csv, row 2, last_season: the minimum is in force in 2010-11 to 2013-14, but the book's rules end with 2010-11 to "
         "2012-13 (record_book.csv, row 3)"),
    ],
)  # fmt: skip
def test_a_minimum_lies_within_the_rules_of_its_book(minimum: str, found: str) -> None:
    books = f"{BOOK}B,2006-07,2009-10\nB,2010-11,2012-13\nD,2006-07,"
    assert problems(record_book=books, minimum=MINIMUM + minimum) == [found]
    assert problems(record_book=books, minimum=f"{MINIMUM}B,whitetail-typical,any,9 0/8,2006-07,2012-13") == []


def test_without_any_book_it_says_so() -> None:
    assert problems(minimum=f"{MINIMUM}C,whitetail-typical,any,9 0/8,2010-11,") == [
        "minimum.csv, row 2, book: found 'C'; expected a book with rules (books.csv): no book"
    ]


UNKNOWN = {
    "area_alias": ("alias,area_code\nOld Abberlow,07999", "area_code: found '07999'; expected the code of an area"),
    "area_district": ("area_code,district,first_season\n07999,North,2020-21", "area_code: found '07999'; expected the code of an area"),
    "effort": ("area_code,season\n07999,2020-21", "area_code: found '07999'; expected the code of an area"),
    "area_change": (f"{CHANGE}07999,07001,2015-05-01,renamed",
                    "old_code: found '07999'; expected the code of an area (a code that ended stays in areas.csv)"),
    "record_book": ("book,first_season,districts\nB,2020-21,North;Nroth", "districts: found 'Nroth'; expected one of the areas' districts"),
}  # fmt: skip


@pytest.mark.parametrize("table", UNKNOWN)
def test_codes_that_no_area_has(table: str) -> None:
    text, found = UNKNOWN[table]
    assert problems(area=AREAS, **{table: text}) == [f"{table}.csv, row 2, {found}"]
    assert problems(**{table: text}) == []  # without areas none is known, and none is asked for
    assert table_problems(tables_of(area=AREAS, **{table: text}), {"season"}) == []  # said before, when it came


def test_the_new_code_and_other_places_of_a_book_must_be_known_too() -> None:
    assert problems(area=AREAS, area_change=f"{CHANGE}07001,07998,2015-05-01,renamed") == [
        "area_change.csv, row 2, new_code: found '07998'; expected the code of an area (a code that ended stays in areas.csv)"
    ]
    assert problems(area=AREAS, record_book="book,first_season,states,areas\nB,2020-21,QX,07999") == [
        "record_book.csv, row 2, states: found 'QX'; expected one of the areas' states",
        "record_book.csv, row 2, areas: found '07999'; expected one of the areas' areas",
    ]
    dated = "area_code,district,first_season\n07001,Old North,2020-21"
    assert (
        problems(area=AREAS, area_district=dated, record_book="book,first_season,districts\nB,2020-21,Old North") == []
    )


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ("07001,07003,2010-01-01,renamed\n07003,07001,2015-01-01,renamed",
         ["row 2 and area_change.csv, row 3, new_code: the codes lead in a circle, 07001 -> 07003 -> 07001; a code that ended does not come back"]),
        ("07001,07001,2010-01-01,renamed",
         ["row 2, new_code: the codes lead in a circle, 07001 -> 07001; a code that ended does not come back"]),
        ("07001,07003,2010-01-01,renamed\n07003,07005,2012-01-01,merged\n07005,07003,2014-01-01,split",
         ["row 3 and area_change.csv, row 4, new_code: the codes lead in a circle, 07003 -> 07005 -> 07003; a code that ended does not come back"]),
        ("07001,07003,2010-01-01,renamed\n07001,07005,2010-01-01,renamed",
         ["row 3, old_code: 07001 ended already, renamed on 2010-01-01 in area_change.csv, row 2; a code ends once: in one other code, or on "
          "one day in several (split)"]),
        ("07001,07003,2010-01-01,split\n07001,07005,2011-01-01,split",
         ["row 3, old_code: 07001 ended already, split on 2010-01-01 in area_change.csv, row 2; a code ends once: in one other code, or on "
          "one day in several (split)"]),
        ("07001,07003,2015-01-01,renamed\n07003,07005,2010-01-01,renamed",
         ["row 2, changed_on: 07003 takes over on 2015-01-01, but was renamed on 2010-01-01 in area_change.csv, row 3; a code must not end "
          "before it begins"]),
    ],
)  # fmt: skip
def test_a_code_ends_once_and_for_good(changes: str, found: list[str]) -> None:
    assert problems(area=AREAS, area_change=CHANGE + changes) == [f"area_change.csv, {one}" for one in found]


MEASURERS = "measurer_no,name,certified_from\nM-1,Ann,2020-03-01\nM-2,Bea,2020-03-01"
PANEL = "session,measured_on,head,measurer,line,length\n"


def test_a_panel_is_of_measurers_that_are_known() -> None:
    panel = f"{PANEL}S,2026-03-01,H,M-1,net,140 0/8\nS,2026-03-01,H,M-9,net,140 1/8"
    assert problems(measurer=MEASURERS, panel_measure=panel) == [
        "panel_measure.csv, row 3, measurer: found 'M-9'; expected the number of a measurer (measurers.csv)"
    ]
    assert problems(panel_measure=panel) == []  # without measurers none is known, and none is asked for
    assert problems(measurer=MEASURERS, panel_measure=panel.replace("M-9", "M-2")) == []


def test_a_session_has_more_than_one_measurer() -> None:
    panel = f"{PANEL}S,2026-03-01,H,M-1,net,140 0/8\nT,2026-03-02,H,M-1,net,140 0/8\nT,2026-03-02,I,M-1,net,140 0/8"
    assert problems(measurer=MEASURERS, panel_measure=f"{panel}\nS,2026-03-01,I,M-2,net,150 0/8") == [
        "panel_measure.csv, row 3, measurer: found only 'M-1' in the session 'T'; expected 2 measurers or more, for a panel "
        "holds them against each other"
    ]


def test_splits_and_chains_are_right() -> None:
    assert problems(area=AREAS, area_change=f"{CHANGE}07001,07003,2010-01-01,split\n07001,07005,2010-01-01,split") == []
    assert (
        problems(area=AREAS, area_change=f"{CHANGE}07001,07003,2010-01-01,renamed\n07003,07005,2010-01-01,merged") == []
    )
