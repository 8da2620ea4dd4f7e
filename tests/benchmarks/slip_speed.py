"""Seconds and peak memory of the diagnosis of many wrong sheets, in a process of its own."""

import json
import subprocess
import sys
import time
from pathlib import Path

import numpy as np

from tests.benchmarks.slip_kinds import ONE_CELL, TWO
from tests.benchmarks.slip_sheets import CATEGORIES, Sheets, right_sheets
from tests.benchmarks.slip_text import write_csv

SHARES = {"one slip a sheet": ONE_CELL, "two slips a sheet": TWO, "no slip": ()}


def mixed(kinds: str, category: str, number: int, seed: int) -> Sheets:
    """So many sheets with the faults of `kinds` (a key of SHARES), each kind as often as any other."""
    rng = np.random.default_rng([seed, CATEGORIES.index(category)])
    if not SHARES[kinds]:
        return right_sheets(category, number, rng)
    each = 2 * number // len(SHARES[kinds]) + 100  # some cannot be befallen and are passed over
    made = [kind.make(right_sheets(category, each, rng), rng) for kind in SHARES[kinds]]
    parts = [one.take(one.kept).sheets for one in made]
    joined = parts[0]
    for part in parts[1:]:
        joined = joined.joined(part)
    return joined.take(rng.permutation(len(joined))[:number])


def speed(number: int, category: str, notation: str, seed: int, folder: Path) -> None:
    """Print the times of right sheets and of wrong ones; the difference is what the diagnosis costs."""
    chosen = "whitetail-typical" if category == "all" else category
    path = folder / "sheets.csv"
    for kinds in SHARES:
        write_csv(path, mixed(kinds, chosen, number, seed), notation)
        command = [sys.executable, "-m", "tests.benchmarks.slip_speed", str(path)]
        told = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
        print(
            f"{number:,} sheets of {chosen}, {kinds:<18} audit {told['seconds']:6.2f} s"
            f"  ({number / told['seconds']:>9,.0f} sheets/s), of it diagnosis {told['diagnosis']:6.2f} s"
            f" of {told['suspect']:>7,} sheets; {told['explanations']:>9,} explanations; peak {told['MiB']:5.0f} MiB"
        )


def _in_child(path: Path) -> dict[str, float]:
    from loaders.check import Settings, check_files
    from tests.benchmarks.slip_marks import TODAY
    from warehouse.audit.codes import is_figure
    from warehouse.diagnosis.diagnose import diagnose

    start = time.perf_counter()
    (table,) = check_files([path], Settings(TODAY)).tables
    seconds = time.perf_counter() - start
    peak = _peak_mebibytes()
    figures = [code for code in table.findings["code"].unique() if is_figure(code)]
    suspect = table.findings.filter(table.findings["code"].is_in(figures))["id"].drop_nulls().unique().sort()
    start = time.perf_counter()
    for sheets in table.sheets:  # one category, so a place in the table is a place in the frame
        diagnose(sheets, suspect)
    return {
        "seconds": seconds,
        "diagnosis": time.perf_counter() - start,
        "suspect": len(suspect),
        "explanations": table.explanations.height,
        "MiB": peak,
    }


def _peak_mebibytes() -> float:
    """Of this program alone: `getrusage` would take over the peak of the process that started it (Linux, /proc)."""
    lines = Path("/proc/self/status").read_text(encoding="utf-8").splitlines()
    (peak,) = [line.split()[1] for line in lines if line.startswith("VmHWM:")]
    return int(peak) / 1024


if __name__ == "__main__":
    print(json.dumps(_in_child(Path(sys.argv[1]))))
