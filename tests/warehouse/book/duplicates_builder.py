"""Invented sheets with pairs of one head planted among them, and a book of them."""

import random
from collections.abc import Sequence
from pathlib import Path

from tests.book_builder import file_of, load, new_book
from tests.sheet_builder import MEASURES, Row, clean_sheet
from tests.warehouse.book.plain_duplicates import SCORED
from warehouse.book import database

AREAS = """
INSERT INTO area SELECT * FROM (VALUES ('07001', 'Abberlow', 'county', 'ZZ', 'North', 'High'),
    ('07003', 'Brackwater', 'county', 'ZZ', 'South', 'High'), ('07009', 'Old Abberlow', 'county', 'ZZ', 'North', 'High'));
INSERT INTO area_change VALUES ('07009', '07001', DATE '2026-01-01', 'renamed');
"""
NAMES = (
    "Tarn Holtquarry",
    "Bettany Inglebrand",
    "Marn Osselby",
    "Rhosa Drumlock",
    "Corwin Vale",
    "Iveta Šorm",
    "Ulf Ätten",
)
GROWN = tuple(name for name in SCORED if name[:2] in ("be", "g1", "g2", "g3", "h1", "h2", "h3", "h4"))
SPANS = {"b": (150, 200), "g": (24, 80), "h": (30, 40)}


def text(units: int) -> str:
    """A length as people write it."""
    return f"{units // 8} {units % 8}/8"


class Herd:
    """Sheets numbered 1, 2 ... of a seeded generator."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.rows: list[Row] = []

    def head(self, **changes: str) -> Row:
        """A sheet unlike any other."""
        measured = {name: text(self.chance.randint(*SPANS[name[0]])) for name in GROWN}
        entry = {
            "hunter": self.chance.choice(NAMES), "tag_no": f"T-{1000 + len(self.rows)}", "district": "",
            "taken_on": f"2025-11-{self.chance.randint(8, 10):02d}", "area": self.chance.choice(("Abberlow", "Brackwater")),
            "g4_r": "", "g4_l": "", "abnormal_r": "", "inside_spread": text(self.chance.randint(110, 150)),
        }  # fmt: skip
        return self._add(entry | measured | changes)

    def again(self, row: Row, moves: dict[str, int] | None = None, **changes: str) -> Row:
        """The sheet sent a second time, measures moved by so many eighths, cells changed."""
        kept = {
            name: value for name, value in row.items() if name in MEASURES or name in ("hunter", "taken_on", "area")
        }
        kept |= {"tag_no": "", "district": "", "season": row["season"], "category": row["category"]}
        moved = {name: text(_eighths(row[name]) + by) for name, by in (moves or {}).items()}
        return self._add(kept | {name: row[name] for name in ("measured_on", "measurer")} | moved | changes)

    def moved(self, row: Row, by: int, most: int) -> dict[str, int]:
        """Moves of at most `by` eighths for each grown measure, no more than `most` in all."""
        moves = {name: self.chance.randint(-by, by) for name in GROWN}
        while sum(map(abs, moves.values())) > most:
            moves[self.chance.choice(GROWN)] = 0
        return moves

    def _add(self, changes: Row) -> Row:
        self.rows.append(clean_sheet(**(changes | {"entry_no": str(len(self.rows) + 1)})))
        return self.rows[-1]


def _eighths(length: str) -> int:
    whole, part = length.split(" ")
    return int(whole) * 8 + int(part.split("/")[0])


def book_of(folder: Path, rows: Sequence[Row], areas: bool = True) -> Path:
    """A book of these sheets; entry n is the n-th row."""
    book = new_book(folder)
    if areas:
        with database.writing(book) as connection:
            connection.execute(AREAS)
    load(book, file_of(folder / "sheets.csv", rows))
    return book
