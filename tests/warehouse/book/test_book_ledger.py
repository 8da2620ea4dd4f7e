import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import duckdb
import polars as pl
import pytest

from tests.book_builder import new_book, query
from warehouse.book import database, ledger
from warehouse.errors import BookRefused, InternalFault

NOW = datetime(2026, 3, 1, 18, 30)
EMPTY = ledger.Batch(
    files=(ledger.ReceivedFile("a.csv", None, "a" * 64, ("No",), ("entry_no",), 0),),
    received=pl.DataFrame(schema=ledger.RECEIVED_ROW),
    new_entries=pl.Series([], dtype=pl.String),
    revisions=pl.DataFrame(schema=ledger.REVISION),
    measurements=(),
    findings=pl.DataFrame(schema=ledger.FINDING),
    explanations=pl.DataFrame(schema=ledger.EXPLANATION),
)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty book: whatever a test puts in is refused or rolled back."""
    return new_book(tmp_path_factory.mktemp("ledger"))


def _floats(frame: pl.DataFrame, column: str) -> pl.DataFrame:
    return frame.with_columns(pl.col(column).cast(pl.Float64))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda batch: replace(batch, received=_floats(batch.received, "row")),
        lambda batch: replace(batch, revisions=_floats(batch.revisions, "net")),
        lambda batch: replace(batch, revisions=batch.revisions.drop("hunter")),
        lambda batch: replace(batch, revisions=batch.revisions.select(sorted(batch.revisions.columns))),
        lambda batch: replace(batch, findings=_floats(batch.findings, "received")),
        lambda batch: replace(batch, explanations=_floats(batch.explanations, "net")),
        lambda batch: replace(batch, measurements=(_floats(pl.DataFrame(schema=ledger.MEASUREMENT), "left_units"),)),
    ],
)
def test_a_frame_of_other_types_is_refused_before_anything_is_inserted(
    book: Path, spoil: Callable[[ledger.Batch], ledger.Batch]
) -> None:
    with (
        pytest.raises(InternalFault, match=r"^a frame for the ledger has the columns Schema\(.*; expected Schema\("),
        database.writing(book) as connection,
    ):
        try:
            ledger.write(connection, spoil(EMPTY), "a", "b", NOW)
        finally:
            assert connection.execute("SELECT count(*) FROM load").fetchall() == [(0,)]
    assert query(book, "SELECT count(*) FROM load") == [(0,)]


FIGURES = {
    "spread_credit": 139, "right_total": 476, "left_total": 470, "diff_total": 40, "abnormal_total": 7,
    "deductions": 47, "gross": 1085, "net": 1038,
}  # fmt: skip


def revision(**changes: object) -> tuple[str, list[object]]:
    row = {"revision_id": 1, "entry_id": 1, "revision_no": 1, "row_id": 1, "made_at": NOW, "author": "a",
           "reason": "r", "status": "accepted", **FIGURES, **changes}  # fmt: skip
    return f"INSERT INTO entry_revision ({', '.join(row)}) VALUES ({', '.join('?' * len(row))})", list(row.values())


@pytest.mark.parametrize(
    "changes",
    [
        {},  # abnormal points subtracted
        {"deductions": 40, "net": 1085 - 40 + 7},  # abnormal points added
        {"net": None},
        {"gross": None, "net": None},
    ],
)
def test_figures_that_agree_are_taken(book: Path, changes: dict[str, object]) -> None:
    with pytest.raises(ZeroDivisionError), database.writing(book) as connection:
        connection.execute(*revision(**changes))
        assert connection.execute("SELECT count(*) FROM current_entry").fetchall() == [(0,)]  # it has no entry
        raise ZeroDivisionError  # roll back


@pytest.mark.parametrize(
    ("sql", "values"),
    [
        revision(net=1037),
        revision(net=1039),
        revision(gross=1086),
        revision(deductions=46),
        revision(deductions=40, net=1085 + 40 + 7),
        revision(status="refused"),
        ("INSERT INTO received_row VALUES (1, 1, 1, 'x', 'lost', 1, 0)", []),
        ("INSERT INTO received_file VALUES (1, 1, 'a', NULL, 'abc', [], [], 0)", []),
        ("INSERT INTO finding VALUES (1, 1, 1, 'net', 'fatal', [], NULL, NULL, 'm')", []),
        ("INSERT INTO area VALUES ('7001', 'Abberlow', 'county', 'QM', '', '')", []),
        ("INSERT INTO season VALUES ('2024-25', DATE '2025-07-01', DATE '2024-06-30')", []),
        ("INSERT INTO minimum VALUES ('B', 'c', 'any', -1, '2024-25', NULL, 'any')", []),
    ],
)
def test_the_book_itself_refuses_what_cannot_be(book: Path, sql: str, values: list[object]) -> None:
    with pytest.raises(ZeroDivisionError), database.writing(book) as connection:
        with pytest.raises(duckdb.ConstraintException, match="CHECK constraint failed on table"):
            connection.execute(sql, values)
        raise ZeroDivisionError  # roll back


def test_a_constraint_that_escapes_is_a_refusal_that_wrote_nothing(book: Path) -> None:
    message = rf"^{re.escape(str(book))}: nothing was written: Constraint Error: CHECK constraint failed on table"
    with pytest.raises(BookRefused, match=message), database.writing(book) as connection:
        connection.execute("INSERT INTO load VALUES (1, now()::TIMESTAMP, 'a', 'b')")
        connection.execute(*revision(net=1))
    assert query(book, "SELECT count(*) FROM load") == [(0,)]
