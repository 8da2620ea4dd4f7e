"""The balance, the statuses and the reference tables, altered by hand: what is named."""

import duckdb
import pytest

from tests.warehouse.book.verify.faults import fault
from warehouse.book.verify.counts import check_balance, check_statuses
from warehouse.book.verify.reference_tables import check_reference


def test_rows_that_are_missing_upset_the_balance(ledger: duckdb.DuckDBPyConnection) -> None:
    ledger.execute("DELETE FROM received_row WHERE row_id = 7")  # head 1, sent again
    parts = "5 accepted + 0 held + 1 refused + 1 withdrawn + 1 sent again + 1 merged"
    ending = "; the check of counts says which is too much or missing"
    assert fault(ledger, check_balance) == f"10 rows received, but {parts}{ending}"
    ledger.execute("DELETE FROM entry WHERE entry_id = 5")
    assert fault(ledger, check_balance) == f"10 rows received, but {parts.replace('1 withdrawn + ', '')}{ending}"


@pytest.mark.parametrize(
    ("sql", "message"),
    [
        ("UPDATE entry_revision SET status = 'accepted' WHERE revision_id = 2",
         "first.csv, row 3: revision 1 is accepted, but what was found of it holds it"),
        ("UPDATE entry_revision SET status = 'accepted' WHERE revision_id = 3",
         "first.csv, row 4: revision 1 is accepted, but what was found of it holds it"),
        ("UPDATE entry_revision SET status = 'held' WHERE revision_id = 7",
         "second.csv, row 3: revision 2 is held, but nothing was found that holds it"),
        ("DELETE FROM finding WHERE revision_id = 6", "first.csv, row 7: revision 1 is held, but nothing was found that holds it"),
        ("INSERT INTO finding VALUES (2, NULL, NULL, 'column-twice', 'error', ['net'], NULL, NULL, 'm')",
         "second.csv, row 3: revision 2 is accepted, but what was found of it holds it"),
        ("UPDATE entry_revision SET net = NULL WHERE revision_id = 8",
         "second.csv, row 4: revision 1 is accepted, but what was found of it holds it"),
        ("UPDATE received_row SET verdict = 'new' WHERE row_id = 7", "second.csv, row 2: its verdict is 'new', expected 'unchanged'"),
        ("UPDATE received_row SET verdict = 'new' WHERE row_id = 8", "second.csv, row 3: its verdict is 'new', expected 'revised'"),
        ("UPDATE received_row SET verdict = 'held' WHERE row_id = 9", "second.csv, row 4: its verdict is 'held', expected 'new'"),
        ("UPDATE received_row SET verdict = 'revised' WHERE row_id = 10", "second.csv, row 5: its verdict is 'revised', expected 'held'"),
    ],
)  # fmt: skip
def test_a_status_that_nothing_asks_for_is_named(ledger: duckdb.DuckDBPyConnection, sql: str, message: str) -> None:
    (touched,) = ledger.execute(sql).fetchall()[0]
    assert touched > 0
    assert fault(ledger, check_statuses) == message


@pytest.mark.parametrize(
    ("sql", "message"),
    [
        ("UPDATE minimum SET minimum_units = 1001",
         'table minimum is not as event 5 put it in place: this row is missing: {"book": "Quillmark Record", '
         '"category": "whitetail-typical", "weapon_class": "any", "minimum_units": 1000, '
         '"first_season": "2010-11", "last_season": null, "antler_state": "any"}'),
        ("INSERT INTO season VALUES ('2026-27', DATE '2026-07-01', DATE '2027-06-30')",
         "table season is not as event 3 put it in place: this row is too much: "
         '{"season": "2026-27", "starts_on": "2026-07-01", "ends_on": "2027-06-30"}'),
        ("UPDATE reference_version SET rows_text = '{' WHERE event_no = 1",
         "table area is not as event 1 put it in place: what the log keeps of it cannot be read"),
        ("INSERT INTO reference_version VALUES (9, 'nowhere', '[]')",
         "table nowhere is not as event 9 put it in place: there is no such table"),
        ("UPDATE reference_version SET rows_text = "
         "to_json(list_reverse(from_json(rows_text, '[\"JSON\"]')))::VARCHAR WHERE event_no = 1",
         "table area is not as event 1 put it in place: its rows are in another order"),
    ],
)  # fmt: skip
def test_a_reference_table_altered_by_hand_is_named(ledger: duckdb.DuckDBPyConnection, sql: str, message: str) -> None:
    ledger.execute(sql)
    assert fault(ledger, check_reference) == message
