"""Each row of a reference table by itself: what it must keep to, and what a blank cell stands for."""

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.book_builder import query
from tests.warehouse.book.reference.table_texts import rows_of
from warehouse.book import database
from warehouse.book.reference import TABLES, WEAPON_CLASSES, WEAPONS, check_rows
from warehouse.categories import Category, all_categories
from warehouse.errors import ReferenceRefused

WORDS = ", ".join(["any", "firearm", "muzzleloader", "bow", "crossbow", "found", "rifle", "shotgun", "handgun"])


def refusal(table: str, text: str) -> list[str]:
    with pytest.raises(ReferenceRefused) as refused:
        rows_of(table, text)
    return str(refused.value).splitlines()


def only_row(table: str, text: str) -> dict[str, Any]:
    (row,) = rows_of(table, text)
    return row.values


BOOK = "book,first_season,"
MINIMUM = "book,category,weapon_class,minimum,first_season"
PANEL = "session,measured_on,head,measurer,line,length\n"
LINES = "net, gross or a measure of a sheet, with its side where it has two: beam_r, g1_l, inside_spread"
LENGTHS = "inches and eighths like 21 0/8 or 3/8, never negative"


@pytest.mark.parametrize(
    ("table", "text", "message"),
    [
        ("season", "season,starts_on,ends_on\n2024-25,2025-06-30,2024-07-01",
         "row 2, row: ends_on 2024-07-01 is not after starts_on 2025-06-30"),
        ("season", "season,starts_on,ends_on\n2024,2024-07-01,2025-06-30",
         "row 2, season: found '2024'; expected a season like 2024-25"),
        ("season", "season,starts_on,ends_on\n2024-26,2024-07-01,2025-06-30",
         "row 2, season: found '2024-26'; expected a season like 2024-25"),
        ("measurer", "measurer_no,name,certified_from,certified_to\nM-1,Ann,2020-02-30,",
         "row 2, certified_from: found '2020-02-30'; expected a date like 2024-07-01"),
        ("measurer", "measurer_no,name,certified_from,certified_to\nM-1,Ann,2020-03-01,2019-03-01",
         "row 2, row: certified_to 2019-03-01 is before certified_from 2020-03-01"),
        ("minimum", f"{MINIMUM}\nB,moose,any,100 0/8,2020-21",
         "row 2, row: category 'moose' is not known; expected one of: " + ", ".join(all_categories())),
        ("minimum", f"{MINIMUM}\nB,whitetail-typical,sling,100 0/8,2020-21",
         f"row 2, row: weapon_class 'sling' is not known; expected one of: {', '.join(WEAPON_CLASSES)}"),
        ("minimum", f"{MINIMUM},last_season\nB,whitetail-typical,any,9 0/8,2020-21,2019-20",
         "row 2, row: last_season 2019-20 is before first_season 2020-21"),
        ("minimum", f"{MINIMUM}\nB,whitetail-typical,any,125.5,2020-21",
         "row 2, row: '125.5' is not a length in 1/8 inch: write it like '21 0/8' or '3/8'"),
        ("minimum", f"{MINIMUM},antler_state\nB,whitetail-typical,any,125 0/8,2020-21,soft",
         "row 2, antler_state: found 'soft'; expected any, hard or velvet"),
        ("record_book", f"{BOOK}score\nB,2020-21,mean", "row 2, score: found 'mean'; expected net or gross"),
        ("record_book", f"{BOOK}tie_rule\nB,2020-21,x", "row 2, tie_rule: found 'x'; expected shared, gross or taken"),
        ("record_book", f"{BOOK}takes_found\nB,2020-21,maybe", "row 2, takes_found: found 'maybe'; expected yes or no"),
        ("record_book", f"{BOOK}drying_days\nB,2020-21,-1", "row 2, drying_days: found '-1'; expected a whole number, 0 or more"),
        ("record_book", f"{BOOK}weapons\nB,2020-21,bow;sling", f"row 2, weapons: 'sling' is no weapon; expected any of: {WORDS}"),
        ("record_book", f"{BOOK}weapons,takes_found\nB,2020-21,found;bow,no",
         "row 2, row: weapons lists found, but takes_found says no; say one of the two"),
        ("record_book", f"{BOOK}states\nB,2020-21,QM;Quillmark",
         "row 2, states: found 'QM;Quillmark'; expected states of two capital letters, separated by ;"),
        ("record_book", f"{BOOK}areas\nB,2020-21,7001", "row 2, areas: found '7001'; expected area codes of five digits, separated by ;"),
        ("record_book", f"{BOOK}last_season\nB,2020-21,2019-20", "row 2, row: last_season 2019-20 is before first_season 2020-21"),
        ("area_district", "area_code,district,first_season,last_season\n07001,North,2020-21,2019-20",
         "row 2, row: last_season 2019-20 is before first_season 2020-21"),
        ("area_change", "old_code,new_code,changed_on,kind\n07001,07003,2015-05-01,moved",
         "row 2, kind: found 'moved'; expected renamed, merged or split"),
        ("effort", "area_code,season,square_miles\n07001,2020-21,6x",
         "row 2, square_miles: found '6x'; expected square miles like 612 or 612.5"),
        ("effort", "area_code,season,square_miles\n07001,2020-21,6.125",
         "row 2, square_miles: found '6.125'; expected square miles like 612 or 612.5"),
        ("effort", 'area_code,season,licences_sold\n07001,2020-21,"1,250"',
         "row 2, licences_sold: found '1,250'; expected a whole number, 0 or more"),
        ("effort", "area_code,season,antlered_harvest\n07001,2020-21,2147483648",
         "row 2, antlered_harvest: found '2147483648'; expected a whole number, 0 or more"),
        ("panel_measure", f"{PANEL}S,2026-02-30,H,M-1,net,140 0/8", "row 2, measured_on: found '2026-02-30'; expected a date like 2024-07-01"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,beam,22 0/8", f"row 2, line: found 'beam'; expected {LINES}"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,deductions,2 0/8", f"row 2, line: found 'deductions'; expected {LINES}"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,net,-1 0/8", f"row 2, length: found '-1 0/8'; expected {LENGTHS}"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,net,-3", f"row 2, length: found '-3'; expected {LENGTHS}"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,net,140.5", f"row 2, length: found '140.5'; expected {LENGTHS}"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,net,", f"row 2, length: found ''; expected {LENGTHS}"),
        ("panel_measure", f"{PANEL}S,2026-03-01, ,M-1,net,140 0/8", "row 2, head: found ' '; expected a text"),
    ],
)  # fmt: skip
def test_what_a_row_must_keep_to(table: str, text: str, message: str) -> None:
    assert refusal(table, text) == [f"x.csv, {message}"]


