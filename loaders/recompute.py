"""Recompute every score of a book from the rows as received, and hold it against what the ledger says.

What is compared, and what is not: `loaders.score_differences.FIELDS`, `loaders.rescored`.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from loaders.check import silent
from loaders.corrected_rows import CorrectedRows, among_its_file, as_corrected
from loaders.rescored import expected, rescore
from loaders.score_differences import Difference, first_difference
from loaders.tables import Table
from warehouse.book import database
from warehouse.book.cells_text import split_cells
from warehouse.book.verify import Check
from warehouse.book.verify.check import judged, many
from warehouse.book.verify.stored import Stored, StoredFile, read_stored, stored_files
from warehouse.plain_text import shown

MOST_ROWS = 50_000  # of small files are read at one opening of the book, for an opening costs as much as some of them
# what Polars and this program raise for cells that no load has written
UNREADABLE = (ValueError, KeyError, IndexError, TypeError, pl.exceptions.PolarsError)


@dataclass(frozen=True)
class Fault:
    """What is wrong with the first row that differs, in a sentence; `corrected`: whether with a correction of it."""

    words: str
    corrected: bool


def recompute(
    book: Path, wait: float = database.WAIT_SECONDS, tell: Callable[[str, int, int], None] = silent
) -> list[Check]:
    """The checks "scores" (the rows as received) and "corrections" (the rows as corrected since).

    The book is closed while rows are scored, so that others may write: rows are only ever added. Raises as
    `database.reading` does.
    """
    with database.reading(book, wait) as connection:
        files = stored_files(connection)
    faults: dict[bool, str] = {}
    for done, (file, stored) in enumerate(_stored(book, wait, files)):
        tell(f"recomputing {shown(file.name, 40)}", done, len(files))
        for fault in _faults(file, stored):
            faults.setdefault(fault.corrected, fault.words)
    rows, corrected = sum(file.as_received for file in files), sum(file.corrected for file in files)
    return [
        judged("scores", rows, f"{many(rows, 'row')} as received, recomputed and the same", faults.get(False)),
        judged("corrections", corrected, f"{many(corrected, 'corrected row')}, recomputed and the same", faults.get(True)),
    ]  # fmt: skip


def _stored(book: Path, wait: float, files: Sequence[StoredFile]) -> Iterator[tuple[StoredFile, Stored]]:
    """Each file with what is stored of it, read in portions."""
    for portion in _portions(files):
        with database.reading(book, wait) as connection:
            read = [read_stored(connection, file.file_id) for file in portion]
        yield from zip(portion, read, strict=True)


def _portions(files: Sequence[StoredFile]) -> Iterator[list[StoredFile]]:
    portion: list[StoredFile] = []
    rows = 0
    for file in files:
        if portion and rows + file.row_count > MOST_ROWS:
            yield portion
            portion, rows = [], 0
        portion.append(file)
        rows += file.row_count
    if portion:
        yield portion


def _faults(file: StoredFile, stored: Stored) -> Iterator[Fault]:
    """The first fault of the rows as received, and the first of their corrections."""
    is_corrected = False
    try:
        table = _table(file, stored.rows)
        received = stored.revisions.filter(pl.col("corrections") == 0)
        if fault := _as_received(table, stored, received):
            yield Fault(fault, corrected=False)
        is_corrected = True
        for rows in as_corrected(table, stored):
            if fault := _corrected(table, rows, stored):
                yield Fault(fault, corrected=True)
                return
    except UNREADABLE as odd:
        yield Fault(f"{_name(file)}: its rows cannot be read any more: {odd}", is_corrected)


def _table(file: StoredFile, rows: pl.DataFrame) -> Table:
    """The table as it was received; what its reader had to tell is not kept, and says nothing about a score."""
    fields = tuple(field or None for field in file.fields)
    cells = split_cells(rows["cells"], len(file.headings))
    return Table(file.name, file.sha256, file.sheet, rows["row"].cast(pl.Int32), cells, file.headings, fields, ())


def _as_received(table: Table, stored: Stored, revisions: pl.DataFrame) -> str | None:
    if not revisions.height:
        return None
    wanted = stored.rows["row_id"].is_in(revisions["row_id"].implode())
    difference = first_difference(revisions, stored.lines, expected(rescore(table), wanted))
    return _words(table, stored, revisions, difference, "the row as received")


def _corrected(table: Table, rows: CorrectedRows, stored: Stored) -> str | None:
    """The first fault of some corrected rows; those with cells that may be two lengths are read among their file's."""
    scored = rescore(rows.table)
    closed = ~scored.is_open
    if closed.any():
        revisions = rows.revisions.filter(closed)
        difference = first_difference(revisions, stored.lines, expected(scored, closed))
        if fault := _words(table, stored, revisions, difference, "the row as corrected"):
            return fault
    for place in scored.is_open.arg_true():
        whole, wanted = among_its_file(table, stored.rows["row_id"], rows, place)
        revisions = rows.revisions.slice(place, 1)
        difference = first_difference(revisions, stored.lines, expected(rescore(whole), wanted))
        if fault := _words(table, stored, revisions, difference, "the row as corrected"):
            return fault
    return None


def _words(
    table: Table, stored: Stored, revisions: pl.DataFrame, difference: Difference | None, source: str
) -> str | None:
    if difference is None:
        return None
    row_id, revision = revisions.select("row_id", "revision_no").row(difference.place)
    row = stored.rows.filter(pl.col("row_id") == row_id)["row"][0]
    sheet = f", sheet {table.sheet}" if table.sheet else ""
    return (
        f"{table.file}{sheet}, row {row}, {difference.field}: revision {revision} holds {difference.stored}, "
        f"{source} gives {difference.found}"
    )


def _name(file: StoredFile) -> str:
    return file.name + (f", sheet {file.sheet}" if file.sheet else "")
