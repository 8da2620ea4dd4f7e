import json
import random
import subprocess
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from tests.book_builder import beside, copy_of, file_of, heads, load, new_book, query
from warehouse.book import anchor, database
from warehouse.errors import BeamledgerError, BookDamaged

# A process that commits three loads to the log without a checkpoint, renews the anchor, and dies.
WRITE_AND_DIE = """
import os, sys
from pathlib import Path
import duckdb
from warehouse.book import anchor
book = Path(sys.argv[1])
connection = duckdb.connect(str(book))
for load in (2, 3, 4):
    connection.execute("INSERT INTO load VALUES (?, now()::TIMESTAMP, 'x', 'y')", [load])
anchor.write(connection, book)
os._exit(9)
"""


@pytest.fixture(scope="module")
def with_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of four loads, three of them in its log only."""
    folder = tmp_path_factory.mktemp("log")
    book = new_book(folder)
    load(book, file_of(folder / "a.csv", heads(1, 3)))
    root = Path(__file__).parents[3]
    assert subprocess.run([sys.executable, "-c", WRITE_AND_DIE, str(book)], cwd=root).returncode == 9
    assert beside(book, ".wal").stat().st_size > 0
    return book


def copied(book: Path, folder: Path, log: bytes | None) -> Path:
    copy = copy_of(book, folder / "copy.duckdb")
    if log is not None:
        beside(copy, ".wal").write_bytes(log)
    return copy


def test_a_whole_log_is_read_again(with_log: Path, tmp_path: Path) -> None:
    copy = copied(with_log, tmp_path, beside(with_log, ".wal").read_bytes())
    assert query(copy, "SELECT count(*) FROM load") == [(4,)]


@pytest.mark.parametrize("opened", [database.reading, database.writing])
def test_a_lost_log_is_noticed(
    with_log: Path, tmp_path: Path, opened: Callable[[Path, float], AbstractContextManager[object]]
) -> None:
    copy = copied(with_log, tmp_path, None)
    with pytest.raises(BookDamaged) as refused, opened(copy, 0):
        pass
    assert str(refused.value) == (
        f"{copy}: the book holds less than when it was last closed (load: 1 of 4); its .wal file was probably lost or "
        "damaged; restore your last backup, or make a new book with `beamledger init` and load the kept files again (what was decided and corrected is then lost)"
    )


@pytest.mark.parametrize("nth", range(10))
def test_a_cut_or_flipped_log_never_opens_smaller_in_silence(with_log: Path, tmp_path: Path, nth: int) -> None:
    log, rng = bytearray(beside(with_log, ".wal").read_bytes()), random.Random(nth)
    if nth % 2:
        log[rng.randrange(len(log))] ^= 1 << rng.randrange(8)
    else:
        del log[rng.randrange(len(log)) :]
    copy = copied(with_log, tmp_path, bytes(log))
    try:
        assert query(copy, "SELECT count(*) FROM load") == [(4,)]
    except BeamledgerError as refusal:
        assert isinstance(refusal, BookDamaged)
        assert str(refusal).startswith(f"{copy}: the book ")
        assert "restore your last backup" in str(refusal)


def test_the_anchor_counts_the_ledger(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [*heads(1, 3), heads(4, 4)[0] | {"net": "1 0/8"}]))
    anchored = json.loads(beside(book, ".anchor").read_text())
    assert anchored == {
        "load": 1, "received_file": 1, "received_row": 4, "entry": 4, "entry_revision": 4, "finding": 1, "event": 1,
        "edition": 0, "head": query(book, "SELECT hash FROM event")[0][0], "bytes": book.stat().st_size,
    }  # fmt: skip
    assert set(anchored) == {*anchor.COUNTED, *anchor.LOGGED, "head", "bytes"}


def test_a_length_that_a_crash_left_unknown_is_not_held_against_the_book(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    anchored = json.loads(beside(book, ".anchor").read_text())
    anchor.unsettle(book)
    assert json.loads(beside(book, ".anchor").read_text()) == anchored | {"bytes": 0}
    assert query(book, "SELECT count(*) FROM load") == [(0,)]
    with database.writing(book):
        pass
    assert json.loads(beside(book, ".anchor").read_text()) == anchored | {"bytes": book.stat().st_size}


def test_a_missing_anchor_is_made_again_by_the_next_load(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    beside(book, ".anchor").unlink()
    assert query(book, "SELECT count(*) FROM load") == [(0,)]
    load(book, file_of(tmp_path / "a.csv", heads(1, 2)))
    assert json.loads(beside(book, ".anchor").read_text())["entry"] == 2


ADVICE = (
    "; the book was not touched. Put the anchor of your last backup in its place, or take it away to open the book "
    "without it"
)
COUNTS = "expected the counts of load, received_file, received_row, entry, entry_revision, finding"


@pytest.mark.parametrize(
    ("garbled", "why"),
    [
        (b"", "Expecting value: line 1 column 1 (char 0)"),
        (b"{", "Expecting property name enclosed in double quotes: line 1 column 2 (char 1)"),
        (b"[1, 2]", COUNTS),
        (b'{"load": "many"}', COUNTS),
        (b"\xff\xfe", "'utf-8' codec can't decode byte 0xff in position 0: invalid start byte"),
    ],
)
def test_a_garbled_anchor_is_refused_in_words(tmp_path: Path, garbled: bytes, why: str) -> None:
    book = new_book(tmp_path)
    beside(book, ".anchor").write_bytes(garbled)
    with pytest.raises(BookDamaged) as refused, database.reading(book):
        pass
    assert str(refused.value) == f"{beside(book, '.anchor')}: the anchor cannot be read: {why}{ADVICE}"
