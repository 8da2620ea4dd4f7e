"""A small region's book with five measurers and a panel in which one of them, M-003, reads three eighths high.

Twelve heads; everybody reads the panel's lines right or an eighth off, now up and now down, but for M-003, who is three
eighths above that. All by the real loader; ages of every third head.
"""

from datetime import UTC, datetime
from pathlib import Path

import polars as pl

from loaders.load import Request, load_files
from loaders.reference_files import files_in, read_all
from tests.region_trends import DAY
from tests.simulated_region import Region, sheets, write_reference
from warehouse.book import database, reference
from warehouse.book.reference import Told

MEASURERS = {
    "M-001": "Una Reed",
    "M-002": "Bryl Zephrane",
    "M-003": "Osk Harrow",
    "M-004": "Idony Vale",
    "M-005": "Keth Gantlow",
}
READS_HIGH, HIGH = "M-003", 3
HEADS = 12
SESSION = "Panel of 2026"
BOOK = "Record of the Region"


def measured_book(folder: Path) -> Path:
    """The book, in `folder`."""
    region = Region(seed=5, harvest=24, name=BOOK)
    write_reference(region, folder / "reference")
    numbers = list(MEASURERS)
    pl.DataFrame(
        {"measurer_no": numbers, "name": list(MEASURERS.values()), "certified_from": "2000-01-01", "certified_to": None}
    ).write_csv(folder / "reference" / "measurers.csv")
    panel_measures().write_csv(folder / "reference" / "panel_measures.csv")
    row = pl.int_range(pl.len())
    of_row = pl.lit(pl.Series(numbers)).gather(row % len(numbers))
    aged = pl.when(row % 3 == 0).then(pl.format("{}.5", row % 4 + 3)).otherwise(pl.lit(""))
    sheets(region, str(DAY)).with_columns(measurer=of_row, age=aged).write_csv(folder / "sheets.csv")
    book = folder / "region.duckdb"
    database.create(book)
    with database.writing(book) as connection:
        reference.put(
            connection,
            read_all(files_in(folder / "reference")),
            Told("tester", "the region", datetime.now(UTC).replace(tzinfo=None)),
        )
    load_files(Request([folder / "sheets.csv"], book, "tester", DAY, {}))
    return book


def panel_measures(heads: int = HEADS) -> pl.DataFrame:
    """The panel as a table. Who is off by what: an eighth up, none or one down in turn, so that none is off on average."""
    rows = [
        (
            SESSION,
            "2026-03-14",
            f"P-{head:02d}",
            number,
            line,
            _text(true + head * 9 + (head + place) % 3 - 1 + HIGH * (number == READS_HIGH)),
        )
        for head in range(heads)
        for place, number in enumerate(MEASURERS)
        for line, true in (("net", 1080), ("beam_r", 160))
    ]
    return pl.DataFrame(rows, schema=["session", "measured_on", "head", "measurer", "line", "length"], orient="row")


def _text(eighths: int) -> str:
    return f"{eighths // 8} {eighths % 8}/8"
