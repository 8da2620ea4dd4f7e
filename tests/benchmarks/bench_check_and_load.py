"""Check and load against DuckDB's own reading of the same file, and the recomputation against per-row Python.

    python -m tests.benchmarks.bench_check_and_load            a million sheets (about two minutes)
    python -m tests.benchmarks.bench_check_and_load 100000

Every figure comes from one run on one machine; what counts is the ratios. Each step runs in a process of its own,
so that its peak memory is its own.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import duckdb

from tests.benchmarks.many_sheets import write_sheets
from tests.benchmarks.per_row_python import seconds_with_fraction, seconds_with_integers

TODAY = date(2026, 11, 25)
PER_ROW_SHEETS = 50_000
TARGETS = {"check / DuckDB": 0.75, "load / DuckDB": 2.0}


def duckdb_read(csv: Path, folder: Path) -> dict[str, float]:
    """DuckDB's own read_csv, every column text, written to a table of a file and checkpointed."""
    with duckdb.connect(str(folder / "plain.duckdb")) as connection:
        connection.execute("SET enable_progress_bar = false")
        connection.execute("CREATE TABLE sheets AS SELECT * FROM read_csv(?, all_varchar = true)", [str(csv)])
        connection.execute("CHECKPOINT")
        return {"rows": connection.execute("SELECT count(*) FROM sheets").fetchall()[0][0]}


def check(csv: Path, folder: Path) -> dict[str, float]:
    """Read, parse, recompute, and hold every rule against every sheet."""
    from loaders.check import Settings, check_files

    (audited,) = check_files([csv], Settings(TODAY)).tables
    counts = dict(audited.findings["code"].value_counts().rows())
    return {"rows": audited.table.cells.height, "gross": counts.get("gross", 0), "net": counts.get("net", 0)}


def load(csv: Path, folder: Path) -> dict[str, float]:
    """The same, then the ledger written and checkpointed."""
    from loaders.load import Request, load_files

    counts = load_files(Request([csv], folder / "book.duckdb", "benchmark", TODAY, {})).counts()
    return {name: float(count) for name, count in counts.items()}


def recompute(csv: Path, folder: Path) -> dict[str, float]:
    """What the rows a time do, for all rows at once: the same texts to units, units to figures, figures compared."""
    import polars as pl

    from loaders.notation import read_columns
    from loaders.readers import read
    from loaders.tables import table_of
    from tests.benchmarks.per_row_python import FIELDS
    from warehouse import scoring
    from warehouse.categories import category_of

    table, category = table_of(read(csv)[0]), category_of("whitetail-typical")
    texts = table.cells.select(pl.col(table.present[field]).alias(field) for field in FIELDS)
    start = time.perf_counter()
    units = read_columns(texts, FIELDS).values
    nobody_grew = [pl.lit(0).alias(name) for name in (*category.measures, "abnormal_total") if name not in FIELDS]
    figures = scoring.recompute(units.with_columns(nobody_grew), category)
    wrong = ((figures["gross"] != units["gross"]) | (figures["net"] != units["net"])).sum()
    return {"inner": time.perf_counter() - start, "rows": table.cells.height, "wrong": float(wrong)}


STEPS: dict[str, Callable[[Path, Path], dict[str, float]]] = {
    "DuckDB": duckdb_read, "check": check, "load": load, "recompute": recompute,
}  # fmt: skip


def run_step(name: str, csv: Path, folder: Path) -> dict[str, float]:
    """One step in a process of its own: seconds (imports not counted) and peak memory beside its figures."""
    command = [sys.executable, "-m", "tests.benchmarks.bench_check_and_load", "--step", name, str(csv), str(folder)]
    return dict(json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout))


def _step_in_child(name: str, csv: Path, folder: Path) -> None:
    import loaders.load  # noqa: F401  (imported before the clock starts)

    start = time.perf_counter()
    figures = STEPS[name](csv, folder)
    figures["seconds"] = figures.pop("inner", time.perf_counter() - start)
    figures["MiB"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps(figures))


def _whole_command(csv: Path) -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, "-m", "dashboards.command", "check", str(csv)], capture_output=True, check=False)
    return time.perf_counter() - start


def main(sheets: int) -> None:
    """Print seconds, sheets a second, peak memory and the ratios that matter."""
    from warehouse.book import database

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        big, small, one = folder / "big.csv", folder / "small.csv", folder / "one.csv"
        write_sheets(big, sheets)
        write_sheets(small, min(sheets, PER_ROW_SHEETS))
        write_sheets(one, 1)
        database.create(folder / "book.duckdb")
        print(f"{sheets:,} sheets, {big.stat().st_size / 1e6:.0f} MB of CSV")
        took = {step: run_step(step, big, folder) for step in STEPS}
        for step, figures in took.items():
            rate = sheets / figures["seconds"]
            print(f"  {step:<10} {figures['seconds']:8.2f} s  {rate:>12,.0f} sheets/s  {figures['MiB']:6.0f} MiB")
        for step in ("check", "load"):
            ratio, target = took[step]["seconds"] / took["DuckDB"]["seconds"], TARGETS[f"{step} / DuckDB"]
            print(f"  {step} / DuckDB read_csv: {ratio:.2f} (at most {target})")
        _per_row(small, sheets, took["recompute"]["seconds"])
        _growth(folder)
        print(f"  `beamledger check` of one sheet, process start included: {_whole_command(one):.2f} s")


def _per_row(small: Path, sheets: int, ours: float) -> None:
    rows = min(sheets, PER_ROW_SHEETS)
    for label, measure in (("Fraction", seconds_with_fraction), ("careful integers", seconds_with_integers)):
        seconds, _ = measure(small)
        print(f"  recompute is {seconds / rows * sheets / ours:,.0f} times as fast as a row at a time with {label}")


def _growth(folder: Path) -> None:
    for sheets in (10_000, 100_000):
        path = folder / f"{sheets}.csv"
        write_sheets(path, sheets)
        seconds = run_step("check", path, folder)["seconds"]
        print(f"  check of {sheets:>7,} sheets: {seconds:6.2f} s, {sheets / seconds:,.0f} sheets/s")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--step"]:
        _step_in_child(sys.argv[2], Path(sys.argv[3]), Path(sys.argv[4]))
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
