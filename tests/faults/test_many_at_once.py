"""Eight loads at once in processes of their own, two of them of one file, and a reader that looks all the while."""

import time
from itertools import pairwise
from pathlib import Path

from tests.book_builder import file_of, heads, new_book, query
from tests.faults.children import Child, Nursery
from tests.faults.soundness import rows_of

# file -> rows: powers of two, so that a count of rows says which files are in
SIZES = {f"club_{size}.csv": size for size in (1, 2, 4, 8, 16, 32, 64)}


def loads_at_once(folder: Path, children: Nursery) -> list[int]:
    """Run them; returns the counts of rows that the reader saw, in order. Every file is in once at the end."""
    book, first = new_book(folder), 0
    files = []
    for name, size in SIZES.items():
        files.append(file_of(folder / name, heads(first, first + size - 1)))
        first += size
    begun = [_load(children, book, file) for file in (*files, files[3])]
    seen, ended = [rows_of(book, wait=60, verified=False)], 0
    while ended < len(begun):
        ended = sum(child.said.exists() for child in begun)  # a child writes that last
        rows = rows_of(book, wait=60, verified=False)
        if rows != seen[-1]:
            seen.append(rows)
        time.sleep(0.05)
    codes = [children.ended(child) for child in begun]
    assert [ended.code for ended in codes] == [0] * len(begun), codes
    assert query(book, "SELECT name, row_count FROM received_file ORDER BY row_count") == list(SIZES.items())
    assert query(book, "SELECT count(*), count(DISTINCT entry_no) FROM current_entry") == [(first, first)]
    assert query(book, "SELECT list(load_id ORDER BY load_id) FROM load") == [(list(range(1, len(files) + 1)),)]
    assert rows_of(book) == first == seen[-1]
    twice = [ended.printed for child, ended in zip(begun, codes, strict=True) if child in (begun[3], begun[-1])]
    assert sorted(printed.splitlines()[0].split(":")[1].split(",")[0] for printed in twice) == [" 0 new", " 8 new"]
    return seen


def _load(children: Nursery, book: Path, file: Path) -> Child:
    return children.begin("load", file, "--book", book, "--by", "tester", "--wait", "60")


def test_each_file_comes_in_once_and_the_reader_sees_whole_loads(tmp_path: Path, children: Nursery) -> None:
    seen = loads_at_once(tmp_path, children)
    assert seen[0] == 0
    assert len(seen) > 2  # otherwise the reader has looked too seldom to say anything
    assert all(before & ~after == 0 for before, after in pairwise(seen))  # files only come in
