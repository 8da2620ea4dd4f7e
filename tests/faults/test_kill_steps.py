"""Loads killed at every named step: what the book then holds is known, and the load can be run again."""

import pytest

from tests.faults.children import Nursery
from tests.faults.kill_steps import LOAD
from tests.faults.killed_loads import BEFORE, WHOLE, Ground, kill_at_step

TIMES = 3
BEFORE_WRITING = ("book read", "files read", "audited", "matched")


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory, children: Nursery) -> Ground:
    return Ground(tmp_path_factory.mktemp("killed"), children)


@pytest.mark.parametrize("step", LOAD)
def test_killed_at_a_named_step(ground: Ground, step: str) -> None:
    times = 1 if step in BEFORE_WRITING else TIMES  # once is enough where the book was not open for writing yet
    assert kill_at_step(ground, step, times) == [WHOLE if LOAD[step].is_in else BEFORE] * times
