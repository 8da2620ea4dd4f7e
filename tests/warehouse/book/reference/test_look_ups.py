"""What the loaders read of the reference tables, and the heading mappings kept beside them."""

from datetime import date, datetime
from pathlib import Path

from tests.warehouse.book.reference.table_texts import rows_of
from warehouse.book import database, reference


def test_a_mapping_is_kept_under_its_name_and_replaced(empty_book: Path) -> None:
    with database.writing(empty_book) as connection:
        reference.save_mapping(connection, "club", {"Right Beam": "beam_r", "Land": "-"})
        reference.save_mapping(connection, "other", {"X": "net"})
        reference.save_mapping(connection, "club", {"Beam": "beam_r"})
    with database.reading(empty_book) as connection:
        assert reference.read_mapping(connection, "club") == {"Beam": "beam_r"}
        assert reference.read_mapping(connection, "other") == {"X": "net"}
        assert reference.read_mapping(connection, "nobody") == {}


def test_names_and_history_of_areas(empty_book: Path) -> None:
    texts = {
        "area": "area_code,name,state,district\n07003,Brindmoor,QM,South\n07001,Abberlow,QM,North",
        "area_alias": "alias,area_code\nOld Brind,07003",
        "area_change": "old_code,new_code,changed_on,kind\n07001,07003,2015-05-01,merged",
        "area_district": "area_code,district,first_season,last_season\n07003,West,2010-11,2012-13\n07003,South,2013-14,",
        "measurer": "measurer_no,name,certified_from\nM-1,Ann,2020-03-01\nM-1,Ann,2024-03-01",
        "season": "season,starts_on,ends_on\n2024-25,2024-07-01,2025-06-30",
    }
    with database.writing(empty_book) as connection:
        told = reference.Told("tester", "test", datetime(2026, 11, 25))
        reference.put(connection, {table: rows_of(table, text) for table, text in texts.items()}, told)
        areas, aliases, measurers, seasons = reference.read_names(connection)
        changes, districts = reference.read_area_history(connection)
    assert areas == [("07001", "Abberlow", "QM", "North"), ("07003", "Brindmoor", "QM", "South")]
    assert (aliases, measurers) == ([("Old Brind", "07003")], [("M-1", "Ann")])
    assert seasons.rows() == [("2024-25", date(2024, 7, 1), date(2025, 6, 30))]
    assert changes == [("07001", "07003", date(2015, 5, 1), "merged")]
    assert districts == [("07003", "West", "2010-11", "2012-13"), ("07003", "South", "2013-14", None)]
