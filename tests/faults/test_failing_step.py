"""Every write, rename and commit of our own code fails once, one run each: the book is as before or the whole is in."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.book_builder import beside, copy_of, file_of, heads, query
from tests.dashboards.run_command import Ran, run
from tests.faults.failing_steps import NO_ROOM, Tried, each_failure
from tests.faults.long import nightly
from tests.faults.qualifying_book import HEADS, qualifying_book
from tests.faults.soundness import hash_of, nothing_beside, rows_of
from tests.warehouse.book.test_book_upgrade import HELD, STATES, old_book
from warehouse.book import migrations
from warehouse.book.backup import back_up, restore

WRITTEN = "everything was written, but its anchor could not be renewed: "
COMMIT_STEPS = {"open", "write .new", "fsync", "replace", "COMMIT", "CHECKPOINT"}


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return qualifying_book(tmp_path_factory.mktemp("good"))


def copies(good: Path, folder: Path) -> Callable[[int], Path]:
    """Makes copies of a book in folders of their own."""

    def fresh(nth: int) -> Path:
        (folder / str(nth)).mkdir()
        to = folder / str(nth) / "book.duckdb"
        return copy_of(good, to) if beside(good, ".anchor").exists() else Path(shutil.copy(good, to))

    return fresh


def tries(run_once: Callable[[Path], Ran], good: Path, folder: Path) -> list[Tried]:
    """Run on a fresh copy of the book for each step that fails; the last run has none that does."""
    return list(each_failure(copies(good, folder), run_once))


def check_refusal(step: str, ran: Ran) -> None:
    """The command was not done, and said in one line that the disk is full."""
    assert ran.code == 2, step
    assert ran.err.startswith("beamledger: ")
    assert ran.err.count("\n") == 1
    assert NO_ROOM in ran.err


def test_a_load(good: Path, tmp_path: Path) -> None:
    file, before = file_of(tmp_path / "more.csv", heads(HEADS, HEADS + 9)), hash_of(good)

    def load(book: Path) -> Ran:
        return run("load", file, "--book", book, "--by", "tester")

    tried, again = tries(load, good, tmp_path), set[str]()
    for step, ran, book in tried[:-1]:
        check_refusal(step, ran)
        whole = WRITTEN in ran.err
        assert whole or f"{book}: nothing was written: " in ran.err
        assert rows_of(book) == HEADS + 10 if whole else hash_of(book) == before
        if step not in again:
            again.add(step)
            assert load(book).code == 0
            assert rows_of(book) == HEADS + 10
            nothing_beside(book)
    assert {one.step for one in tried} == COMMIT_STEPS | {""}
    assert tried[-1].ran.code == 0


def test_a_decision(good: Path, tmp_path: Path) -> None:
    before = hash_of(good)
    held = "SELECT status FROM current_entry WHERE entry_no = '3'"

    def decide(book: Path) -> Ran:
        return run("decide", "--book", book, "3", "hold", "--by", "tester", "--why", "which tag is it?")

    tried, again = tries(decide, good, tmp_path), set[str]()
    for step, ran, book in tried[:-1]:
        check_refusal(step, ran)
        whole = WRITTEN in ran.err
        assert whole or f"{book}: nothing was written: " in ran.err
        assert query(book, held) == [("held",)] if whole else hash_of(book) == before
        if step not in again and not whole:
            again.add(step)
            assert decide(book).code == 1
            assert query(book, held) == [("held",)]
    assert {one.step for one in tried} == COMMIT_STEPS | {""}


EDITION = "SELECT edition, entries FROM edition"


def publish(book: Path) -> Ran:
    return run("publish", "--book", book, "--edition", "2026", "--to", book.parent / "ed", "--by", "tester")


@nightly
def test_freezing_an_edition(good: Path, tmp_path: Path) -> None:
    before, steps = hash_of(good), set[str]()
    for step, ran, book in each_failure(copies(good, tmp_path), publish):
        check_refusal(step, ran)
        if step == "mkdir":  # frozen; from here on it is about the files
            break
        whole = WRITTEN in ran.err
        assert query(book, EDITION) == ([("2026", HEADS)] if whole else [])
        assert whole or hash_of(book) == before
        steps.add(step)
    assert steps == COMMIT_STEPS
    assert query(book, EDITION) == [("2026", HEADS)]


@nightly
def test_the_files_of_an_edition(good: Path, tmp_path: Path) -> None:
    frozen = copy_of(good, tmp_path / "book.duckdb")
    assert publish(frozen).code == 0
    written = {path.name: path.read_bytes() for path in (tmp_path / "ed").iterdir()}
    tried, again = tries(publish, frozen, tmp_path), set[str]()
    for step, ran, book in tried[:-1]:
        check_refusal(step, ran)
        left = {path.name: path.read_bytes() for path in (book.parent / "ed").glob("*")}
        assert left.items() <= written.items()  # whole files, or none
        if step not in again:
            again.add(step)
            assert publish(book).code == 0
            assert {path.name: path.read_bytes() for path in (book.parent / "ed").iterdir()} == written
    assert again == {"mkdir", "open", "write .part", "fsync", "replace"}
    assert query(frozen, EDITION) == [("2026", HEADS)]


def test_a_backup_and_a_restore(good: Path, tmp_path: Path) -> None:
    whole = hash_of(good)

    def backup(book: Path) -> Ran:
        return run("backup", book, book.parent / "backup.zip")

    tried = tries(backup, good, tmp_path)
    for step, ran, book in tried[:-1]:
        check_refusal(step, ran)
        nothing_beside(book)
        assert backup(book).code == 0
    assert {one.step for one in tried} == {"mkdir", "open", "write .zip", "fsync", "rename", ""}

    file = tried[-1].book.parent / "backup.zip"

    def fresh(nth: int) -> Path:
        (tmp_path / f"restored_{nth}").mkdir()
        return tmp_path / f"restored_{nth}" / "book.duckdb"

    tried = list(each_failure(fresh, lambda book: run("restore", file, book)))
    for step, ran, book in tried[:-1]:
        check_refusal(step, ran)
        assert list(book.parent.iterdir()) == []
    assert {one.step for one in tried} == {"mkdir", "open", "write .duckdb", "write .anchor", "fsync", "rename", ""}
    restored = tried[-1].book
    assert hash_of(restored) == whole
    assert back_up(restored, tmp_path / "second.zip").holds.book_hash == whole
    restore(tmp_path / "second.zip", tmp_path / "third.duckdb")
    assert (tmp_path / "third.duckdb").read_bytes() == good.read_bytes()


@nightly
def test_an_upgrade(tmp_path: Path) -> None:
    old = old_book(max(migrations.known()) - 1, tmp_path)
    before = old.read_bytes()
    tried = tries(lambda book: run("upgrade", book), old, tmp_path)
    for step, ran, book in tried[:-1]:
        copy = beside(book, f".before-{max(migrations.known()):04d}")
        check_refusal(step, ran)
        if "everything was written" in ran.err:
            assert copy.read_bytes() == before
        else:
            assert not copy.exists()
            assert run("upgrade", book).code == 0
        assert copy.read_bytes() == before
        assert query(book, STATES) == HELD
    assert {one.step for one in tried} == COMMIT_STEPS | {""}
