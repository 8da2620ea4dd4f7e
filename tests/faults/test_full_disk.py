"""A disk that fills up, made by a limit on the length of a file: a clean refusal, and nothing half done."""

import json
from pathlib import Path

import pytest

from tests.book_builder import beside, copy_of, file_of, heads, query
from tests.faults.children import Nursery
from tests.faults.qualifying_book import HEADS, qualifying_book
from tests.faults.soundness import hash_of, nothing_beside, rows_of

LARGE = "File too large"


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return qualifying_book(tmp_path_factory.mktemp("good"))


@pytest.fixture
def book(good: Path, tmp_path: Path) -> Path:
    """A copy of the book in a folder of its own."""
    (tmp_path / "of").mkdir()
    return copy_of(good, tmp_path / "of" / "book.duckdb")


@pytest.mark.parametrize("room", ["nothing", "half", "as much", "a block more", "some more"])
def test_a_load(book: Path, tmp_path: Path, children: Nursery, room: str) -> None:
    file, size, before = file_of(tmp_path / "more.csv", heads(HEADS, HEADS + 199)), book.stat().st_size, hash_of(book)
    limit = {
        "nothing": 10, "half": size // 2, "as much": size, "a block more": size + 262_144, "some more": size + 600_000,
    }[room]  # fmt: skip
    load = ("load", file, "--book", book, "--by", "tester")
    code, said = children.run(*load, room=limit)
    assert code == 2
    assert said.startswith(f"beamledger: {book}: nothing was written: ")
    assert LARGE in said
    assert said.count("\n") == 1
    assert hash_of(book) == before
    if room not in ("nothing", "some more"):  # the book is as it was, so two of the five say enough
        return
    assert children.run(*load).code == 0
    assert rows_of(book) == HEADS + 200
    nothing_beside(book)
    anchored = json.loads(beside(book, ".anchor").read_text())
    assert (anchored["received_row"], anchored["bytes"]) == (HEADS + 200, book.stat().st_size)


@pytest.mark.parametrize("room", ["nothing", "half", "as much"])
def test_a_decision(book: Path, children: Nursery, room: str) -> None:
    before, size = hash_of(book), book.stat().st_size
    decide = ("decide", "--book", book, "3", "hold", "--by", "tester", "--why", "which tag is it?")
    code, said = children.run(*decide, room={"nothing": 10, "half": size // 2, "as much": size}[room])
    if code != 2:  # it went into the free blocks of the file
        assert code == 1
        assert room != "nothing"
    else:
        assert said.startswith(f"beamledger: {book}: nothing was written: ")
        assert LARGE in said
        assert hash_of(book) == before
        assert children.run(*decide).code == 1
    assert query(book, "SELECT status FROM current_entry WHERE entry_no = '3'") == [("held",)]
    assert rows_of(book) == HEADS
    nothing_beside(book)


@pytest.mark.parametrize("room", [10, 4096, 40_000])
def test_a_backup(book: Path, tmp_path: Path, children: Nursery, room: int) -> None:
    before, file = hash_of(book), tmp_path / "backup.zip"
    code, said = children.run("backup", book, file, room=room)
    assert (code, said) == (
        2,
        f"beamledger: {file}: the backup was not written: {LARGE}; make room, or choose another place, and try again; "
        "nothing was left behind\n",
    )
    assert sorted(path.name for path in tmp_path.iterdir()) == ["of"]
    assert hash_of(book) == before
    assert children.run("backup", book, file).code == 0
    restored = tmp_path / "of" / "restored.duckdb"
    code, said = children.run("restore", file, restored, room=book.stat().st_size // 2)
    assert (code, said) == (
        2,
        f"beamledger: {restored}: the book was not restored: {LARGE}; make room, or choose another place, and try again; "
        "nothing was left behind\n",
    )
    nothing_beside(book)


@pytest.mark.parametrize("room", ["nothing", "no page"])
def test_an_edition(book: Path, tmp_path: Path, children: Nursery, room: str) -> None:
    before, folder = hash_of(book), tmp_path / "ed"
    publish = ("publish", "--book", book, "--edition", "2026", "--to", folder, "--by", "tester")
    if room == "no page":  # frozen, so that only the files are left to write
        assert children.run(*publish).code == 0
        before = hash_of(book)
        for path in folder.iterdir():
            path.unlink()
    code, said = children.run(*publish, room=10 if room == "nothing" else 10_000)
    assert code == 2
    assert LARGE in said
    assert said.count("\n") == 1
    assert hash_of(book) == before
    assert not (folder / "rankings.html").exists()
    assert children.run(*publish).code == 0
    assert (folder / "rankings.html").stat().st_size > 10_000
    assert not [path.name for path in folder.iterdir() if path.name.startswith(".")]
