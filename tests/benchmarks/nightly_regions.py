"""Truth in a box, at length: 200 simulated regions through the loader, and how often the intervals hold the truth.

    python -m tests.benchmarks.nightly_regions            200 regions of five districts (some ten minutes)
    python -m tests.benchmarks.nightly_regions 40

The mark: 92 to 98 in 100 of the 95 per cent intervals hold the true trend. Exit code 1 where they do not.
"""

import sys
import tempfile
from pathlib import Path

import numpy as np
import polars as pl

from tests.region_trends import recover
from tests.simulated_region import Region

MARK = (0.92, 0.98)
FIRST_SEED = 1_000  # other regions than those of the tests


def main(regions: int) -> int:
    """Print the coverage of each district and of all; 0 where it is within the mark."""
    found = []
    for seed in range(FIRST_SEED, FIRST_SEED + regions):
        with tempfile.TemporaryDirectory() as folder:
            found.append(recover(Region(seed), Path(folder)).found)
    told = pl.concat(found).with_columns(inside=pl.col("truth").is_between(pl.col("lower"), pl.col("upper")))
    off = pl.col("slope") - pl.col("truth")
    per_cent = (100 * pl.col("truth")).mean().alias("truth, log % a year")
    by_district = told.group_by("district", maintain_order=True).agg(
        per_cent, (100 * off).mean().alias("off on the whole"), (100 * off).std().alias("scatter"), (100 * pl.col("se")).mean().alias("se told"),
        (100 * pl.col("inside")).mean().alias("% inside"), (pl.col("p") < 0.05).mean().alias("p < 0.05"),
    )  # fmt: skip
    with pl.Config(
        tbl_hide_dataframe_shape=True,
        tbl_hide_column_data_types=True,
        float_precision=2,
        tbl_formatting="ASCII_BORDERS_ONLY_CONDENSED",
    ):
        print(by_district)
    coverage = float(np.mean(told["inside"].to_numpy()))
    print(
        f"{regions} regions, {told.height} intervals: {100 * coverage:.1f} % hold the truth (mark {MARK[0]:.0%} to {MARK[1]:.0%})"
    )
    return 0 if MARK[0] <= coverage <= MARK[1] else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
