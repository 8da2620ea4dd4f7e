"""A book in which everything has happened that a log can tell of, for the tests of verifying; made once, and copied.

first.csv holds heads 1 to 6: the gross of 2 is an inch too long, G2 of 3 cannot be read, 6 repeats the measures of 1.
second.csv sends 1 again as it was, 4 with another G3, and two new heads, 7 and 8, the net of 8 far too
low. 2 is corrected, which is taken back,
and corrected again, in two steps; 3 is filled in. Then there are decisions of every kind, an edition, and the
measurers' table is put in place anew.
"""

import atexit
import shutil
from datetime import datetime
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from loaders.decisions import Correction
from loaders.decisions import decide as decide_with_cells
from tests.book_builder import copy_of, file_of, heads, load, new_book
from tests.sheet_builder import TODAY, Row, clean_sheet
from tests.warehouse.book.reference.table_texts import rows_of
from warehouse.book import database
from warehouse.book.decisions import Decision, decide
from warehouse.book.editions import freeze
from warehouse.book.reference import Told, put

NOW = datetime(2026, 11, 25, 12, 0)
REFERENCE = {
    "area": "area_code,name,state,district,region\n07001,Abberlow,ZZ,North,Upland\n07003,Brackwater,ZZ,South,Lowland",
    "measurer": "measurer_no,name,certified_from\nM-12,Wystan Carrow,2001-01-01",
    "season": "season,starts_on,ends_on\n2025-26,2025-07-01,2026-06-30",
    "minimum": "book,category,weapon_class,minimum,first_season\nQuillmark Record,whitetail-typical,any,125 0/8,2010-11",
}
OTHER_MEASURERS = "measurer_no,name,certified_from\nM-77,Ilse Marrowby,2003-01-01"
WHO = ("Una Reed", "the committee of 3 May")
KINDS = [
    *(["reference"] * 5), "load", "load", "correct", "undo", "correct", "correct", "correct", "hold", "undo", "refuse",
    "withdraw", "merge", "distinct", "panel", "panel-result", "accept", "publish", "reference",
]  # fmt: skip


def logged_book(to: Path) -> Path:
    """A copy of the book."""
    return copy_of(_made_once(), to)


def first_rows() -> list[Row]:
    """The sheets of first.csv."""
    one, two, three, four, five = heads(1, 5)
    return [
        one,
        two | {"gross": "148 7/8"},
        three | {"g2_r": "??"},
        four,
        five,
        one | {"entry_no": "6", "hunter": "Else"},
    ]


def put_reference(book: Path, **texts: str) -> None:
    """Put reference tables in place: table -> CSV text."""
    with database.writing(book) as connection:
        put(connection, {table: rows_of(table, text) for table, text in texts.items()}, Told(*WHO, NOW))


def correct(book: Path, entry: int, **cells: str) -> None:
    """Correct cells of an entry."""
    decide_with_cells(book, Decision("correct", entry, *WHO), TODAY, Correction(cells))


@cache
def _made_once() -> Path:
    folder = Path(mkdtemp(prefix="logged-book-"))
    atexit.register(shutil.rmtree, folder)
    book = new_book(folder)
    put_reference(book, **REFERENCE)
    load(book, file_of(folder / "first.csv", first_rows()))
    four = clean_sheet(**(heads(4, 4)[0] | {"g3_r": "8 1/8"}))
    one, seven, eight = heads(1, 1)[0], *heads(7, 8)
    load(book, file_of(folder / "second.csv", [one, four, seven, eight | {"net": "99 0/8"}]))
    _corrected(book)
    _decided(book)
    with database.writing(book) as connection:
        freeze(connection, "2026", *WHO, NOW)
    put_reference(book, measurer=OTHER_MEASURERS)
    return book


def _corrected(book: Path) -> None:
    correct(book, 2, gross="145 6/8")
    decide_with_cells(book, Decision("undo", 2, *WHO), TODAY)
    correct(book, 2, gross="146 6/8", tag_no="T-9")
    correct(book, 2, gross="145 6/8")
    correct(book, 3, g2_r="9 1/8", antler_state="velvet")  # the file has no such column


def _decided(book: Path) -> None:
    for decision in (
        Decision("hold", 4, *WHO), Decision("undo", 4, *WHO), Decision("refuse", 4, *WHO), Decision("withdraw", 5, *WHO),
        Decision("merge", 6, *WHO, other_entry_id=1), Decision("distinct", 7, *WHO, other_entry_id=8),
        Decision("panel", 7, *WHO), Decision("panel", 7, *WHO, net="138 0/8", gross="146 0/8"),
        Decision("accept", 8, *WHO, despite_errors=True),
    ):  # fmt: skip
        decide(book, decision)
