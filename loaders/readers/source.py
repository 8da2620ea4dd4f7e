"""A file's bytes, read once, with its hash worked out beside the reading."""

import hashlib
import os
import stat
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from loaders.readers import limits
from loaders.readers.refusal import refusal
from warehouse.errors import FileRefused


@dataclass(frozen=True)
class Source:
    """One file: `name` is the path as the user gave it, `data` all its bytes."""

    path: Path
    name: str
    data: bytes
    stamp: tuple[int, int]
    digest: "Future[str]"

    @property
    def sha256(self) -> str:
        """SHA-256 of the bytes in hexadecimal (waits for the thread that counts it)."""
        return self.digest.result()

    def refused(self, found: str, expected: str, next_step: str) -> FileRefused:
        """A refusal that names this file."""
        return refusal(self.name, found, expected, next_step)

    def check_unchanged(self) -> None:
        """Raise FileRefused when the file's size or time of change is another than when reading began."""
        try:
            now = _stamp(self.path.stat())
        except OSError:
            now = None
        if now != self.stamp:
            raise _changing(self.name)


def open_source(path: Path, name: str) -> Source:
    """Read all bytes of `path`. Raises FileRefused: missing, no plain file, empty, too large, or being
    written.
    """
    try:
        with open(path, "rb", opener=_without_waiting) as handle:
            before = os.fstat(handle.fileno())
            _check_kind_and_size(before, name)
            data = handle.read(before.st_size + 1)
            after = os.fstat(handle.fileno())
    except (OSError, ValueError) as fault:  # ValueError: a NUL in the name
        reason = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        raise refusal(
            name,
            f"the file cannot be opened ({reason})",
            "a file that this account may read",
            "Check the path and the permissions",
        ) from fault
    if _stamp(before) != _stamp(after) or len(data) != before.st_size:
        raise _changing(name)
    return Source(path, name, data, _stamp(before), _hash_in_thread(data))


def _without_waiting(path: str, flags: int) -> int:
    # A named pipe without a writer would block the open for ever.
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _check_kind_and_size(status: os.stat_result, name: str) -> None:
    if not stat.S_ISREG(status.st_mode):
        raise refusal(name, "this is not a plain file", "a file of score sheets", "Give the path of one file")
    if status.st_size == 0:
        raise refusal(
            name,
            "the file is empty (0 bytes)",
            "a heading row and score sheets",
            "Ask the sender for the file again",
        )
    if status.st_size > limits.MAX_FILE_BYTES:
        raise refusal(
            name,
            f"the file has {status.st_size:,} bytes",
            f"at most {limits.MAX_FILE_BYTES:,} (1 GiB)",
            "Split it into smaller files, each with the heading row",
        )


def _stamp(status: os.stat_result) -> tuple[int, int]:
    return status.st_size, status.st_mtime_ns


def _changing(name: str) -> FileRefused:
    return refusal(
        name,
        "the file changed while it was being read",
        "a file that nobody is writing",
        "Wait until it is complete, then load it again",
    )


def _hash_in_thread(data: bytes) -> "Future[str]":
    pool = ThreadPoolExecutor(max_workers=1)
    try:
        return pool.submit(lambda: hashlib.sha256(data).hexdigest())
    finally:
        pool.shutdown(wait=False)
