"""Books and files of invented heads for the tests of the store and of loading."""

import atexit
import shutil
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from loaders.load import Loaded, Request, load_files
from tests.sheet_builder import TODAY, Row, as_csv, clean_sheet
from warehouse.book import database


def heads(first: int, last: int) -> list[Row]:
    """Clean sheets numbered first to last, no two with the same measures (up to 256 of them)."""
    return [
        clean_sheet(
            entry_no=str(number),
            hunter=f"Hunter {number}",
            beam_l=f"{20 + number // 8 % 4} {number % 8}/8",
            g2_l=f"{8 + number // 32 % 8 // 4} {number // 32 % 4}/8",
        )
        for number in range(first, last + 1)
    ]


def book_with_a_slip(folder: Path) -> Path:
    """A book of three heads, the second held for a gross that does not add up: 148 7/8 where its sides give 145 6/8."""
    book, rows = new_book(folder), heads(1, 3)
    rows[1]["gross"] = "148 7/8"
    load(book, file_of(folder / "heads.csv", rows))
    return book


def new_book(folder: Path, name: str = "book.duckdb") -> Path:
    """An empty book without reference tables: a copy of one made once, which is much faster than making it."""
    return copy_of(_empty(), folder / name)


@cache
def _empty() -> Path:
    folder = Path(mkdtemp(prefix="empty-book-"))
    atexit.register(shutil.rmtree, folder)
    database.create(folder / "empty.duckdb")
    return folder / "empty.duckdb"


def copy_of(book: Path, to: Path) -> Path:
    """A copy of a closed book and its anchor."""
    shutil.copy(book, to)
    shutil.copy(beside(book, ".anchor"), beside(to, ".anchor"))
    return to


def file_of(path: Path, rows: Iterable[Mapping[str, str]]) -> Path:
    """Write rows as a CSV file."""
    path.write_bytes(as_csv(list(rows)))
    return path


def load(book: Path, *paths: Path, mapping: Mapping[str, str] | None = None, **more: Any) -> Loaded:
    """Load files as the tester."""
    return load_files(Request(paths, book, "tester", TODAY, mapping or {}, **more))


def query(book: Path, sql: str) -> list[tuple[Any, ...]]:
    """The rows of a query on a book."""
    with database.reading(book, wait=5) as connection:
        return connection.execute(sql).fetchall()


def beside(book: Path, ending: str) -> Path:
    """What stands beside a book: its ".wal", its ".anchor"."""
    return book.with_name(book.name + ending)
