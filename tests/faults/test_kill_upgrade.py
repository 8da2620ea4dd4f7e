"""An upgrade that is killed: the book is the old one or the new one, and a copy under its name is a whole one."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.book_builder import beside, query
from tests.faults.children import KILLED, Nursery
from tests.faults.kill_steps import UPGRADE
from tests.faults.long import nightly
from tests.faults.soundness import nothing_beside
from tests.warehouse.book.test_book_upgrade import HELD, STATES, old_book
from warehouse.book import database, migrations
from warehouse.book.book_hash import book_hash
from warehouse.book.upgrade import upgrade
from warehouse.errors import BookOlder

OLDER = list(migrations.known())[:-1]
COPY = f".before-{max(migrations.known()):04d}"
KILLS, SEED = 20, 20251125
COMMIT_AND_DIE = """
import os, sys, duckdb
connection = duckdb.connect(sys.argv[1])
connection.execute("INSERT INTO load VALUES (9, now()::TIMESTAMP, 'x', 'y')")
os._exit(9)
"""


def _hash_of(book: Path) -> str:
    with database.reading(book, fresh=True) as connection:
        return book_hash(connection)


class Old:
    """An old book, and what must hold of it after a kill."""

    def __init__(self, number: int, folder: Path) -> None:
        folder.mkdir(exist_ok=True)
        self.book = old_book(number, folder)
        self.copy, self.hash = beside(self.book, COPY), _hash_of(self.book)

    def is_new(self) -> bool:
        """Whether the book is upgraded; an AssertionError where it is neither old nor new, or the copy is not whole."""
        # by what it holds: a killed commit may have left bytes in blocks that are free, and they are copied too
        assert not self.copy.exists() or _hash_of(self.copy) == self.hash
        try:
            assert query(self.book, STATES) == HELD
        except BookOlder:
            assert _hash_of(self.book) == self.hash
            return False
        assert self.copy.exists()
        return True

    def finish(self, children: Nursery) -> None:
        """Upgrade it again, as the message says where a copy is in the way."""
        if self.copy.exists() and not self.is_new():
            refused = children.run("upgrade", self.book)
            assert refused == (2, f"beamledger: {self.copy}: already there, from an upgrade that did not end; move it away "
                                  "and try again\n")  # fmt: skip
            self.copy.unlink()
        assert children.run("upgrade", self.book).code == 0
        assert self.is_new()
        for path in (self.copy, beside(self.copy, ".anchor")):
            path.unlink(missing_ok=True)
        nothing_beside(self.book)


@pytest.mark.parametrize("step", UPGRADE)
def test_killed_at_a_named_step(tmp_path: Path, children: Nursery, step: str) -> None:
    old = Old(OLDER[-1], tmp_path / "of")
    assert children.run("upgrade", old.book, step=step).code == KILLED
    assert old.is_new() == UPGRADE[step].is_in
    old.finish(children)


@nightly
@pytest.mark.parametrize("number", OLDER)
def test_killed_at_random_moments(
    tmp_path: Path, children: Nursery, number: int, record_property: Callable[[str, object], None]
) -> None:
    moments, began = random.Random(SEED + number), time.monotonic()
    assert children.run("upgrade", Old(number, tmp_path / "timed").book).code == 0
    longest = time.monotonic() - began
    for nth in range(KILLS):
        old = Old(number, tmp_path / str(nth))
        child = children.begin("upgrade", old.book)
        time.sleep(moments.uniform(0, 1.2) * longest)
        os.kill(child.number, signal.SIGKILL)
        code = children.ended(child).code
        assert code in (0, KILLED)
        assert old.is_new() or code == KILLED
        record_property(f"kill {nth}", old.is_new())
        old.finish(children)


def test_the_copy_holds_what_a_crash_left_in_the_log(tmp_path: Path) -> None:
    old = old_book(OLDER[-1], tmp_path)
    assert subprocess.run([sys.executable, "-c", COMMIT_AND_DIE, str(old)]).returncode == 9
    assert beside(old, ".wal").stat().st_size > 0
    copy = upgrade(old)
    assert copy == beside(old, COPY)
    with database.reading(copy, fresh=True) as connection:
        assert connection.execute("SELECT max(load_id) FROM load").fetchall() == [(9,)]
    assert query(old, "SELECT max(load_id) FROM load") == [(9,)]
