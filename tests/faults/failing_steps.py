"""Lets the n-th write, rename or commit of our own code fail as it would on a full disk, n = 1, 2, ... until a run has none."""

import errno
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from itertools import count
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

import duckdb

from tests.dashboards.run_command import Ran

WRITING = ("COMMIT", "CHECKPOINT")
NO_ROOM = "No space left on device"


class Tried(NamedTuple):
    """One run on a book of its own: the step that failed ("" for none), how the command ended."""

    step: str
    ran: Ran
    book: Path


class _Counter:
    def __init__(self, nth: int) -> None:
        self._left, self.failed = nth, ""

    def step(self, name: str, failure: type[Exception] = OSError) -> None:
        """Count one step; raises where it is the one that fails."""
        self._left -= 1
        if self._left == 0:
            self.failed = name
            if failure is OSError:
                raise OSError(errno.ENOSPC, NO_ROOM)
            raise failure(f'IO Error: Could not write file "book": {NO_ROOM}')


class _File:
    """An open file whose first write is a step."""

    def __init__(self, file: Any, counter: _Counter, name: str) -> None:
        self._file, self._counter, self._name, self._fresh = file, counter, name, True

    def write(self, data: Any) -> Any:
        if self._fresh:
            self._fresh = False
            self._counter.step(f"write {self._name}")
        return self._file.write(data)

    def __enter__(self) -> "_File":
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


class _Connection:
    """A connection whose statements that write are steps."""

    def __init__(self, connection: duckdb.DuckDBPyConnection, counter: _Counter) -> None:
        self._connection, self._counter = connection, counter

    def execute(self, statement: str, *more: Any) -> Any:
        word = next(iter(statement.split()), "").upper()
        if word in WRITING:
            self._counter.step(word, duckdb.IOException)
        return self._connection.execute(statement, *more)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._connection, name)


def each_failure(fresh: Callable[[int], Path], run: Callable[[Path], Ran], most: int = 200) -> Iterator[Tried]:
    """`run` with the book that `fresh` makes, its first, second, ... step failing; the last time none does."""
    for nth in count(1):
        assert nth <= most
        book, counter = fresh(nth), _Counter(nth)
        with _patched(counter):
            ran = run(book)
        yield Tried(counter.failed, ran, book)
        if not counter.failed:
            return


def _patched(counter: _Counter) -> ExitStack:
    stack, open_file, connect = ExitStack(), Path.open, duckdb.connect

    def opening(self: Path, mode: str = "r", *more: Any, **named: Any) -> Any:
        if not set(mode) & set("wxa"):
            return open_file(self, mode, *more, **named)
        counter.step("open")
        return _File(open_file(self, mode, *more, **named), counter, self.suffix)

    def connecting(*arguments: Any, **named: Any) -> Any:
        return _Connection(connect(*arguments, **named), counter)

    stack.enter_context(patch.object(Path, "open", opening))
    stack.enter_context(patch.object(duckdb, "connect", connecting))
    for owner, name in ((os, "fsync"), (os, "mkdir"), (shutil, "copy2"), (Path, "replace"), (Path, "rename")):
        stack.enter_context(patch.object(owner, name, _counted(counter, name, getattr(owner, name))))
    return stack


def _counted(counter: _Counter, name: str, original: Callable[..., Any]) -> Callable[..., Any]:
    def counted(*arguments: Any, **named: Any) -> Any:
        counter.step(name)
        return original(*arguments, **named)

    return counted
