"""What the events wrote into other tables, altered by hand: the event is named, and the row where it has a mark."""

import duckdb
import pytest

from tests.warehouse.book.verify.faults import fault
from warehouse.book.marks import MARKS
from warehouse.book.verify.marks import check_marks
from warehouse.book.verify.written import check_contents

LOAD = "event 6 (load): what it wrote is not as it was written (load 1: first.csv)"
SECOND = "event 7 (load): what it wrote is not as it was written (load 2: second.csv)"
CORRECTED = "event {} ({}): what it wrote is not as it was written (revision {} of entry {})"
EDITION = "event 22 (publish): what it wrote is not as it was written (edition 2026)"
MARK = "is not as it was written: its mark is not that of its fields"


@pytest.mark.parametrize(
    ("sql", "message"),
    [
        ("UPDATE load SET program = 'another' WHERE load_id = 2", SECOND),
        ("UPDATE received_file SET name = 'x' || name WHERE file_id = 1", LOAD.replace("first", "xfirst")),
        ("UPDATE received_file SET fields = list_reverse(fields) WHERE file_id = 2", SECOND),
        ("UPDATE finding SET message = message || ' ' WHERE row_id = 2 AND revision_id = 2", LOAD),
        ("UPDATE finding SET severity = 'note' WHERE revision_id = 9", SECOND),
        ("DELETE FROM finding WHERE revision_id = 6", LOAD),
        ("INSERT INTO finding SELECT * REPLACE ('net' AS code) FROM finding WHERE revision_id = 2 LIMIT 1", LOAD),
        ("UPDATE explanation SET net = net + 1 WHERE revision_id = 2 AND place = 0", LOAD),
        ("DELETE FROM explanation WHERE revision_id = 3", LOAD),
        ("UPDATE explanation SET place = place + 1 WHERE revision_id = 12", CORRECTED.format(10, "correct", 4, "2")),
        ("UPDATE finding SET stated = '0' WHERE revision_id = 12", CORRECTED.format(10, "correct", 4, "2")),
        ("UPDATE corrected_cell SET corrected_text = '1' WHERE revision_id = 10", CORRECTED.format(8, "correct", 2, "2")),
        ("UPDATE corrected_cell SET stated_text = '1' WHERE revision_id = 11", CORRECTED.format(9, "undo", 3, "2")),
        ("DELETE FROM corrected_cell WHERE revision_id = 12 AND field = 'tag_no'", CORRECTED.format(10, "correct", 4, "2")),
        ("UPDATE corrected_cell SET field = 'g2_l' WHERE field = 'g2_r'", CORRECTED.format(12, "correct", 2, "3")),
        ("UPDATE edition SET entries = 9", EDITION),
        ("UPDATE edition_line SET net = net + 1 WHERE place = 1", EDITION),
        ("DELETE FROM edition_line WHERE place = 2", EDITION),
        ("UPDATE edition_minimum SET minimum_units = 1", EDITION),
        ("INSERT INTO edition_change VALUES (1, 'B', 'c', 'new', 1, '1', 'h', NULL, 1, 'w')", EDITION),
        ("UPDATE reference_version SET rows_text = '[]' WHERE event_no = 2",
         "event 2 (reference): what it wrote is not as it was written (table measurer)"),
    ],
)  # fmt: skip
def test_an_edit_of_what_an_event_wrote_is_found(ledger: duckdb.DuckDBPyConnection, sql: str, message: str) -> None:
    (touched,) = ledger.execute(sql).fetchall()[0]
    assert touched > 0
    assert fault(ledger, check_contents) == message


@pytest.mark.parametrize(
    ("table", "sql", "mark_message", "content_message"),
    [
        ("received_row", "SET cells = replace(cells, '22 1/8', '23 1/8') WHERE row_id = 4",
         f"first.csv, row 5: the row as received {MARK}", LOAD),
        ("received_row", "SET row = 99 WHERE row_id = 10", f"second.csv, row 99: the row as received {MARK}", SECOND),
        ("received_row", "SET entry_id = 1 WHERE row_id = 9", f"second.csv, row 4: the row as received {MARK}", SECOND),
        ("entry_revision", "SET gross = gross + 1, net = net + 1 WHERE revision_id = 5", f"entry 5, revision 1: it {MARK}", LOAD),
        ("entry_revision", "SET hunter = 'Nobody' WHERE revision_id = 7", f"entry 4, revision 2: it {MARK}", SECOND),
        ("entry_revision", "SET status = 'held' WHERE revision_id = 1", f"entry 1, revision 1: it {MARK}", LOAD),
        ("entry_revision", "SET measurer = NULL WHERE revision_id = 8", f"entry 7, revision 1: it {MARK}", SECOND),
        ("entry_revision", "SET net = NULL, stated_net = 1 WHERE revision_id = 14", f"entry 3, revision 2: it {MARK}",
         CORRECTED.format(12, "correct", 2, "3")),
        ("entry_revision", "SET age_half_years = 9 WHERE revision_id = 1", f"entry 1, revision 1: it {MARK}", LOAD),
        ("entry_revision", "SET author = 'X' WHERE revision_id = 11", f"entry 2, revision 3: it {MARK}",
         CORRECTED.format(9, "undo", 3, "2")),
    ],
)  # fmt: skip
def test_an_altered_row_is_named_and_with_a_forged_mark_its_event(
    ledger: duckdb.DuckDBPyConnection, table: str, sql: str, mark_message: str, content_message: str
) -> None:
    (touched,) = ledger.execute(f"UPDATE {table} {sql}").fetchall()[0]
    assert touched == 1
    assert fault(ledger, check_marks) == mark_message
    ledger.execute(f"UPDATE {table} SET mark = {MARKS[table]}")
    assert fault(ledger, check_marks) is None
    assert fault(ledger, check_contents) == content_message


def test_a_missing_mark_is_a_fault(ledger: duckdb.DuckDBPyConnection) -> None:
    ledger.execute("UPDATE entry_revision SET mark = NULL WHERE revision_id = 12")
    assert fault(ledger, check_marks) == "entry 2, revision 4: it has no mark"
    ledger.execute("UPDATE received_row SET mark = NULL WHERE row_id = 8")
    assert fault(ledger, check_marks) == "second.csv, row 3: the row as received has no mark"
