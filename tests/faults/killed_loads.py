"""Loads that are killed at random moments, one after the other on the same book, each the rerun of the one before."""

import os
import random
import shutil
import signal
import statistics
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from tests.book_builder import copy_of, file_of, heads, load, new_book
from tests.faults.children import KILLED, Nursery
from tests.faults.soundness import hash_of, nothing_beside, sound_rows
from warehouse.book import database
from warehouse.book.book_hash import book_hash

BEFORE, WHOLE = 20, 60
UNTOUCHED, SILENT, ACKNOWLEDGED = "nothing in", "all in, not reported", "all in and reported"


@dataclass
class Ground:
    """A folder with a book of 20 heads, a file with 40 more, and a nursery."""

    folder: Path
    nursery: Nursery
    book: Path = field(init=False)
    file: Path = field(init=False)
    before: str = field(init=False)

    def __post_init__(self) -> None:
        self.book = new_book(self.folder)
        load(self.book, file_of(self.folder / "one.csv", heads(0, BEFORE - 1)))
        self.file = file_of(self.folder / "two.csv", heads(BEFORE, WHOLE - 1))
        self.before = hash_of(self.book)

    def fresh(self, name: str) -> Path:
        """A copy of the book in a folder of its own."""
        (self.folder / name).mkdir()
        return copy_of(self.book, self.folder / name / "book.duckdb")

    def arguments(self, book: Path) -> tuple[str | Path, ...]:
        """The load of the file."""
        return ("load", self.file, "--book", book, "--by", "tester")

    def rows(self, book: Path, verified: bool = True) -> int:
        """Rows of a book that must be as before or hold the whole load; `verified`: row by row."""
        with database.reading(book, wait=5) as connection:
            rows = sound_rows(connection, verified)
            assert rows in (BEFORE, WHOLE)
            assert rows == WHOLE or not verified or book_hash(connection) == self.before
        return rows

    def finish(self, book: Path) -> None:
        """Run the load again, to its end: it is in then, and nothing stands beside the book."""
        ended = self.nursery.run(*self.arguments(book))
        assert ended.code == 0, ended.printed
        assert self.rows(book) == WHOLE
        nothing_beside(book)
        assert database.is_settled(book)


def median_time(ground: Ground, name: str, runs: int = 3) -> float:
    """Seconds of a load that nobody kills."""
    times = []
    for nth in range(runs):
        book = ground.fresh(f"{name}_timed_{nth}")
        began = time.monotonic()
        ended = ground.nursery.run(*ground.arguments(book))
        times.append(time.monotonic() - began)
        assert ended.code == 0, ended.printed
        assert ground.rows(book, verified=False) == WHOLE
    return statistics.median(times)


def kill_at_random(ground: Ground, kills: int, seed: int, longest: float) -> Counter[str]:
    """Kill `kills` loads after 0 to 1.2 times `longest` seconds; returns how they came out.

    Each load after one that was killed too early is its rerun; one that came out whole is followed by a load into a fresh
    copy. The last is run to its end.
    """
    moments, found, book = random.Random(seed), Counter[str](), ground.fresh(f"random_{seed}")
    for nth in range(kills):
        child = ground.nursery.begin(*ground.arguments(book))
        time.sleep(moments.uniform(0, 1.2) * longest)
        os.kill(child.number, signal.SIGKILL)  # not buried yet, so the number is still its own
        (code, printed), rows = ground.nursery.ended(child), ground.rows(book, verified=nth % 5 == 4)
        assert code in (0, KILLED), printed
        assert (code, rows) != (0, BEFORE)  # a load that was reported is there
        found[UNTOUCHED if rows == BEFORE else ACKNOWLEDGED if code == 0 else SILENT] += 1
        if rows == WHOLE:
            shutil.rmtree(book.parent)
            book = ground.fresh(f"random_{seed}_{nth}")
    ground.finish(book)
    return found


def kill_at_step(ground: Ground, step: str, kills: int) -> list[int]:
    """Kill `kills` loads at the step, and run the last again; returns the rows of the book after each kill."""
    found: list[int] = []
    book = ground.fresh(step.replace(" ", "_"))
    for nth in range(kills):
        if found and found[-1] == WHOLE:
            book = ground.fresh(f"{step.replace(' ', '_')}_{nth}")
        ended = ground.nursery.run(*ground.arguments(book), step=step)
        assert ended.code == KILLED, ended.printed
        found.append(ground.rows(book, verified=nth == 0))
    ground.finish(book)
    return found
