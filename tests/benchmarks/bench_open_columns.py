"""How many cells with two readings are read right, and how many wrong, in files of one habit or of several.

    python -m tests.benchmarks.bench_open_columns                       files of 20, 200 and 5,000 sheets
    python -m tests.benchmarks.bench_open_columns --sheets 200 --files 50

Each line is the sum over some seeded files; 3 in 100 sheets carry one slip. A cell is wrong if it was given a value
that is not the one written, without a question; a cell that is asked about is neither right nor wrong.
"""

import argparse
import tempfile
import time
from pathlib import Path

from tests.open_columns import CASES, Score, Writer, score, written

SLIPS = 0.03
SIZES = (20, 200, 5_000)
SHEETS_A_CASE = 5_000


def _sum(scores: list[Score]) -> Score:
    return Score(*(sum(getattr(one, name) for one in scores) for name in ("cells", "right", "wrong", "asked")))


def _line(name: str, writers: tuple[Writer, ...], sheets: int, halves: bool, files: int) -> str:
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        scores = [score(written(writers, sheets, halves, SLIPS, seed), Path(folder)) for seed in range(files)]
    total, seconds = _sum(scores), time.perf_counter() - start
    lengths = "halves" if halves else "any eighth"
    return (
        f"{sheets:>6,} sheets x {files:>3}  {name:<26} {lengths:<10} {total.cells:>9,} open cells  "
        f"right {total.right / total.cells:8.3%}  wrong {total.wrong:>4}  asked {total.asked:>6,}  {seconds:6.1f} s"
    )


def main() -> None:
    """Print both figures for every habit, kind of lengths and size of file."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sheets", type=int, nargs="*", default=SIZES, help="sheets in a file")
    parser.add_argument("--files", type=int, default=0, help="files of each kind (0: about 5,000 sheets in all)")
    chosen = parser.parse_args()
    for sheets in chosen.sheets:
        for name, writers in CASES.items():
            for halves in (True, False):
                files = chosen.files or max(1, min(50, SHEETS_A_CASE // sheets))
                print(_line(name, writers, sheets, halves, files), flush=True)


if __name__ == "__main__":
    main()
