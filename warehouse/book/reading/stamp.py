"""A cheap mark of the book's present state, so that a face can keep answers until the book changes."""

from pathlib import Path

from warehouse.book.anchor import anchor_path

Stamp = tuple[tuple[int, int], ...]


def book_stamp(path: Path) -> Stamp:
    """(modified [ns], size [bytes]) of the book, its write-ahead log and its anchor; (0, 0) for what is not there.

    Opens nothing and raises nothing: a book that cannot be read is refused by the reading that follows.
    """
    return tuple(_mark(file) for file in (path, path.with_name(path.name + ".wal"), anchor_path(path)))


def _mark(file: Path) -> tuple[int, int]:
    try:
        state = file.stat()
    except OSError:
        return (0, 0)
    return (state.st_mtime_ns, state.st_size)
