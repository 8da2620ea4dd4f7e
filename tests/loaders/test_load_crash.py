"""A load that is killed, or runs out of disk: the book is as before or holds the whole load, and the load can be run again."""

import json
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from subprocess import PIPE, Popen

import pytest

from tests.book_builder import beside, file_of, heads, load, new_book, query
from warehouse.book import database, reports

ROOT = Path(__file__).parents[2]
KILLS, SEED = 12, 20251108
# Ready means: everything is imported, so that a kill falls into the load and not before it.
LOAD_WHEN_TOLD = """
import sys
from dashboards import check_command, command, commands
print("ready", flush=True)
sys.stdin.readline()
command.main(["load", sys.argv[1], "--book", sys.argv[2], "--by", "tester"])
print("done", flush=True)
"""
LOAD_WITH_LITTLE_ROOM = """
import resource, signal, sys
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]),) * 2)
from dashboards.command import main
raise SystemExit(main(["load", sys.argv[2], "--book", sys.argv[3], "--by", "tester"]))
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
    copy = folder / name
    shutil.copy(folder / "book.duckdb", copy)
    shutil.copy(beside(folder / "book.duckdb", ".anchor"), beside(copy, ".anchor"))
    return copy


def started(folder: Path, nth: int) -> tuple[Path, Popen[str]]:
    book = copied(folder, f"killed_{nth}.duckdb")
    command = [sys.executable, "-c", LOAD_WHEN_TOLD, str(folder / "two.csv"), str(book)]
    return book, Popen(command, stdin=PIPE, stdout=PIPE, stderr=PIPE, text=True, cwd=ROOT)


def loaders(folder: Path) -> Iterator[tuple[Path, Popen[str]]]:
    """KILLS + 1 processes ready to load, the next one warming up while one is looked at."""
    following = started(folder, 0)
    for nth in range(KILLS + 1):
        book, child = following
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        if nth < KILLS:
            following = started(folder, nth + 1)
        yield book, child


def go(child: Popen[str]) -> None:
    assert child.stdin is not None
    child.stdin.write("\n")
    child.stdin.flush()


def rows(book: Path) -> int:
    """Rows of a book that must be sound."""
    with database.reading(book, wait=5) as connection:
        balance = reports.balance(connection)
    assert balance.holds
    per_file = query(book, "SELECT row_count, (SELECT count(*) FROM received_row r WHERE r.file_id = f.file_id) FROM received_file f")
    assert all(said == found for said, found in per_file)
    assert query(book, "SELECT count(*) FROM entry")[0][0] == balance.received  # every head is another one
    return balance.received


def test_a_killed_load_leaves_a_whole_book_and_can_be_run_again(folder: Path) -> None:
    moments, seen, longest = random.Random(SEED), set(), 0.0
    for nth, (book, child) in enumerate(loaders(folder)):
        began = time.monotonic()
        go(child)
        if nth == 0:  # the first is let through, to know how long one takes
            assert child.communicate()[0].endswith("done\n")
            longest = time.monotonic() - began
            assert rows(book) == 220
            continue
        time.sleep(moments.uniform(0, 1.2) * longest)
        child.send_signal(signal.SIGKILL)
        said = child.communicate()[0]
        found = rows(book)
        assert found in (20, 220)
        assert not (said.endswith("done\n") and found == 20)  # what was reported is there
        seen.add(found)
        again = load(book, folder / "two.csv").counts()
        assert again["new"] == 220 - found
        assert rows(book) == 220
        assert not beside(book, ".anchor.new").exists()
    assert 20 in seen


@pytest.mark.parametrize("room", ["nothing", "half", "as much", "a block more", "some more"])
def test_a_full_disk_is_a_clean_refusal(folder: Path, room: str) -> None:
    book = copied(folder, f"full_{room}.duckdb")
    size = book.stat().st_size
    limit = {"nothing": 10, "half": size // 2, "as much": size, "a block more": size + 262_144, "some more": size + 600_000}[room]
    command = [sys.executable, "-c", LOAD_WITH_LITTLE_ROOM, str(limit), str(folder / "two.csv"), str(book)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT)
    assert done.returncode == 2
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert line.startswith(f"beamledger: {book}: nothing was written: ")
    assert "File too large" in line
    assert rows(book) == 20
    assert load(book, folder / "two.csv").counts()["new"] == 200
    assert rows(book) == 220
    anchored = json.loads(beside(book, ".anchor").read_text())
    assert (anchored["received_row"], anchored["bytes"]) == (220, book.stat().st_size)
