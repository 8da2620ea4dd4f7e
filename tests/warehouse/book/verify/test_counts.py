"""Rows that are missing, too many, or of nothing: what is named."""

import duckdb
import pytest

from tests.warehouse.book.verify.faults import fault
from warehouse.book.verify.counts import check_counts

FORGED = "INSERT INTO event SELECT {}, happened_at, author, '{}', reason, {}, {}, {}, {}, {}, NULL, NULL, {}, NULL, previous, hash FROM event WHERE event_no = 23"


@pytest.mark.parametrize(
    ("sql", "message"),
    [
        ("UPDATE received_file SET row_count = 7 WHERE file_id = 1", "first.csv: 7 rows came, 6 are there"),
        ("DELETE FROM received_row WHERE row_id = 10", "second.csv: 4 rows came, 3 are there"),
        ("DELETE FROM load WHERE load_id = 2", "second.csv: its load 2 is not there"),
        ("UPDATE received_file SET fields = fields[2:] WHERE file_id = 2",
         "second.csv: its headings and its fields are not equally many"),
        ("DELETE FROM received_file WHERE file_id = 2", "file 2, row 2: its file 2 is not there"),
        ("DELETE FROM entry WHERE entry_id = 5", "first.csv, row 6: its entry =5 is not there"),
        ("INSERT INTO entry VALUES (9, NULL)", "entry =9: no received row is of it"),
        ("DELETE FROM entry_revision WHERE entry_id = 5", "entry 5: it has no revision"),
        ("DELETE FROM entry_revision WHERE revision_id = 11", "entry 2: revision 4 stands where revision 3 should"),
        ("UPDATE entry_revision SET revision_no = 2 WHERE revision_id = 1", "entry 1: revision 2 stands where revision 1 should"),
        ("INSERT INTO entry_revision SELECT * REPLACE (20 AS revision_id, 20 AS entry_id) FROM entry_revision WHERE revision_id = 5",
         "revision 1 of entry =20: the entry is not there"),
        ("UPDATE entry_revision SET row_id = 4 WHERE revision_id = 5", "entry 5, revision 1: its received row is of another entry"),
        ("UPDATE entry_revision SET row_id = 40 WHERE revision_id = 5", "entry 5, revision 1: its received row is not there"),
        ("UPDATE measurement SET revision_id = 90 WHERE revision_id = 5 AND line = 'g2'",
         "a measure (g2) is of revision 90, which is not there"),
        ("UPDATE explanation SET revision_id = 90 WHERE revision_id = 3", "an explanation is of revision 90, which is not there"),
        ("UPDATE corrected_cell SET revision_id = 90 WHERE field = 'antler_state'",
         "a corrected cell (antler_state) is of revision 90, which is not there"),
        ("INSERT INTO finding VALUES (9, NULL, NULL, 'rows-blank', 'note', [], NULL, NULL, 'm')", "a finding (rows-blank) is of file 9, which is not there"),
        ("UPDATE finding SET row_id = 5 WHERE revision_id = 6",
         "a finding (head-twice) is of first.csv, row 6, revision 6, which do not belong together"),
        ("UPDATE finding SET revision_id = 5 WHERE revision_id = 6",
         "a finding (head-twice) is of first.csv, row 7, revision 5, which do not belong together"),
        ("DELETE FROM event WHERE event_no = 7", "load 2: 0 events of the log tell of it, expected 1"),
        (FORGED.format(24, "load", 2, *["NULL"] * 5), "load 2: 2 events of the log tell of it, expected 1"),
        (FORGED.format(24, "load", 3, *["NULL"] * 5), "event 24 (load): load 3 is not there"),
        ("DELETE FROM corrected_cell WHERE revision_id = 10", "entry =2, revision 2: it corrects the row as received, but no corrected cell says how"),
        ("INSERT INTO corrected_cell VALUES (5, 'net', NULL, '')", "entry =5, revision 1: it is the row as received, but has corrected cells"),
        ("DELETE FROM event WHERE event_no = 8", "entry =2, revision 2: 0 events of the log tell of the correction, expected 1"),
        ("UPDATE event SET revision_id = 5 WHERE event_no = 12", "entry =3, revision 2: 0 events of the log tell of the correction, expected 1"),
        (FORGED.format(24, "correct", "NULL", 5, 5, "NULL", "NULL", "NULL"), "event 24: revision 5 is not there, or corrects nothing"),
        ("UPDATE event SET entry_id = 50 WHERE event_no = 13", "event 13 (hold): entry =50 is not there"),
        ("UPDATE event SET entry_id = NULL WHERE event_no = 13", "event 13 (hold): entry (none) is not there"),
        ("UPDATE event SET revision_id = 1 WHERE event_no = 13", "event 13 (hold): revision 1 is not one of entry =4"),
        ("UPDATE event SET revision_id = NULL WHERE event_no = 21", "event 21 (accept): revision (none) is not one of entry =8"),
        ("UPDATE event SET other_entry_id = 90 WHERE event_no = 17", "event 17 (merge): the other entry, =90, is not there"),
        ("UPDATE event SET other_entry_id = NULL WHERE event_no = 18", "event 18 (distinct): the other entry, (none), is not there"),
        ("UPDATE event SET undoes = 16 WHERE event_no = 14", "event 14 (undo): it undoes event 16, which cannot be undone by it"),
        ("UPDATE event SET undoes = NULL WHERE event_no = 14", "event 14 (undo): it undoes event (none), which cannot be undone by it"),
        ("UPDATE event SET undoes = 15 WHERE event_no = 14", "event 14 (undo): it undoes event 15, which cannot be undone by it"),
        (FORGED.format(24, "undo", "NULL", 4, 7, "NULL", 13, "NULL"), "event 14 (undo): it undoes event 13, which cannot be undone by it"),
        (FORGED.format(24, "undo", "NULL", 4, 7, "NULL", 14, "NULL"), "event 24 (undo): it undoes event 14, which cannot be undone by it"),
        ("UPDATE event SET undoes = 13 WHERE event_no = 15", "event 14 (undo): it undoes event 13, which cannot be undone by it"),
        ("DELETE FROM event WHERE event_no = 22", "edition 2026: 0 events of the log tell of it, expected 1"),
        (FORGED.format(24, "publish", *["NULL"] * 5, "'2027'"), "event 24 (publish): edition 2027 is not there"),
        ("UPDATE edition_line SET edition_no = 3 WHERE place = 1", "a line of edition 3, which is not there"),
        ("UPDATE edition_minimum SET edition_no = 3", "a minimum of edition 3, which is not there"),
        ("INSERT INTO edition_change VALUES (3, 'B', 'c', 'new', 1, '1', 'h', NULL, 1, 'w')", "a change of edition 3, which is not there"),
        ("INSERT INTO reference_version VALUES (9, 'area', '[]')", "table area: event 9 of the log does not tell that it was put in place"),
        ("UPDATE reference_version SET table_name = 'season' WHERE event_no = 23",
         "table season: event 23 of the log does not tell that it was put in place"),
        ("DELETE FROM reference_version WHERE event_no = 23", "event 23: what it put in place of table measurer is not there"),
        ("UPDATE edition SET head = repeat('1', 64)", "edition 2026: it rests on another head than event 22 of the log"),
    ],
)  # fmt: skip
def test_what_is_missing_or_too_much_is_named(ledger: duckdb.DuckDBPyConnection, sql: str, message: str) -> None:
    ledger.execute(sql)
    assert fault(ledger, check_counts) == message
