"""Many kills of a load, with figures: `python -m tests.faults.nightly_kills 300` (random moments; 20 at each named step)."""

import sys
import tempfile
import time
from pathlib import Path

from tests.faults.children import nursery
from tests.faults.kill_steps import LOAD
from tests.faults.killed_loads import BEFORE, WHOLE, Ground, kill_at_random, kill_at_step, median_time

SEED, TIMES = 20251125, 20


def main(kills: int) -> None:
    """Print how the loads came out; an AssertionError names what did not hold."""
    began = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="kills-") as folder, nursery(Path(folder)) as children:
        ground = Ground(Path(folder), children)
        longest = median_time(ground, "nightly", runs=9)
        print(f"a load of 40 sheets into a book of 20: median {longest:.2f} s")
        found = kill_at_random(ground, kills, SEED, longest)
        print(f"{kills} kills at random moments (seed {SEED}), uniform over 0 to {1.2 * longest:.2f} s:")
        for outcome, count in found.most_common():
            print(f"    {count:4} {outcome}")
        for step in LOAD:
            rows = kill_at_step(ground, step, TIMES)
            assert rows == [WHOLE if LOAD[step].is_in else BEFORE] * TIMES
            print(f"    {TIMES:4} killed at: {step}; the load was {'in' if LOAD[step].is_in else 'not in'} each time")
    print(
        "0 half loads, 0 reported loads lost, 0 books that did not open, 0 files left over, every last load run to its end"
    )
    print(f"{time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
