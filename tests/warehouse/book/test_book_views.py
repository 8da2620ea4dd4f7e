from collections.abc import Iterator
from pathlib import Path

import duckdb
import pytest

from tests.book_builder import new_book
from warehouse.book import database

# Entry 1 was held, then accepted; entry 2 is accepted, of an area nobody knows; entry 3 is held.
ROWS = """
INSERT INTO area VALUES ('07001', 'Abberlow', 'county', 'QM', 'North', 'High');
INSERT INTO load VALUES (1, TIMESTAMP '2026-01-01', 'a', 'b');
INSERT INTO received_file VALUES (1, 1, 'a.csv', NULL, repeat('a', 64), ['No'], ['entry_no'], 3),
                                 (2, 1, 'b.xlsx', 'Night 1', repeat('b', 64), ['No'], ['entry_no'], 1);
INSERT INTO received_row (row_id, file_id, row, cells, verdict, entry_id) VALUES (1, 1, 2, '17', 'held', 1), (2, 1, 3, '18', 'new', 2), (3, 1, 4, '', 'held', 3),
                                (4, 2, 5, '17', 'revised', 1);
INSERT INTO entry VALUES (1, '17'), (2, '18'), (3, NULL);
INSERT INTO entry_revision (revision_id, entry_id, revision_no, row_id, made_at, author, reason, status, category, unit,
                            area_code, season, weapon, abnormal_total, deductions, gross, net) VALUES
    (1, 1, 1, 1, now()::TIMESTAMP, 'a', 'first received', 'held', 'whitetail-typical', 8, '07001', '2024-25', 'bow', 0, 5, 1000, 995),
    (2, 2, 1, 2, now()::TIMESTAMP, 'a', 'first received', 'accepted', 'whitetail-typical', 8, NULL, '2025-26', 'rifle', 0, 0, 1040, 1040),
    (3, 3, 1, 3, now()::TIMESTAMP, 'a', 'first received', 'held', 'whitetail-typical', 8, '07001', '2025-26', 'bow', 0, 0, 2000, 2000),
    (4, 1, 2, 4, now()::TIMESTAMP, 'a', 'beam_r: 20 -> 21', 'accepted', 'whitetail-typical', 8, '07001', '2024-25', 'bow', 0, 0, 1100, 1100);
INSERT INTO finding VALUES (1, 1, 1, 'net', 'error', ['net'], '1', '2', 'of a revision that has been replaced'),
                           (1, 3, 3, 'net', 'error', ['net'], '1', '2', 'of a current revision'),
                           (2, NULL, NULL, 'column-unmatched', 'question', ['X'], NULL, NULL, 'of a file');
"""


@pytest.fixture(scope="module")
def connection(tmp_path_factory: pytest.TempPathFactory) -> Iterator[duckdb.DuckDBPyConnection]:
    book: Path = new_book(tmp_path_factory.mktemp("views"))
    with database.writing(book) as connection:
        connection.execute(ROWS)
    with database.reading(book) as connection:
        yield connection


def test_the_current_entry_is_the_highest_revision_with_its_place(connection: duckdb.DuckDBPyConnection) -> None:
    rows = connection.execute(
        "SELECT entry_id, entry_no, revision_id, status, net, area, district, region, weapon_class "
        "FROM current_entry ORDER BY entry_id"
    ).fetchall()
    assert rows == [
        (1, "17", 4, "accepted", 1100, "Abberlow", "North", "High", "bow"),
        (2, "18", 2, "accepted", 1040, None, None, None, "firearm"),
        (3, None, 3, "held", 2000, "Abberlow", "North", "High", "bow"),
    ]


def test_open_findings_are_of_current_revisions_and_of_files(connection: duckdb.DuckDBPyConnection) -> None:
    rows = connection.execute(
        "SELECT message, entry_id, entry_no, file, sheet, row, district FROM open_finding ORDER BY file_id"
    ).fetchall()
    assert rows == [
        ("of a current revision", 3, None, "a.csv", None, 4, "North"),
        ("of a file", None, None, "b.xlsx", "Night 1", None, None),
    ]
