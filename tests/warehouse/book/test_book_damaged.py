import random
import shutil
from pathlib import Path

import pytest

from tests.book_builder import beside, file_of, heads, load, new_book
from warehouse.book import database, reports
from warehouse.book.balance import Balance, balance
from warehouse.errors import BeamledgerError, BookDamaged, BookRefused

RECOVERY = "restore your last backup, or make a new book with `beamledger init` and load the kept files again (what was decided and corrected is then lost)"
CUTS, FLIPS = 10, 20


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("good")
    book = new_book(folder)
    load(book, file_of(folder / "a.csv", heads(1, 40)))
    return book


def everything(book: Path) -> tuple[str, str, Balance]:
    with database.reading(book, wait=0) as connection:
        return (
            reports.entries(connection).write_json(),
            reports.open_findings(connection).write_json(),
            balance(connection),
        )


def damaged_copy(good: Path, folder: Path, data: bytes) -> Path:
    copy = folder / "copy.duckdb"
    copy.write_bytes(data)
    shutil.copy(beside(good, ".anchor"), beside(copy, ".anchor"))
    return copy


@pytest.mark.parametrize("nth", range(CUTS))
def test_a_book_cut_short_is_never_opened(good: Path, tmp_path: Path, nth: int) -> None:
    data = good.read_bytes()
    length = random.Random(nth).randrange(len(data)) if nth else len(data) - 1
    copy = damaged_copy(good, tmp_path, data[:length])
    for opened in (database.reading, database.writing):
        with pytest.raises(BookDamaged) as refused, opened(copy, 0):
            pass
        assert str(refused.value).startswith(f"{copy}: ")
        assert str(refused.value).endswith(RECOVERY)
    assert copy.stat().st_size == length


def test_a_book_cut_short_says_by_how_much(good: Path, tmp_path: Path) -> None:
    data = good.read_bytes()
    copy = damaged_copy(good, tmp_path, data[:-1])
    with pytest.raises(BookDamaged) as refused, database.reading(copy):
        pass
    assert str(refused.value) == f"{copy}: the book was cut short: {len(data) - 1} bytes of {len(data)}; {RECOVERY}"


def test_a_flipped_bit_is_refused_or_touches_nothing(good: Path, tmp_path: Path) -> None:
    data, whole, rng, refusals = good.read_bytes(), everything(good), random.Random(7), 0
    for _ in range(FLIPS):
        flipped = bytearray(data)
        flipped[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
        copy = damaged_copy(good, tmp_path, bytes(flipped))
        try:
            assert everything(copy) == whole  # the bit was in a block that holds nothing
        except BeamledgerError as refusal:
            assert str(refusal).startswith(f"{copy}: the book is damaged: ")
            assert str(refusal).endswith(RECOVERY)
            refusals += 1
    assert refusals > 0


def test_writing_into_a_damaged_book_says_so(good: Path, tmp_path: Path) -> None:
    flipped = bytearray(good.read_bytes())
    for place in range(12_288 + 4096, len(flipped), 8192):
        flipped[place] ^= 1
    copy = damaged_copy(good, tmp_path, bytes(flipped))
    with pytest.raises(BookDamaged, match="the book is damaged"), database.writing(copy) as connection:
        connection.execute("INSERT INTO load VALUES (9, now()::TIMESTAMP, 'a', 'b')")


@pytest.mark.parametrize("content", [b"", b"Dear secretary, here are the scores.\n", b"\x00" * 5000])
def test_a_file_that_is_no_database_is_no_book(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "notes.txt"
    path.write_bytes(content)
    with pytest.raises(BookDamaged) as refused, database.reading(path):
        pass
    assert str(refused.value) == f"{path}: not a book of Beamledger (or its first bytes are damaged); {RECOVERY}"
    assert path.read_bytes() == content


def test_a_book_that_is_not_there(tmp_path: Path) -> None:
    path = tmp_path / "gone.duckdb"
    with pytest.raises(BookRefused) as refused, database.reading(path):
        pass
    assert str(refused.value) == f"{path}: no book there; make one with `beamledger init {path}`"
    assert not path.exists()
