"""Damaged books are refused or touch nothing: one never opens smaller in silence, and the message says what to do."""

from collections import Counter
from pathlib import Path

import pytest

from tests.book_builder import beside
from tests.faults.damage import RECOVERY, REFUSED, SAME, book_with_log, damaged, good_book, outcome, with_bytes
from tests.faults.soundness import hash_of
from warehouse.book import database
from warehouse.errors import BookDamaged

CUTS, FLIPS = 10, 10


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return good_book(tmp_path_factory.mktemp("good"))


@pytest.fixture(scope="module")
def logged(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return book_with_log(tmp_path_factory.mktemp("logged"))


def test_a_cut_book_is_refused_and_a_flipped_one_too_or_the_same(good: Path, tmp_path: Path) -> None:
    whole, data = hash_of(good), good.read_bytes()
    found = [outcome(with_bytes(good, tmp_path, "", one), whole) for one in damaged(data, CUTS, FLIPS, seed=1)]
    assert found[:CUTS] == [REFUSED] * CUTS
    assert REFUSED in found[CUTS:]  # a bit of a block that holds nothing changes nothing


def test_a_cut_or_flipped_log_is_noticed(logged: Path, tmp_path: Path) -> None:
    unharmed = with_bytes(logged, tmp_path, ".wal", beside(logged, ".wal").read_bytes())
    with database.reading(unharmed) as connection:
        assert connection.execute("SELECT list(load_id ORDER BY load_id) FROM load").fetchall() == [([1, 2, 3, 4, 5],)]
    log, whole = beside(logged, ".wal").read_bytes(), _whole(unharmed)
    found = Counter(
        _outcome(with_bytes(logged, tmp_path, ".wal", one), whole) for one in damaged(log, CUTS, FLIPS, seed=2)
    )
    assert found[REFUSED] >= CUTS
    assert found.total() == CUTS + FLIPS
    assert set(found) <= {REFUSED, SAME}


def _whole(book: Path) -> str:
    with database.reading(book) as connection:
        return str(connection.execute("SELECT list(l ORDER BY load_id) FROM load l").fetchall())


def _outcome(copy: Path, whole: str) -> str:
    try:
        found = _whole(copy)
    except BookDamaged as refusal:
        assert str(refusal).startswith(f"{copy}: ")
        assert str(refusal).endswith(RECOVERY)
        return REFUSED
    assert found == whole
    return SAME


@pytest.mark.parametrize("log", [None, b"", b"no log at all\n" * 9])
def test_a_missing_empty_or_garbled_log_is_noticed(logged: Path, tmp_path: Path, log: bytes | None) -> None:
    copy = with_bytes(logged, tmp_path, ".wal", log)
    for opened in (database.reading, database.writing):
        with pytest.raises(BookDamaged) as refused, opened(copy, 0):
            pass
        assert str(refused.value) == (
            f"{copy}: the book holds less than when it was last closed (load: 1 of 5); its .wal file was probably lost or "
            f"damaged; {RECOVERY}"
        )


@pytest.mark.parametrize("data", [b"", b"Dear secretary, here are the scores.\n", b"\0" * 100_000])
def test_an_empty_file_or_a_text_is_no_book(good: Path, tmp_path: Path, data: bytes) -> None:
    copy = with_bytes(good, tmp_path, "", data)
    for opened in (database.reading, database.writing):
        with pytest.raises(BookDamaged) as refused, opened(copy, 0):
            pass
        assert str(refused.value) == (f"{copy}: not a book of Beamledger (or its first bytes are damaged); {RECOVERY}")
    assert copy.read_bytes() == data
