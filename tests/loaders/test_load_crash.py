"""A load that is killed, or runs out of disk: the book is as before or holds the whole load, and the load can be run again."""

import json
import os
import random
import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from subprocess import PIPE, Popen

import pytest

from tests.book_builder import beside, copy_of, file_of, heads, load, new_book, query
from warehouse.book import database
from warehouse.book.balance import balance

ROOT = Path(__file__).parents[2]
KILLS, SEED = 12, 20251108
# One process imports everything and forks a child for each load, so that a kill falls into the load and not before
# it, and the imports are paid for once. It forks before Polars or DuckDB have started a thread.
NURSERY = """
import os, resource, signal, sys
from dashboards import command, commands
while line := sys.stdin.readline():
    file, book, room = line.rstrip("\\n").split("\\t")
    child = os.fork()
    if child == 0:
        sys.stdout = open(os.devnull, "w")
        if room:
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (int(room),) * 2)
        os._exit(command.main(["load", file, "--book", book, "--by", "tester"]))
    print(child, flush=True)
    sys.stdin.readline()  # until then the child is not buried, and no other process has its number
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of 20 heads, and two.csv with 200 more."""
    folder = tmp_path_factory.mktemp("crash")
    book = new_book(folder)
    load(book, file_of(folder / "one.csv", heads(0, 19)))
    file_of(folder / "two.csv", heads(20, 219))
    return folder


def copied(folder: Path, name: str) -> Path:
    return copy_of(folder / "book.duckdb", folder / name)


@pytest.fixture(scope="module")
def nursery() -> Iterator[Popen[str]]:
    with Popen([sys.executable, "-c", NURSERY], stdin=PIPE, stdout=PIPE, stderr=PIPE, text=True, cwd=ROOT) as process:
        yield process


def begin(nursery: Popen[str], file: Path, book: Path, room: str = "") -> int:
    """Begin a load in a child of the nursery that may write files of `room` bytes; returns the child's process id."""
    assert nursery.stdin is not None
    assert nursery.stdout is not None
    nursery.stdin.write(f"{file}\t{book}\t{room}\n")
    nursery.stdin.flush()
    return int(nursery.stdout.readline())


def ended(nursery: Popen[str]) -> int:
    """The child's exit code, negative for the signal that killed it."""
    assert nursery.stdin is not None
    assert nursery.stdout is not None
    nursery.stdin.write("\n")
    nursery.stdin.flush()
    return int(nursery.stdout.readline())


def rows(book: Path) -> int:
    """Rows of a book that must be sound."""
    with database.reading(book, wait=5) as connection:
        found = balance(connection)
    assert found.holds
    per_file = query(
        book, "SELECT row_count, (SELECT count(*) FROM received_row r WHERE r.file_id = f.file_id) FROM received_file f"
    )
    assert all(said == found for said, found in per_file)
    assert query(book, "SELECT count(*) FROM entry")[0][0] == found.received  # every head is another one
    return found.received


def test_a_killed_load_leaves_a_whole_book_and_can_be_run_again(folder: Path, nursery: Popen[str]) -> None:
    file, moments, outcomes = folder / "two.csv", random.Random(SEED), []
    whole = copied(folder, "whole.duckdb")
    begin(nursery, file, whole)
    began = time.monotonic()
    assert ended(nursery) == 0
    longest = time.monotonic() - began
    assert rows(whole) == 220
    for nth in range(KILLS):
        book = copied(folder, f"killed_{nth}.duckdb")
        child = begin(nursery, file, book)
        time.sleep(moments.uniform(0, 1.2) * longest)
        os.kill(child, signal.SIGKILL)
        code, found = ended(nursery), rows(book)
        assert code in (0, -signal.SIGKILL)
        assert found in (20, 220)
        assert (code, found) != (0, 20)  # a load that was reported is there
        assert load(book, file).counts()["new"] == 220 - found
        assert rows(book) == 220
        assert not beside(book, ".anchor.new").exists()
        outcomes.append((code, found))
    assert (-signal.SIGKILL, 20) in outcomes


@pytest.mark.parametrize("room", ["nothing", "half", "as much", "a block more", "some more"])
def test_a_full_disk_is_a_clean_refusal(folder: Path, nursery: Popen[str], room: str) -> None:
    book = copied(folder, f"full_{room}.duckdb")
    size = book.stat().st_size
    limit = {
        "nothing": 10,
        "half": size // 2,
        "as much": size,
        "a block more": size + 262_144,
        "some more": size + 600_000,
    }[room]
    begin(nursery, folder / "two.csv", book, str(limit))
    assert ended(nursery) == 2
    assert nursery.stderr is not None
    line = nursery.stderr.readline()
    assert line.startswith(f"beamledger: {book}: nothing was written: ")
    assert "File too large" in line
    assert rows(book) == 20
    assert load(book, folder / "two.csv").counts()["new"] == 200
    assert rows(book) == 220
    anchored = json.loads(beside(book, ".anchor").read_text())
    assert (anchored["received_row"], anchored["bytes"]) == (220, book.stat().st_size)