def test_every_bad_row_is_named_in_one_message() -> None:
    text = (
        "area_code,name,kind,state,district,region\n07001,Abberlow,county,QM,North,High\n"
        "7003,Brindmoor,county,QM,North,High\n07005,,county,QM,North,High\n"
        "07001,Abberlow again,county,QM,North,High\n07009,Dunmarsh,county,Quillmark,North,High"
    )
    assert refusal("area", text) == [
        "x.csv, row 3, area_code: found '7003'; expected five digits like 07001",
        "x.csv, row 4, name: found ''; expected a text",
        "x.csv, row 5, area_code: '07001' stands in row 2 already",
        "x.csv, row 6, state: found 'Quillmark'; expected two capital letters like QM",
    ]


@pytest.mark.parametrize(
    ("table", "text", "message"),
    [
        ("effort", "area_code,season\n07001,2020-21\n07001,2021-22\n07001,2020-21",
         "x.csv, row 4, area_code, season: '07001', '2020-21' stand in row 2 already"),
        ("area_change", "old_code,new_code,changed_on,kind\n07001,07003,2015-05-01,renamed\n07001,07003,2016-05-01,renamed",
         "x.csv, row 3, old_code, new_code: '07001', '07003' stand in row 2 already"),
        ("panel_measure", f"{PANEL}S,2026-03-01,H,M-1,net,140 0/8\nS,2026-03-01,H,M-2,net,140 0/8\nS,2026-03-02,H,M-1,net,141 0/8",
         "x.csv, row 4, session, head, measurer, line: 'S', 'H', 'M-1', 'net' stand in row 2 already"),
    ],
)  # fmt: skip
def test_rows_that_come_twice(table: str, text: str, message: str) -> None:
    assert refusal(table, text) == [message]


def test_a_long_list_of_problems_is_cut_and_counted() -> None:
    lines = refusal("area_alias", "alias,area_code\n" + "\n".join(["x,1"] * 25))
    assert len(lines) == 21
    assert lines[-1] == "... and 5 more"


def test_what_a_record_book_says_where_its_cells_are_blank() -> None:
    blank = only_row("record_book", f"{BOOK}last_season,score,takes_found,drying_days,states\n B ,2020-21,,,, ,")
    assert blank == {
        "book": "B", "first_season": "2020-21", "last_season": None, "score": "net", "tie_rule": "shared", "weapons": [],
        "takes_found": True, "drying_days": 60, "certificates": [], "states": [], "districts": [], "areas": [],
        "measured_within_days": None, "received_within_days": None,
    }  # fmt: skip


def test_lists_are_separated_by_semicolons() -> None:
    row = only_row(
        "record_book",
        f"{BOOK}districts,certificates,areas\nB,2020-21,North Fells; Lowmarch ;,official;club,07001;07003",
    )
    assert [row["districts"], row["certificates"], row["areas"]] == [
        ["North Fells", "Lowmarch"], ["official", "club"], ["07001", "07003"],
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("written", "weapons"),
    [
        ("firearm", ["rifle", "shotgun", "handgun"]),
        ("Bow; handgun;firearm", ["rifle", "shotgun", "handgun", "bow"]),
        ("crossbow;bow", ["bow", "crossbow"]),
        ("any;bow", []),
        ("", []),
    ],
)
def test_a_class_of_weapons_stands_for_its_weapons(written: str, weapons: list[str]) -> None:
    assert only_row("record_book", f"{BOOK}weapons\nB,2020-21,{written}")["weapons"] == weapons


