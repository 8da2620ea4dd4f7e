"""While this process holds a book nobody else may write into it, whatever else this process does with the book."""

import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

import pytest

from tests.book_builder import beside, new_book
from tests.warehouse.book.test_book_upgrade import old_book
from warehouse.book import database, migrations
from warehouse.book.upgrade import upgrade
from warehouse.errors import BookLocked

WRITE_NOW = """
import sys, duckdb
try:
    duckdb.connect(sys.argv[1])
    print("came in")
except duckdb.IOException as refusal:
    print("kept out" if "Conflicting lock" in str(refusal) else refusal)
"""


def another_process(book: Path) -> str:
    """What becomes of another process that wants to write."""
    command = [sys.executable, "-c", WRITE_NOW, str(book)]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()


def test_a_page_that_opens_what_another_page_reads_keeps_a_load_out(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    with database.reading(book) as first:
        with database.reading(book):
            assert another_process(book) == "kept out"
        assert another_process(book) == "kept out"
        assert first.execute("SELECT count(*) FROM load").fetchall() == [(0,)]
    assert another_process(book) == "came in"


@pytest.mark.parametrize(
    ("holding", "refused"), [(database.reading, database.writing), (database.writing, database.reading)]
)
def test_a_refusal_inside_this_process_does_not_let_another_in(
    tmp_path: Path,
    holding: Callable[[Path], AbstractContextManager[Any]],
    refused: Callable[[Path, float], AbstractContextManager[Any]],
) -> None:
    book = new_book(tmp_path)
    with holding(book):
        with pytest.raises(BookLocked), refused(book, 0):
            pass
        assert another_process(book) == "kept out"


def test_many_pages_at_once_leave_nothing_held(tmp_path: Path) -> None:
    book, seen = new_book(tmp_path), list[Any]()

    def page() -> None:
        for _ in range(5):
            with database.reading(book) as connection:
                seen.append(connection.execute("SELECT count(*) FROM load").fetchall())

    pages = [threading.Thread(target=page) for _ in range(4)]
    for one in pages:
        one.start()
    for one in pages:
        one.join()
    assert seen == [[(0,)]] * 20
    assert another_process(book) == "came in"


def test_nobody_writes_between_the_copy_and_the_upgrade(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book, seen, apply_all = old_book(max(migrations.known()) - 1, tmp_path), list[str](), migrations.apply_all

    def applying(connection: Any) -> None:
        assert beside(book, f".before-{max(migrations.known()):04d}").exists()
        seen.append(another_process(book))
        apply_all(connection)

    monkeypatch.setattr(migrations, "apply_all", applying)
    assert upgrade(book) is not None
    assert seen == ["kept out"]
