import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from tests.book_builder import new_book
from warehouse.book import database
from warehouse.errors import BookLocked

HOLD = "import duckdb, sys; c = duckdb.connect(sys.argv[1]); print('held', flush=True); sys.stdin.read()"


@pytest.fixture(scope="module")
def held(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, subprocess.Popen[str]]]:
    """A book that another process has open for writing."""
    book = new_book(tmp_path_factory.mktemp("held"))
    child = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(book)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "held\n"
    yield book, child
    child.communicate()


@pytest.mark.parametrize("opened", [database.reading, database.writing])
@pytest.mark.parametrize("wait", [0.0, 1.0])
def test_the_message_names_the_holder_after_waiting(
    held: tuple[Path, subprocess.Popen[str]],
    opened: Callable[[Path, float], AbstractContextManager[object]],
    wait: float,
) -> None:
    book, child = held
    began = time.monotonic()
    with pytest.raises(BookLocked) as refused, opened(book, wait):
        pass
    took = time.monotonic() - began
    program = Path(sys.executable).resolve().name
    assert str(refused.value) == (
        f"{book}: process {child.pid} ({program}) holds the book; nothing was done after waiting {wait:.0f} s. "
        "Wait for it to finish, or stop it, and try again"
    )
    assert wait <= took < wait + 5


def test_a_book_held_by_this_process_is_said_to_be(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    with (
        database.reading(book),
        pytest.raises(BookLocked, match="another part of this program holds the book"),
        database.writing(book, 0),
    ):
        pass


def test_waiting_ends_when_the_holder_does(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    code = HOLD.replace("sys.stdin.read()", "import time; time.sleep(0.5)")
    child = subprocess.Popen([sys.executable, "-c", code, str(book)], stdout=subprocess.PIPE, text=True)
    assert child.stdout is not None
    assert child.stdout.readline() == "held\n"
    with database.writing(book, wait=30) as connection:
        assert connection.execute("SELECT count(*) FROM load").fetchall() == [(0,)]
    child.communicate()
    assert child.returncode == 0
