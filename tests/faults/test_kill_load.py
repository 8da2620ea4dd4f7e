"""A load that is killed: the book is as before or holds the whole load, and the load can be run again."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.faults.children import Nursery
from tests.faults.kill_steps import LOAD
from tests.faults.killed_loads import (
    ACKNOWLEDGED,
    BEFORE,
    SILENT,
    UNTOUCHED,
    WHOLE,
    Ground,
    kill_at_random,
    kill_at_step,
    median_time,
)  # fmt: skip

KILLS, SEEDS, TIMES = 25, (20251108, 20251109), 3
BEFORE_WRITING = ("book read", "files read", "audited", "matched")
LANES = 2


@pytest.fixture(scope="module")
def grounds(tmp_path_factory: pytest.TempPathFactory, children: Nursery) -> list[Ground]:
    """One for each lane: the loads of two lanes run at once, or this would take twice as long."""
    return [Ground(tmp_path_factory.mktemp(f"killed_{lane}"), children) for lane in range(LANES)]


def _steps_of_lane(ground: Ground, lane: int) -> dict[str, list[int]]:
    return {step: kill_at_step(ground, step, _times(step)) for step in list(LOAD)[lane::LANES]}


def _times(step: str) -> int:
    """How often a load is killed at the step: once is enough where the book has not been opened for writing yet."""
    return 1 if step in BEFORE_WRITING else TIMES


@pytest.fixture(scope="module")
def after_steps(grounds: list[Ground]) -> dict[str, list[int]]:
    """Step -> the rows of the book after each kill there."""
    with ThreadPoolExecutor(LANES) as pool:
        one, other = pool.map(_steps_of_lane, grounds, range(LANES))
    return one | other


def _random_of_lane(ground: Ground, seed: int) -> Counter[str]:
    return kill_at_random(ground, KILLS, seed, median_time(ground, "lane"))


def test_killed_at_random_moments(grounds: list[Ground]) -> None:
    with ThreadPoolExecutor(LANES) as pool:
        found: Counter[str] = sum(pool.map(_random_of_lane, grounds, SEEDS), Counter())
    assert found.total() == LANES * KILLS
    assert set(found) <= {UNTOUCHED, SILENT, ACKNOWLEDGED}
    assert found[UNTOUCHED] > KILLS // 2  # otherwise the kills came too late to say anything


@pytest.mark.parametrize("step", LOAD)
def test_killed_at_a_named_step(after_steps: dict[str, list[int]], step: str) -> None:
    assert after_steps[step] == [WHOLE if LOAD[step].is_in else BEFORE] * _times(step)
