"""The figures of every trend page from a large book: rates, antlers, measurers.

    python -m tests.benchmarks.bench_trends            a million entries, 250 areas, 40 seasons (a minute or two)
    python -m tests.benchmarks.bench_trends 100000

The mark is 2 s a page on two cores, from the book. Each page is read twice, and the second time is told: the first one
also loads the libraries. Every figure comes from one run on one machine.
"""

import resource
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

from tests.benchmarks.bench_standing import make_book
from warehouse.book import database
from warehouse.book.trend_figures.antlers import read_antlers
from warehouse.book.trend_figures.measurers import read_measurers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import read_trend

MARK = 2.0
BOOK, CATEGORY, TODAY = "Book 2", "whitetail-typical", date(2026, 11, 26)
EFFORT = """
INSERT INTO effort SELECT a.area_code, s.season, 500, 4000, 600 + hash(a.area_code || s.season) % 800 FROM area a CROSS JOIN season s;
INSERT INTO measurement
SELECT r.revision_id, l.line, CASE WHEN l.line <> 'inside_spread' THEN length END, CASE WHEN l.line <> 'inside_spread' THEN length + 1 END,
       CASE WHEN l.line = 'inside_spread' THEN length END, NULL
FROM (SELECT revision_id, l.line, (l.least + hash(revision_id * 31 + l.least) % 40)::INTEGER AS length FROM entry_revision
      CROSS JOIN (VALUES ('beam', 150), ('inside_spread', 110), ('g1', 30), ('g2', 50), ('g3', 45), ('g4', 25), ('h1', 32), ('h2', 30), ('h3', 31),
                         ('h4', 28)) l(line, least)) l
JOIN entry_revision r USING (revision_id);
UPDATE entry_revision SET points_r = 5, points_l = 5;
INSERT INTO panel_measure SELECT 'Bench panel', DATE '2026-08-01', 'H' || h, m.measurer_no, l, 1100 + h + hash(h || m.measurer_no || l) % 5, 8
FROM range(12) r(h) CROSS JOIN (SELECT DISTINCT measurer_no FROM measurer) m CROSS JOIN (VALUES ('net'), ('gross'), ('beam_r')) x(l);
"""


def _timed(label: str, work: Callable[[], int]) -> float:
    work()
    start = time.perf_counter()
    rows = work()
    seconds = time.perf_counter() - start
    print(f"  {label:<62} {seconds:6.2f} s  {rows:>10,}")
    return seconds


def main(entries: int) -> None:
    """Print the seconds of each page, and how many entries it counted."""
    with tempfile.TemporaryDirectory() as name:
        book = Path(name) / "book.duckdb"
        make_book(book, entries)
        with database.writing(book) as connection:
            connection.execute(EFFORT)
        print(f"{entries:,} entries, 250 areas, 40 seasons, {book.stat().st_size / 1e6:.0f} MB (at most {MARK} s each)")
        whole = TrendSettings(BOOK, CATEGORY, TODAY)
        district = TrendSettings(BOOK, CATEGORY, TODAY, district="District 1")
        _timed("trends of the whole region, all its districts and areas", lambda: read_trend(book, whole).kept)
        _timed("trends of one district and its areas", lambda: read_trend(book, district).kept)
        _timed("antlers of the whole region", lambda: read_antlers(book, whole).kept)
        _timed("antlers of one district", lambda: read_antlers(book, district).kept)
        _timed("measurers", lambda: read_measurers(book, whole).above.entries)
        print(f"  peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
