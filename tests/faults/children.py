"""Commands in processes of their own that can be killed, starved of disk, or run many at once."""

import json
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from subprocess import PIPE, Popen
from threading import Lock
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
KILLED = -9
LOOK_EVERY_SECONDS = 0.004


class Child(NamedTuple):
    """A command that was begun: its process's number, and the file of what it prints on stdout and stderr."""

    number: int
    said: Path


class Ended(NamedTuple):
    """The exit code of a command, negative for the signal that killed it, and what it printed."""

    code: int
    printed: str


class Nursery:
    """Speaks with a process of `tests.faults.nursery`; several threads may."""

    def __init__(self, process: Popen[str], folder: Path) -> None:
        self._process, self._folder, self._turn, self._numbers = process, folder, Lock(), count()

    def begin(self, *arguments: str | Path, room: int | None = None, step: str | None = None) -> Child:
        """Begin a command in a child that may write files of `room` bytes and kills itself at `step`."""
        said = self._folder / f"said_{next(self._numbers)}"
        answer = self._ask(arguments=[str(one) for one in arguments], said=str(said), room=room, step=step)
        return Child(int(answer), said)

    def ended(self, child: Child) -> Ended:
        """Wait for a child's end."""
        while (answer := self._ask(end=child.number)) == "running":
            time.sleep(LOOK_EVERY_SECONDS)
        return Ended(int(answer), child.said.read_text(encoding="utf-8") if child.said.exists() else "")

    def run(self, *arguments: str | Path, room: int | None = None, step: str | None = None) -> Ended:
        """Begin a command and wait for its end."""
        return self.ended(self.begin(*arguments, room=room, step=step))

    def _ask(self, **what: object) -> str:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        with self._turn:
            self._process.stdin.write(json.dumps(what) + "\n")
            self._process.stdin.flush()
            return self._process.stdout.readline().strip()


@contextmanager
def nursery(folder: Path) -> Iterator[Nursery]:
    """A nursery, closed on leaving; what its children print is kept in `folder`.

    Polars gets one thread: on tables of 40 rows more of them only take time from one another.
    """
    command, settings = [sys.executable, "-m", "tests.faults.nursery"], os.environ | {"POLARS_MAX_THREADS": "1"}
    with Popen(command, stdin=PIPE, stdout=PIPE, text=True, cwd=ROOT, env=settings) as process:
        yield Nursery(process, folder)