def test_weapons_and_their_classes_are_those_of_the_book(empty_book: Path) -> None:
    assert dict(query(empty_book, "SELECT weapon, weapon_class FROM weapon")) == WEAPONS
    assert {"any", *WEAPONS.values()} == set(WEAPON_CLASSES)


def test_other_rows_with_what_may_be_left_out() -> None:
    assert only_row("measurer", "measurer_no,name,certified_from\nM-1,Ann,2020-03-01") == {
        "measurer_no": "M-1", "name": "Ann", "certified_from": date(2020, 3, 1), "certified_to": None, "certificate": "official",
    }  # fmt: skip
    assert only_row("minimum", f"{MINIMUM}\nB,whitetail-typical,any,125 4/8,2020-21") == {
        "book": "B", "category": "whitetail-typical", "weapon_class": "any", "antler_state": "any", "minimum_units": 1004,
        "first_season": "2020-21", "last_season": None,
    }  # fmt: skip
    assert only_row("minimum", f"{MINIMUM}\nB,whitetail-typical,any,125,2020-21")["minimum_units"] == 1000
    assert only_row("effort", "area_code,season,square_miles,licences_sold,antlered_harvest\n07001,2020-21,612.5,,") == {
        "area_code": "07001", "season": "2020-21", "square_miles": Decimal("612.5"), "licences_sold": None,
        "antlered_harvest": None,
    }  # fmt: skip
    assert only_row("area", "area_code,name,kind,state\n07001,Abberlow,,QM") == {
        "area_code": "07001", "name": "Abberlow", "kind": "county", "state": "QM", "district": "", "region": "",
    }  # fmt: skip


@pytest.mark.parametrize(("length", "units"), [("140 3/8", 1123), ("7/8", 7), ("0", 0), ("21 0/8", 168), ("21", 168)])
def test_a_length_of_a_panel_is_kept_in_eighths(length: str, units: int) -> None:
    assert only_row("panel_measure", f"{PANEL}Two Rivers,2026-03-01,H-01, M-1 ,inside_spread,{length}") == {
        "session": "Two Rivers", "measured_on": date(2026, 3, 1), "head": "H-01", "measurer_no": "M-1", "line": "inside_spread",
        "length_units": units, "unit": 8,
    }  # fmt: skip


@pytest.mark.parametrize("category", all_categories().values(), ids=lambda category: category.code)
def test_a_panel_may_measure_a_score_and_every_measure_of_a_sheet(category: Category) -> None:
    lines = ["net", "gross", *category.measures]
    rows = rows_of("panel_measure", PANEL + "\n".join(f"S,2026-03-01,H,M-1,{line},9 0/8" for line in lines))
    assert [row.values["line"] for row in rows] == lines


def test_native_values_and_fields_that_are_none() -> None:
    given: dict[str, Any] = {
        "book": "B",
        "first_season": "2020-21",
        "takes_found": False,
        "weapons": ["bow"],
        "colour": "red",
    }
    with pytest.raises(ReferenceRefused) as refused:
        check_rows("record_book", "books.toml", [(1, given)], spot="[[record_book]]")
    assert str(refused.value) == (
        "books.toml, [[record_book]] 1, colour: the table has no such field; expected: book, first_season, last_season, "
        "score, tie_rule, weapons, takes_found, drying_days, certificates, states, districts, areas, measured_within_days, "
        "received_within_days"
    )
    del given["colour"]
    (row,) = check_rows("record_book", "books.toml", [(1, given)], spot="[[record_book]]")
    assert [row.values["takes_found"], row.values["weapons"], row.place] == [
        False,
        ["bow"],
        "books.toml, [[record_book]] 1",
    ]


def test_the_columns_of_a_row_are_those_of_the_book(empty_book: Path) -> None:
    texts = {
        "area": "area_code,name,state\n07001,A,QM", "area_alias": "alias,area_code\nA,07001",
        "area_district": "area_code,district,first_season\n07001,N,2020-21",
        "area_change": "old_code,new_code,changed_on,kind\n07001,07003,2015-05-01,renamed",
        "measurer": "measurer_no,name,certified_from\nM-1,Ann,2020-03-01",
        "season": "season,starts_on,ends_on\n2024-25,2024-07-01,2025-06-30", "record_book": "book,first_season\nB,2020-21",
        "minimum": f"{MINIMUM}\nB,whitetail-typical,any,1 0/8,2020-21", "effort": "area_code,season\n07001,2020-21",
        "panel_measure": f"{PANEL}S,2026-03-01,H,M-1,net,140 0/8",
    }  # fmt: skip
    assert list(texts) == list(TABLES)
    with database.reading(empty_book) as connection:
        for table, text in texts.items():
            rows = connection.execute(
                "SELECT column_name FROM duckdb_columns() WHERE table_name = ? AND database_name = current_database()",
                [table],
            ).fetchall()
            assert {name for (name,) in rows} == set(only_row(table, text)), table
