"""Loads killed at random moments: the book is as before or holds the whole load, and the load can be run again."""

from pathlib import Path

from tests.faults.children import Nursery
from tests.faults.killed_loads import ACKNOWLEDGED, SILENT, UNTOUCHED, Ground, kill_at_random, median_time

KILLS, SEED = 25, 20251108  # 300 by night: tests.faults.nightly_kills


def test_killed_at_random_moments(tmp_path: Path, children: Nursery) -> None:
    ground = Ground(tmp_path, children)
    found = kill_at_random(ground, KILLS, SEED, median_time(ground, "median"))
    assert found.total() == KILLS
    assert set(found) <= {UNTOUCHED, SILENT, ACKNOWLEDGED}
    assert found[UNTOUCHED] >= 5  # otherwise the kills came too late to say anything
