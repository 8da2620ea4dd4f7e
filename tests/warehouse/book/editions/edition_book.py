"""A book of six heads and two record books for the tests of editions, worked out by hand.

Head n of `heads` (n below 18) has a left beam of 160 + n eighths beside a right one of 177: each step adds 1 to the gross
and 2 to the net. Head 2 grosses 1166 and nets 1103 eighths, so head n grosses 1164 + n and nets 1099 + 2 n. Number 6 is
head 4 with a quarter of an inch more spread: 1170 and 1109.

    number  1     2     3     4     5     6
    gross   1165  1166  1167  1168  1169  1170
    net     1101  1103  1105  1107  1109  1109
    season  24-25 24-25 24-25 25-26 25-26 25-26      weapon: rifle, 5 with a bow

The Quillmark Record ranks by net and takes 1102 and more: 5 and 6 tie, then 4, 3, 2. The Bow Register ranks by gross and
takes bows only, from 1000 on: 5.
"""

import atexit
import shutil
from datetime import date, datetime
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import duckdb
import polars as pl

from loaders.corrections import Author, Target, correct_cells
from tests.book_builder import copy_of, file_of, heads, load, new_book
from tests.sheet_builder import TODAY, Row, clean_sheet
from warehouse.book import database, events
from warehouse.book.editions import Edition, freeze, read_edition

NOW = datetime(2026, 3, 1, 18, 30)
LATER = datetime(2027, 3, 1, 18, 30)
QUILLMARK, BOW = "Quillmark Record", "Bow Register"
TYPICAL = "whitetail-typical"


def sheet(number: int, like: int | None = None, **changes: str) -> Row:
    """The sheet of entry `number`, measured like head `like` (itself)."""
    first = heads(like or number, like or number)[0]
    return clean_sheet(**first | {"entry_no": str(number), "hunter": f"Hunter {number}"} | changes)


def older(number: int) -> Row:
    """The sheet of an entry of season 2024-25."""
    return sheet(number, taken_on="2024-11-08", season="2024-25", measured_on="2025-01-20")


def edition_book(folder: Path) -> Path:
    """The book of the six heads, without an edition: a copy of one made once, which is much faster than making it."""
    return copy_of(_made_once(), folder / "book.duckdb")


def published_book(folder: Path) -> Path:
    """The book of the six heads with its first edition, 2026."""
    return copy_of(_published_once(), folder / "book.duckdb")


@cache
def _published_once() -> Path:
    book = edition_book(_folder())
    publish(book, "2026")
    return book


def _folder() -> Path:
    folder = Path(mkdtemp(prefix="edition-book-"))
    atexit.register(shutil.rmtree, folder)
    return folder


@cache
def _made_once() -> Path:
    folder = _folder()
    book = new_book(folder)
    with database.writing(book) as connection:
        connection.execute(f"""
            INSERT INTO area VALUES ('07001', 'Abberlow', 'county', 'ZZ', 'North', 'Upland');
            INSERT INTO season VALUES ('2024-25', DATE '2024-07-01', DATE '2025-06-30'),
                                      ('2025-26', DATE '2025-07-01', DATE '2026-06-30'),
                                      ('2026-27', DATE '2026-07-01', DATE '2027-06-30');
            INSERT INTO measurer (measurer_no, name, certified_from) VALUES ('M-12', 'Wystan Carrow', DATE '2001-01-01');
            INSERT INTO record_book VALUES
                ('{QUILLMARK}', '2020-21', NULL, 'net', 'shared', [], true, 60, [], [], [], [], NULL, NULL),
                ('{BOW}', '2020-21', NULL, 'gross', 'taken', ['bow'], false, 60, [], [], [], [], NULL, NULL);
            INSERT INTO minimum (book, category, weapon_class, minimum_units, first_season, last_season) VALUES
                ('{QUILLMARK}', '{TYPICAL}', 'any', 1000, '2018-19', '2022-23'),
                ('{QUILLMARK}', '{TYPICAL}', 'any', 1102, '2023-24', NULL),
                ('{BOW}', '{TYPICAL}', 'bow', 1000, '2020-21', NULL);
        """)
    rows = [*map(older, (1, 2, 3)), sheet(4), sheet(5, weapon="bow"), sheet(6, like=4, inside_spread="17 6/8")]
    load(book, file_of(folder / "first.csv", rows))
    return book


def add(book: Path, *rows: Row, name: str = "later.csv") -> None:
    """Load sheets from a file of their own beside the book."""
    load(book, file_of(book.with_name(name), rows))


def publish(book: Path, name: str, now: datetime = NOW) -> Edition:
    """Freeze an edition of the book, and read it."""
    with database.writing(book) as connection:
        freeze(connection, name, "Una Reed", "annual rankings", now)
        return read_edition(connection, name)


def read_again(book: Path, name: str) -> Edition:
    """The edition as the closed book has it."""
    with database.reading(book) as connection:
        return read_edition(connection, name)


def entry_id(connection: duckdb.DuckDBPyConnection, number: int) -> int:
    """The entry with this number."""
    found = connection.execute("SELECT entry_id FROM current_entry WHERE entry_no = ?", [str(number)]).fetchall()
    return int(found[0][0])


def decide(book: Path, number: int, kind: str, why: str, into: int | None = None) -> None:
    """Put a decision about an entry into the log."""
    with database.writing(book) as connection:
        entry = entry_id(connection, number)
        revision = connection.execute("SELECT revision_id FROM current_entry WHERE entry_id = ?", [entry]).fetchall()
        other = None if into is None else entry_id(connection, into)
        event = events.Event(
            kind, "Una Reed", why, entry_id=entry, revision_id=int(revision[0][0]), other_entry_id=other
        )
        events.append(connection, event, NOW)


def correct(book: Path, number: int, before: Row, after: Row, why: str) -> None:
    """Correct the cells in which two sheets of an entry differ."""
    with database.reading(book) as connection:
        target = Target(book, entry_id(connection, number))
    cells = {field: text for field, text in after.items() if before[field] != text}
    correct_cells(target, cells, Author("Una Reed", why), TODAY)


def a_year_later(book: Path) -> None:
    """7 comes in (1113), 2 is corrected to head 6 (1111), 3 to head 0 (1099), 4 gets its name, 6 is withdrawn."""
    add(book, sheet(7, weapon="bow", hunter="Ilse Marrowby"))
    correct(book, 2, older(2), sheet(2, like=6) | _entry_of(older(2)), "the left beam was misread")
    correct(book, 3, older(3), shorter(older(3)), "the tape was read from its end")
    correct(book, 4, sheet(4), sheet(4, hunter="Tarn Oxtrell"), "the name was written by ear")
    decide(book, 6, "withdraw", "the owner asked for it")


def shorter(row: Row) -> Row:
    """The sheet with a left beam of 20 inches: like head 0, which nets 1099."""
    return clean_sheet(**row | {"beam_l": "20 0/8"})


def _entry_of(row: Row) -> Row:
    return {field: row[field] for field in ("taken_on", "season", "measured_on")}


def places(edition: Edition, book: str, span: str) -> list[tuple[int, bool, str]]:
    """(place, tied, entry number) of one list."""
    rows = edition.lines.filter(pl.col("book") == book, pl.col("span") == span)
    return rows.select("place", "tied", "entry_no").rows()


DAY = date(2026, 3, 1)
