"""Many kills of a load, with figures: `python -m tests.faults.nightly_kills 300 20` (random moments; at each named step)."""

import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from tests.faults.children import nursery
from tests.faults.kill_steps import LOAD
from tests.faults.killed_loads import BEFORE, WHOLE, Ground, kill_at_random, kill_at_step, median_time

SEED, PART = 20251125, 50


def main(kills: int, times: int) -> None:
    """Print how the loads came out; an AssertionError names what did not hold."""
    began, found = time.monotonic(), Counter[str]()
    with tempfile.TemporaryDirectory(prefix="kills-") as folder, nursery(Path(folder)) as children:
        ground = Ground(Path(folder), children)
        longest = median_time(ground, "nightly", runs=9)
        print(f"a load of 40 sheets into a book of 20: median {longest:.2f} s", flush=True)
        for first in range(0, kills, PART):
            found += kill_at_random(ground, min(PART, kills - first), SEED + first, longest)
            told = ", ".join(f"{count} {outcome}" for outcome, count in found.most_common())
            print(f"{found.total()} kills at random moments of 0 to {1.2 * longest:.2f} s: {told}", flush=True)
        for step in LOAD:
            rows = kill_at_step(ground, step, times)
            assert rows == [WHOLE if LOAD[step].is_in else BEFORE] * times
            print(f"{times} kills {step}: the load was {'in' if LOAD[step].is_in else 'not in'} each time", flush=True)
    print(
        "no half load, no reported load lost, no book that did not open, no file left over, every last load run to its end"
    )
    print(f"{time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    asked = [int(argument) for argument in sys.argv[1:]]
    main(*[*asked, *(300, 20)[len(asked) :]])
