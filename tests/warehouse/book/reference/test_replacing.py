"""Whole tables put in place of the book's: what changed, what the log keeps, what is left alone, what is refused."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.book_builder import file_of, heads, load, query
from tests.warehouse.book.reference.table_texts import rows_of
from warehouse.book import contents, database
from warehouse.book.reference import Change, Told, plan, put, read_rows, rows_text
from warehouse.errors import ReferenceRefused

NOW = datetime(2026, 11, 25, 12, 30)
TOLD = Told(" Una Reed ", " minutes of 3 May ", NOW)
AREAS = "area_code,name,state\n07001,Abberlow,QM\n07003,Brindmoor,QM\n07005,Corrowick,QM"
MINIMUM = "book,category,weapon_class,minimum,first_season\n"
OURS = f"{MINIMUM}B,whitetail-typical,any,125 0/8,2010-11\nA,whitetail-typical,bow,100 0/8,2012-13"
PANEL = "session,measured_on,head,measurer,line,length\n"
BOOKS = "book,first_season,weapons,drying_days\nB,2006-07,bow,30"
DEFAULTS = ["net", "shared", [], True, 60, [], [], [], [], None, None]


def placed(book: Path, told: Told = TOLD, **texts: str) -> tuple[Change, ...]:
    with database.writing(book) as connection:
        return put(connection, {table: rows_of(table, text, f"{table}.csv") for table, text in texts.items()}, told)


def refusal(book: Path, told: Told = TOLD, **texts: str) -> list[str]:
    before = query(book, "SELECT count(*) FROM event")
    with pytest.raises(ReferenceRefused) as refused:
        placed(book, told, **texts)
    assert query(book, "SELECT count(*) FROM event") == before
    return str(refused.value).splitlines()


def events(book: Path) -> list[tuple[Any, ...]]:
    return query(book, "SELECT event_no, author, kind, reason, about, happened_at FROM event ORDER BY event_no")


def test_a_table_is_replaced_whole_and_what_changed_is_counted(empty_book: Path) -> None:
    assert placed(empty_book, area=AREAS) == (Change("area", 0, 3, 3, 0, 0, by_default=False),)
    now = AREAS.replace("Brindmoor", "Brindmore").replace("07005,Corrowick", "07007,Dunvessel") + "\n07009,Elmsgarth,QM"
    assert placed(empty_book, area=now) == (Change("area", 3, 4, 2, 1, 1, by_default=False),)
    assert query(empty_book, "SELECT area_code, name, kind, district FROM area ORDER BY 1") == [
        ("07001", "Abberlow", "county", ""), ("07003", "Brindmore", "county", ""), ("07007", "Dunvessel", "county", ""),
        ("07009", "Elmsgarth", "county", ""),
    ]  # fmt: skip


def test_each_table_that_changed_has_an_event_and_the_others_none(empty_book: Path) -> None:
    placed(empty_book, area=AREAS, season="season,starts_on,ends_on\n2024-25,2024-07-01,2025-06-30")
    changes = placed(empty_book, area=AREAS, effort="area_code,season,square_miles\n07001,2024-25,612.50")
    assert [(change.table, change.is_none) for change in changes] == [("area", True), ("effort", False)]
    who = ("Una Reed", "reference", "minutes of 3 May")
    assert events(empty_book) == [(1, *who, "area", NOW), (2, *who, "season", NOW), (3, *who, "effort", NOW)]
    again = placed(empty_book, area=AREAS, effort="area_code,season,square_miles\n07001,2024-25,612.5")
    assert all(change.is_none for change in again)
    assert len(events(empty_book)) == 3


def test_the_log_keeps_the_table_as_it_was_put_in_place(empty_book: Path) -> None:
    placed(empty_book, record_book=BOOKS, area=AREAS)
    with database.reading(empty_book) as connection:
        kept = connection.execute("SELECT event_no, table_name, rows_text FROM reference_version ORDER BY 1").fetchall()
        assert [(number, table, text == rows_text(connection, table)) for number, table, text in kept] == [
            (1, "area", True), (2, "record_book", True),
        ]  # fmt: skip
        logged = connection.execute("SELECT content FROM event ORDER BY event_no").fetchall()
        assert [content for (content,) in logged] == [contents.of_reference(connection, number) for number in (1, 2)]
        assert rows_text(connection, "effort") == "[]"
    assert [row["area_code"] for row in json.loads(kept[0][2])] == ["07001", "07003", "07005"]
    assert json.loads(kept[1][2])[0] == {
        "book": "B", "first_season": "2006-07", "last_season": None, "score": "net", "tie_rule": "shared", "weapons": ["bow"],
        "takes_found": True, "drying_days": 30, "certificates": [], "states": [], "districts": [], "areas": [],
        "measured_within_days": None, "received_within_days": None,
    }  # fmt: skip


def test_what_is_read_back_is_what_was_written(empty_book: Path) -> None:
    texts = {
        "area": AREAS, "area_alias": "alias,area_code\nOld Brind,07003",
        "area_district": "area_code,district,first_season,last_season\n07001,North,2010-11,2012-13",
        "area_change": "old_code,new_code,changed_on,kind\n07001,07003,2015-05-01,merged",
        "measurer": "measurer_no,name,certified_from,certificate\nM-1,Ann,2020-03-01,club\nM-2,Bea,2020-03-01,club",
        "record_book": BOOKS, "effort": "area_code,season,square_miles,licences_sold\n07001,2020-21,612.5,40",
        "minimum": f"{MINIMUM}B,whitetail-typical,any,125 4/8,2010-11",
        "season": "season,starts_on,ends_on\n2024-25,2024-07-01,2025-06-30",
        "panel_measure": f"{PANEL}S,2026-03-01,H,M-1,net,140 3/8\nS,2026-03-01,H,M-2,beam_r,0",
    }  # fmt: skip
    placed(empty_book, TOLD, **texts)
    with database.reading(empty_book) as connection:
        assert {table: read_rows(connection, table) for table in texts} == {
            table: rows_of(table, text) for table, text in texts.items()
        }
        (row,) = read_rows(connection, "minimum")
        assert row.place == "the book's table minimum (B, whitetail-typical, any, any, 2010-11)"
        assert plan(connection, {table: rows_of(table, text) for table, text in texts.items()}).changed == []


def test_a_table_can_be_emptied(empty_book: Path) -> None:
    placed(empty_book, area=AREAS)
    assert placed(empty_book, area="area_code,name,state\n") == (Change("area", 3, 0, 0, 3, 0, by_default=False),)
    assert query(empty_book, "SELECT * FROM area") == []


def test_books_that_only_have_minimums_get_the_usual_rules(empty_book: Path) -> None:
    changes = placed(empty_book, minimum=OURS)
    assert [(change.table, change.after, change.by_default) for change in changes] == [
        ("record_book", 2, True), ("minimum", 2, False),
    ]  # fmt: skip
    found = query(empty_book, "SELECT * FROM record_book ORDER BY book")
    assert [list(row) for row in found] == [["A", "2012-13", None, *DEFAULTS], ["B", "2010-11", None, *DEFAULTS]]


def test_usual_rules_follow_the_minimums_until_a_book_has_rules_of_its_own(empty_book: Path) -> None:
    placed(empty_book, minimum=OURS)
    earlier = f"{MINIMUM}C,whitetail-typical,any,125 0/8,2010-11\nC,whitetail-nontypical,any,9 0/8,2001-02"
    placed(empty_book, minimum=earlier)
    assert query(empty_book, "SELECT book, first_season FROM record_book") == [("C", "2001-02")]
    placed(empty_book, minimum=f"{MINIMUM}B,whitetail-typical,any,125 0/8,2010-11", record_book=BOOKS)
    assert refusal(empty_book, minimum=earlier) == [
        f"minimum.csv, row {row}, book: found 'C'; expected a book with rules (books.csv): B" for row in (2, 3)
    ]


def test_the_defaults_are_those_of_the_migration(empty_book: Path) -> None:
    placed(empty_book, minimum=OURS)
    script = Path(database.__file__).parent / "migrations" / "0003_decisions.sql"
    sql = script.read_text(encoding="utf-8").split("INSERT INTO record_book\n")[1].split(";")[0]
    assert sorted(query(empty_book, sql)) == query(empty_book, "SELECT * FROM record_book ORDER BY book")


def test_tables_that_stay_are_held_against_the_new_ones(empty_book: Path) -> None:
    placed(empty_book, area=AREAS, area_alias="alias,area_code\nOld Brind,07003", record_book=BOOKS)
    placed(empty_book, minimum=f"{MINIMUM}B,whitetail-typical,any,125 0/8,2010-11")
    assert refusal(empty_book, area="area_code,name,state\n07001,Abberlow,QM") == [
        "the book's table area_alias (Old Brind, 07003), area_code: found '07003'; expected the code of an area"
    ]
    assert refusal(empty_book, record_book="book,first_season\nC,2006-07") == [
        "the book's table minimum (B, whitetail-typical, any, any, 2010-11), book: found 'B'; expected a book with rules "
        "(books.csv): C"
    ]
    placed(empty_book, measurer="measurer_no,name,certified_from\nM-1,Ann,2020-03-01\nM-2,Bea,2020-03-01")
    placed(empty_book, panel_measure=f"{PANEL}S,2026-03-01,H,M-1,net,140 0/8\nS,2026-03-01,H,M-2,net,140 0/8")
    assert refusal(empty_book, measurer="measurer_no,name,certified_from\nM-1,Ann,2020-03-01") == [
        "the book's table panel_measure (S, H, M-2, net), measurer: found 'M-2'; expected the number of a measurer (measurers.csv)"
    ]
    both = {"record_book": "book,first_season\nC,2006-07", "minimum": f"{MINIMUM}C,whitetail-typical,any,9 0/8,2010-11"}
    assert [change.table for change in placed(empty_book, TOLD, **both)] == ["record_book", "minimum"]


def test_an_old_fault_in_a_table_that_stays_hinders_nobody(empty_book: Path) -> None:
    with database.writing(empty_book) as connection:
        for label in ("2010-11", "2009-10"):
            connection.execute(f"INSERT INTO season VALUES ('{label}', DATE '2010-07-01', DATE '2011-06-30')")
    assert placed(empty_book, area=AREAS)[0].after == 3


def test_an_area_that_entries_lie_in_stays(empty_book: Path, tmp_path: Path) -> None:
    placed(empty_book, area=AREAS)
    rows = [row | {"state": "QM", "district": ""} for row in heads(1, 3)]
    load(empty_book, file_of(tmp_path / "a.csv", [rows[0], rows[1], rows[2] | {"area": "Corrowick"}]))
    assert refusal(empty_book, area="area_code,name,state\n07003,Brindmoor,QM") == [
        "areas: no row for 07001, where 2 entries of the book lie; keep its row, and say in area_changes.csv which code took over from it",
        "areas: no row for 07005, where 1 entry of the book lies; keep its row, and say in area_changes.csv which code took over from it",
    ]  # fmt: skip
    assert placed(empty_book, area=AREAS.replace("\n07003,Brindmoor,QM", ""))[0].removed == 1


@pytest.mark.parametrize(("told", "what"), [(Told(" ", "x", NOW), "name"), (Told("x", "", NOW), "reason")])
def test_a_change_needs_a_name_and_a_reason(empty_book: Path, told: Told, what: str) -> None:
    assert refusal(empty_book, told, area=AREAS) == [
        f"a change of reference tables needs a {what}; nothing was changed"
    ]
