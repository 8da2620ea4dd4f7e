"""Standing and rankings of a large book: every entry held against every record book, and the first hundred of each list.

    python -m tests.benchmarks.bench_standing            a million entries, five record books (about a minute)
    python -m tests.benchmarks.bench_standing 100000

The mark is 3 s for both together on two cores. Every figure comes from one run on one machine.
"""

import resource
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from warehouse.book import database, rankings
from warehouse.book.rankings import RankSettings
from warehouse.book.reading import StandingSettings, read_standings
from warehouse.book.standing import standing

MARK = 3.0
BOOKS = 5
REFERENCE = """
INSERT INTO area SELECT printf('07%03d', i), 'Area ' || i, 'county', 'QM', 'District ' || (i % 12), 'Region ' || (i % 3) FROM range(1, 251) r(i);
INSERT INTO season SELECT (1986 + i)::VARCHAR || '-' || printf('%02d', (1987 + i) % 100), make_date(1986 + i, 7, 1), make_date(1987 + i, 6, 30)
    FROM range(40) r(i);
INSERT INTO measurer SELECT printf('M-%03d', i), 'Measurer ' || i, DATE '1980-01-01' + (i * 10)::INTEGER,
    CASE WHEN i % 4 = 0 THEN DATE '2015-01-01' END, CASE WHEN i % 5 = 0 THEN 'club' ELSE 'official' END FROM range(1, 201) r(i);
INSERT INTO record_book SELECT 'Book ' || b, '1986-87', NULL, 'net', CASE b WHEN 2 THEN 'gross' WHEN 3 THEN 'taken' ELSE 'shared' END,
    CASE b WHEN 1 THEN ['bow'] ELSE [] END, b <> 1, 60, CASE b WHEN 2 THEN ['official'] ELSE [] END, [],
    CASE b WHEN 3 THEN ['District 1', 'District 2'] ELSE [] END, [], CASE b WHEN 4 THEN 700 END, NULL FROM range($books) r(b);
INSERT INTO minimum (book, category, weapon_class, minimum_units, first_season, last_season, antler_state)
    SELECT 'Book ' || b, c, 'any', 900 + 100 * b, s, e, 'any' FROM range($books) r(b),
    (VALUES ('whitetail-typical'), ('whitetail-nontypical')) x(c), (VALUES ('1986-87', '2005-06'), ('2006-07', NULL)) y(s, e);
"""
ENTRIES = """
INSERT INTO entry SELECT i, 'E' || i FROM range(1, $entries + 1) r(i);
INSERT INTO entry_revision BY NAME
SELECT i AS revision_id, i AS entry_id, 1 AS revision_no, i AS row_id, TIMESTAMP '2026-11-25' AS made_at, 'x' AS author, 'first received' AS reason,
    CASE WHEN i % 30 = 0 THEN 'held' ELSE 'accepted' END AS status,
    CASE WHEN i % 7 = 0 THEN 'whitetail-nontypical' ELSE 'whitetail-typical' END AS category, 8 AS unit,
    'Hunter ' || (i % 300000) AS hunter, printf('07%03d', 1 + hash(i) % 250) AS area_code,
    make_date(1986 + (hash(i + 7) % 40)::INTEGER, 11, 1 + (hash(i + 9) % 30)::INTEGER) AS taken_on,
    (1986 + (hash(i + 7) % 40)::INTEGER)::VARCHAR || '-' || printf('%02d', (1987 + (hash(i + 7) % 40)::INTEGER) % 100) AS season,
    ['rifle', 'bow', 'muzzleloader', 'crossbow', 'shotgun'][1 + (hash(i + 3) % 5)::INTEGER] AS weapon,
    printf('M-%03d', 1 + hash(i + 5) % 200) AS measurer,
    make_date(1987 + (hash(i + 7) % 40)::INTEGER, 2, 1 + (hash(i + 11) % 27)::INTEGER) AS measured_on,
    (1100 + (hash(i + 1) % 400)::INTEGER)::INTEGER AS gross, 0 AS abnormal_total, (hash(i + 2) % 60)::INTEGER AS deductions,
    gross - deductions AS net, hash(i * 31) AS measure_key
FROM range(1, $entries + 1) r(i);
"""


def make_book(path: Path, entries: int) -> None:
    """A book of so many invented heads over forty seasons and 250 areas, put in without their sheets."""
    database.create(path)
    with database.writing(path) as connection:
        for text in (REFERENCE, ENTRIES):
            connection.execute(text.replace("$books", str(BOOKS)).replace("$entries", str(entries)))


def _timed(label: str, work: Callable[[], int]) -> float:
    start = time.perf_counter()
    rows = work()
    seconds = time.perf_counter() - start
    print(f"  {label:<62} {seconds:6.2f} s  {rows:>10,}")
    return seconds


def main(entries: int) -> None:
    """Print seconds and rows of each step."""
    with tempfile.TemporaryDirectory() as name:
        book = Path(name) / "book.duckdb"
        make_book(book, entries)
        print(f"{entries:,} entries, {BOOKS} record books, {book.stat().st_size / 1e6:.0f} MB")
        with database.reading(book) as connection:
            count = "SELECT count(*) FROM standing WHERE qualifies"
            all_of_them = _timed(
                "every entry in every book: how many qualify", lambda: connection.execute(count).fetchall()[0][0]
            )
            books = tuple(f"Book {number}" for number in range(BOOKS))
            ranked = _timed(
                "the first hundred of each category of every book",
                lambda: rankings.rank(connection, RankSettings(book=books, places=100)).height,
            )
            _timed("the first three of each area, all accepted entries",
                   lambda: rankings.rank(connection, RankSettings(list_by="area", places=3)).height)  # fmt: skip
            _timed("one entry in every book, with its reasons", lambda: standing(connection, entry_id=777).height)
        _timed("the standing page of one book", lambda: read_standings(book, StandingSettings("Book 2")).rows.height)
        print(f"  standing and rankings together: {all_of_them + ranked:.2f} s (at most {MARK})")
        print(f"  peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
