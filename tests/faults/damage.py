"""Cuts and flips the files of a book, and says what became of it: refused in words, or every row still the same."""

import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.book_builder import beside, file_of, heads, load, new_book
from tests.faults.soundness import hash_of
from warehouse.errors import BookDamaged

ROOT = Path(__file__).parents[2]
RECOVERY = "restore your last backup, or make a new book with `beamledger init` and load the kept files again (what was decided and corrected is then lost)"
REFUSED, SAME = "refused", "the same"
# A process that commits to the log without a checkpoint, as DuckDB would by itself, renews the anchor, and dies.
COMMIT_AND_DIE = """
import os, sys
from pathlib import Path
import duckdb
from warehouse.book import anchor
book = Path(sys.argv[1])
connection = duckdb.connect(str(book))
for load in (2, 3, 4, 5):
    connection.execute("INSERT INTO load VALUES (?, now()::TIMESTAMP, 'x', 'y')", [load])
anchor.write(connection, book)
os._exit(9)
"""


def good_book(folder: Path) -> Path:
    """A book of 40 heads, closed properly."""
    book = new_book(folder)
    load(book, file_of(folder / "a.csv", heads(1, 40)))
    return book


def book_with_log(folder: Path) -> Path:
    """A book of five loads, four of them in its log only."""
    book = good_book(folder)
    assert subprocess.run([sys.executable, "-c", COMMIT_AND_DIE, str(book)], cwd=ROOT).returncode == 9
    assert beside(book, ".wal").stat().st_size > 0
    return book


def damaged(data: bytes, cuts: int, flips: int, seed: int) -> Iterator[bytes]:
    """The bytes cut short at `cuts` random lengths, and with one bit flipped at `flips` random places."""
    rng = random.Random(seed)
    for _ in range(cuts):
        yield data[: rng.randrange(len(data))]
    for _ in range(flips):
        flipped = bytearray(data)
        flipped[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
        yield bytes(flipped)


def with_bytes(book: Path, folder: Path, ending: str, data: bytes | None) -> Path:
    """A copy of the book and what stands beside it, one file of it ("" the book, ".wal") with these bytes, or gone."""
    copy = folder / "copy.duckdb"
    for one in ("", ".wal", ".anchor"):
        beside(copy, one).unlink(missing_ok=True)
        if one == ending:
            if data is not None:
                beside(copy, one).write_bytes(data)
        elif beside(book, one).exists():
            shutil.copy(beside(book, one), beside(copy, one))
    return copy


def outcome(copy: Path, whole: str) -> str:
    """REFUSED, with the recovery in the message, or SAME: the book hash is `whole`. Anything else is an AssertionError."""
    try:
        found = hash_of(copy)
    except BookDamaged as refusal:
        assert str(refusal).startswith(f"{copy}: ")
        assert str(refusal).endswith(RECOVERY)
        return REFUSED
    assert found == whole
    return SAME
