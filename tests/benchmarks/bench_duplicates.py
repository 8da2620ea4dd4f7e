"""Pairs that may be one head in a book of a million sheets, with a thousand heads entered twice among them.

    python -m tests.benchmarks.bench_duplicates            a million sheets, twice (about three minutes)
    python -m tests.benchmarks.bench_duplicates 100000

One book has its sheets on 30 days in 4 counties, so that every block is far too large to compare each with each; the
other spreads them over 25 seasons and 64 counties, as a region's book does. Every second twin was measured again by
another measurer, and its h1 moved by an eighth; the others are only under another number and name. The mark is 20 s
for the whole book, 3 s for one entry, and every twin found.
"""

import resource
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import numpy as np
import polars as pl

from loaders.load import Request, load_files
from tests.benchmarks.many_sheets import write_sheets
from warehouse.book import database, duplicates

TODAY = date(2026, 11, 25)
TWINS = 1000
MARKS = {"all pairs": 20.0, "pairs of one entry": 3.0}
SEASONS, DAYS, COUNTIES = 25, 60, 64


def spread_out(sheets: pl.DataFrame, rng: np.random.Generator) -> pl.DataFrame:
    """The same sheets over many seasons and counties."""
    taken = [f"{2000 + year}-{10 + day // 30}-{day % 30 + 1:02d}" for year in range(SEASONS) for day in range(DAYS)]
    measured = [f"{2001 + year}-02-15" for year in range(SEASONS) for _ in range(DAYS)]
    day = pl.Series(rng.integers(0, len(taken), sheets.height))
    return sheets.with_columns(
        pl.Series("taken_on", taken).gather(day),
        pl.Series("measured_on", measured).gather(day),
        pl.Series("area", [f"County {nth}" for nth in range(COUNTIES)]).gather(
            rng.integers(0, COUNTIES, sheets.height)
        ),
    )


def with_twins(sheets: pl.DataFrame, rng: np.random.Generator) -> pl.DataFrame:
    """`TWINS` of the sheets once more, at the end."""
    rows = np.sort(rng.choice(sheets.height, TWINS, replace=False))
    twin = sheets[rows].with_row_index("nth").with_columns(again=pl.col("nth") % 2 == 0)
    longer = pl.col("h1_r").replace({_text(units): _text(units + 1) for units in range(20, 60)})
    twin = twin.with_columns(
        pl.format("T{}", pl.col("entry_no").str.slice(1)).alias("entry_no"),
        pl.when("again").then("hunter").otherwise(pl.format("Twin of {}", "hunter")).alias("hunter"),
        pl.when("again").then(pl.lit("M-777")).otherwise("measurer").alias("measurer"),
        pl.when("again").then(longer).otherwise("h1_r").alias("h1_r"),
    )
    return pl.concat([sheets, twin.drop("nth", "again")])


def _text(units: int) -> str:
    return f"{units // 8} {units % 8}/8" if units % 8 else str(units // 8)


def measure(sheets: pl.DataFrame, folder: Path, name: str) -> None:
    """Load the sheets into a book and print how long its pairs take, and which twins are among them."""
    csv, book = folder / f"{name}.csv", folder / f"{name}.duckdb"
    sheets.write_csv(csv)
    database.create(book)
    load_files(Request([csv], book, "benchmark", TODAY, {}))
    with database.reading(book) as connection:
        pairs = _timed(name, "all pairs", lambda: duplicates.pairs(connection))
        one = int(pairs["second_id"][0])
        of_one = _timed(name, "pairs of one entry", lambda: duplicates.pairs(connection, one))
    twins = pairs.filter(pl.col("first_entry_no").str.slice(1) == pl.col("second_entry_no").str.slice(1))
    kinds = twins.group_by(pl.col("kinds").list.join(", ")).len().sort("kinds").rows()
    print(
        f"    {twins.height:,} of {TWINS:,} twins found, {pairs.height - twins.height:,} other pairs; one entry has {of_one.height}"
    )
    print(f"    {'; '.join(f'{kind}: {count}' for kind, count in kinds)}")


def _timed(name: str, what: str, ask: Callable[[], pl.DataFrame]) -> pl.DataFrame:
    """Ask once, and print the seconds on the clock and of the processor (which count where the machine is shared)."""
    start, busy = time.perf_counter(), time.process_time()
    pairs = ask()
    clock, busy = time.perf_counter() - start, time.process_time() - busy
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"  {name:<8} {what:<18} {clock:6.2f} s (at most {MARKS[what]:.0f}), {busy:6.2f} s of the processor; peak so far {peak:,.0f} MiB"
    )
    return pairs


def main(sheets: int) -> None:
    """Both books."""
    rng = np.random.default_rng(20261125)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_sheets(folder / "plain.csv", sheets)
        plain = pl.read_csv(folder / "plain.csv", infer_schema=False)
        print(f"{sheets:,} sheets and {TWINS:,} twins")
        measure(with_twins(spread_out(plain, rng), rng), folder, "spread")
        measure(with_twins(plain, rng), folder, "crowded")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
