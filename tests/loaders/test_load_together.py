"""Several loads at once, and pages that read while one runs."""

import json
import subprocess
import sys
import threading
import time
from pathlib import Path
from subprocess import PIPE, Popen

from tests.book_builder import file_of, heads, load, new_book, query
from warehouse.book import database

ROOT = Path(__file__).parents[2]


Loading = tuple[Popen[str], Path]


def loading(book: Path, path: Path, name: str = "out") -> Loading:
    """A load in a process of its own, and the file of what it prints."""
    command = [
        sys.executable,
        "-m",
        "dashboards.command",
        "load",
        str(path),
        "--book",
        str(book),
        "--wait",
        "60",
        "--json",
    ]
    printed = book.with_name(f"{name}.jsonl")
    with printed.open("w") as out:
        return Popen(command, stdout=out, stderr=PIPE, text=True, cwd=ROOT), printed


def summary(of: Loading) -> dict[str, object]:
    child, printed = of
    _, err = child.communicate()
    assert child.returncode in (0, 1), err
    found: dict[str, object] = json.loads(printed.read_text().splitlines()[-1])
    return found


def test_loads_at_once_come_in_one_after_the_other_and_one_file_once(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    a, b = file_of(tmp_path / "a.csv", heads(1, 30)), file_of(tmp_path / "b.csv", heads(31, 60))
    came = [summary(of) for of in [loading(book, path, f"out_{n}") for n, path in enumerate((a, b, a))]]
    assert sorted((one["new"], one["unchanged"]) for one in came) == [(0, 30), (30, 0), (30, 0)]
    assert query(book, "SELECT count(*), count(DISTINCT entry_no) FROM current_entry") == [(60, 60)]
    assert query(book, "SELECT count(*) FROM received_file") == [(2,)]
    assert query(book, "SELECT list(load_id ORDER BY load_id) FROM load") == [([1, 2],)]


def test_a_reader_sees_no_error_and_only_whole_loads_while_one_runs(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", heads(0, 9)))
    child, printed = loading(book, file_of(tmp_path / "b.csv", heads(10, 209)))
    seen: list[tuple[int, int]] = []
    while child.poll() is None or not seen:
        with database.reading(book, wait=60) as connection:
            (counts,) = connection.execute(
                "SELECT (SELECT count(*) FROM received_row), (SELECT count(*) FROM entry)"
            ).fetchall()
        seen.append(counts)
        time.sleep(0.02)
    assert summary((child, printed))["new"] == 200
    assert set(seen) <= {(10, 10), (210, 210)}
    assert (10, 10) in seen
    assert query(book, "SELECT count(*) FROM entry") == [(210,)]


def test_a_load_between_reading_and_writing_is_noticed_and_all_is_looked_at_again(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    a, b = file_of(tmp_path / "a.csv", heads(1, 3)), file_of(tmp_path / "b.csv", heads(2, 4))
    told: list[str] = []

    def between(doing: str, done: int, of: int) -> None:
        if doing == "writing the book" and not told:
            told.append(doing)
            other = threading.Thread(target=load, args=(book, b))
            other.start()
            other.join()

    loaded = load(book, a, tell=between)
    assert told == ["writing the book"]
    assert loaded.counts() == {"rows": 3, "new": 1, "unchanged": 2, "revised": 0, "held": 0}
    assert query(book, "SELECT count(*) FROM entry") == [(4,)]


def test_a_book_that_stays_locked_is_refused_with_the_holder_named(tmp_path: Path) -> None:
    book, a = new_book(tmp_path), file_of(tmp_path / "a.csv", heads(1, 3))
    hold = "import duckdb, sys; c = duckdb.connect(sys.argv[1]); print('held', flush=True); sys.stdin.read()"
    holder = Popen([sys.executable, "-c", hold, str(book)], stdin=PIPE, stdout=PIPE, text=True)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    command = [sys.executable, "-m", "dashboards.command", "load", str(a), "--book", str(book), "--wait", "0"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT)
    holder.communicate()
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr == (
        f"beamledger: {book}: process {holder.pid} ({Path(sys.executable).resolve().name}) holds the book; nothing was done "
        "after waiting 0 s. Wait for it to finish, or stop it, and try again\n"
    )
