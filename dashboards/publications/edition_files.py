"""The files of an edition, each written whole: it stands there as it was before, or as it should be, never half."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from dashboards.publications import rankings_csv, rankings_html
from warehouse.book.editions import Edition
from warehouse.errors import EditionRefused
from warehouse.plain_text import shown

FORMATS: dict[str, Callable[[Edition], bytes]] = {
    "rankings.html": rankings_html.rankings,
    "rankings.csv": rankings_csv.rankings,
    "changes.csv": rankings_csv.changes,
    "errata.csv": rankings_csv.errata,
}
"""File name -> what makes it of an edition. The names are ours: no text of the book becomes part of a path."""


@dataclass(frozen=True)
class Written:
    """One file of an edition, and its length in bytes."""

    path: Path
    size: int


def write_edition(edition: Edition, folder: Path) -> list[Written]:
    """Write every format into `folder`, which is made where it is not there; other files in it stay as they are.

    All are made before the first is written. Raises EditionRefused where the folder cannot be written, or holds another
    edition.
    """
    made = {name: make(edition) for name, make in FORMATS.items()}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _check_edition(folder, edition, made["rankings.html"])
        for name, content in made.items():
            _write_whole(folder / name, content)
    except OSError as refusal:
        raise EditionRefused(
            f"{shown(str(folder))}: edition '{edition.name}' is kept in the book, but its files cannot be written there: "
            f"{refusal.strerror}; choose a folder that can be written, and publish '{edition.name}' again: "
            "it comes out the same"
        ) from refusal
    return [Written(folder / name, len(content)) for name, content in made.items()]


def _check_edition(folder: Path, edition: Edition, page: bytes) -> None:
    """Raise EditionRefused where the folder holds the page of another edition: it is not written over."""
    path, title = folder / "rankings.html", page[: page.index(b"</title>")]
    if path.is_file() and path.read_bytes()[: len(title)] != title:
        raise EditionRefused(
            f"{shown(str(path))}: is not a page of edition '{edition.name}'; it was not written over: name another folder, "
            f"or take it away. Edition '{edition.name}' is kept in the book"
        )


def _write_whole(path: Path, content: bytes) -> None:
    fresh = path.with_name(f".{path.name}.{os.getpid()}.part")
    fresh.unlink(missing_ok=True)  # of a process of this number that was killed
    try:
        with fresh.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)
