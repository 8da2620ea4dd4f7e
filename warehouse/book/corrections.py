"""What a correction needs of the book, and how one is written: a new revision of the same received row.

The row as received is never altered; `corrected_cell` says what a person put in place of which text.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import duckdb
import polars as pl

from warehouse.book import contents, events, ledger
from warehouse.book.cells_text import split_cells
from warehouse.eighths import text_of
from warehouse.errors import CorrectionRefused

# Found by looking at other rows, or at the file itself: the audit of one row by itself cannot find them again.
OF_MORE_THAN_CELLS = ("row-twice", "entry-twice", "head-twice", "number-reused", "extra-cells", "merged-filled")
_FINDING = "code, severity, cells, stated, expected, message"


@dataclass(frozen=True)
class RowOfEntry:
    """An entry's row as received, and what was corrected of it since (field -> text, '' for an emptied cell).

    `cells`, `fields` (None: no field of ours) and `headings` are those of the row's file; `measure_key` is that of the
    current revision; `newest_event` the newest event that bears on it: about this entry, or of a reference table.
    """

    entry_id: int
    revision_id: int
    revision_no: int
    row_id: int
    measure_key: int | None
    file_id: int
    file: str
    sheet: str | None
    sha256: str
    row: int
    fields: tuple[str | None, ...]
    headings: tuple[str, ...]
    cells: tuple[str | None, ...]
    corrected: dict[str, str]
    newest_event: int


def entries_numbered(connection: duckdb.DuckDBPyConnection, entry_no: str) -> list[tuple[int, str | None, str | None]]:
    """(entry_id, hunter, season) of every entry with this number."""
    rows = connection.execute(
        "SELECT entry_id, hunter, season FROM current_entry WHERE entry_no = ? ORDER BY entry_id", [entry_no]
    ).fetchall()
    return [(int(entry), hunter, season) for entry, hunter, season in rows]


def row_of_entry(connection: duckdb.DuckDBPyConnection, entry_id: int) -> RowOfEntry:
    """Raises CorrectionRefused for an entry that is not there."""
    rows = connection.execute(
        "SELECT c.revision_id, c.revision_no, c.row_id, c.measure_key, f.file_id, f.name, f.sheet, f.sha256, r.row, f.fields, f.headings, r.cells "
        "FROM current_entry c JOIN received_row r USING (row_id) JOIN received_file f USING (file_id) WHERE c.entry_id = ?",
        [entry_id],
    ).fetchall()
    if not rows:
        raise CorrectionRefused(f"entry {entry_id}: the book has no such entry; nothing was changed")
    revision_id, revision_no, row_id, measure_key, file_id, file, sheet, sha256, row, fields, headings, cells = rows[0]
    corrected = connection.execute(
        "SELECT k.field, k.corrected_text FROM corrected_cell k JOIN entry_revision r USING (revision_id) "
        "WHERE r.entry_id = ? AND r.row_id = ? ORDER BY r.revision_no",
        [entry_id, row_id],
    ).fetchall()
    return RowOfEntry(
        entry_id, revision_id, revision_no, row_id, measure_key, file_id, file, sheet, sha256, row,
        fields=tuple(field or None for field in fields),
        headings=tuple(headings),
        cells=split_cells(pl.Series([cells]), len(headings)).row(0),
        corrected=dict(corrected),
        newest_event=_newest_event(connection, entry_id),
    )  # fmt: skip


def _newest_event(connection: duckdb.DuckDBPyConnection, entry_id: int) -> int:
    query = "SELECT coalesce(max(event_no), 0) FROM event WHERE entry_id = ? OR kind = 'reference'"
    return int(connection.execute(query, [entry_id]).fetchall()[0][0])


def findings_to_keep(connection: duckdb.DuckDBPyConnection, revision_id: int) -> pl.DataFrame:
    """The findings of a revision that rest on more than its cells (see `OF_MORE_THAN_CELLS`)."""
    found: pl.DataFrame = connection.sql(
        f"SELECT {_FINDING} FROM finding "
        "WHERE revision_id = $revision AND list_contains($codes, code) ORDER BY code, message",
        params={"revision": revision_id, "codes": list(OF_MORE_THAN_CELLS)},
    ).pl()
    return found


def errors_of_file(connection: duckdb.DuckDBPyConnection, file_id: int) -> pl.DataFrame:
    """The errors of the file as a whole, which hold its rows; a column that it lacks is found again with each row."""
    found: pl.DataFrame = connection.sql(
        f"SELECT {_FINDING} FROM finding WHERE file_id = $file AND row_id IS NULL AND severity = 'error' "
        "AND code <> 'column-needed' ORDER BY code, message",
        params={"file": file_id},
    ).pl()
    return found


def rows_of_file(connection: duckdb.DuckDBPyConnection, file_id: int) -> pl.DataFrame:
    """`row_id`, `row` and `cells` of every row of a file, in its order."""
    rows: pl.DataFrame = connection.sql(
        "SELECT row_id, row, cells FROM received_row WHERE file_id = $file ORDER BY row_id", params={"file": file_id}
    ).pl()
    return rows


def heads_with(connection: duckdb.DuckDBPyConnection, measure_key: int | None) -> pl.DataFrame:
    """`entry_id`, `entry_no` and `measure_key` of every entry whose measures have this key; none for None."""
    heads: pl.DataFrame = connection.sql(
        "SELECT entry_id, entry_no, measure_key FROM current_entry WHERE measure_key = $key::UBIGINT ORDER BY entry_id",
        params={"key": measure_key},
    ).pl()
    return heads


def explanation(connection: duckdb.DuckDBPyConnection, revision_id: int, place: int) -> dict[str, Any]:
    """The explanation at this place of a revision, with the `unit` of its lengths. Raises CorrectionRefused."""
    found: pl.DataFrame = connection.sql(
        "SELECT x.*, r.unit FROM explanation x JOIN entry_revision r USING (revision_id) "
        "WHERE x.revision_id = $revision AND x.place = $place",
        params={"revision": revision_id, "place": place},
    ).pl()
    if not found.height:
        raise CorrectionRefused(f"the sheet has no explanation {place + 1}; nothing was changed")
    return found.to_dicts()[0]


def explanations_in_short(connection: duckdb.DuckDBPyConnection, revision_id: int) -> list[str]:
    """Each explanation of a revision as "1: beam_r 22 5/8, net 140 6/8", likeliest first."""
    rows = connection.execute(
        "SELECT x.place, x.cells, x.proposed, x.net, r.unit FROM explanation x JOIN entry_revision r USING (revision_id) "
        "WHERE x.revision_id = ? ORDER BY x.place",
        [revision_id],
    ).fetchall()
    return [
        f"{place + 1}: {', '.join(f'{cell} {text_of(units, unit)}' for cell, units in zip(cells, proposed, strict=True))}"
        + ("" if net is None else f", net {text_of(net, unit)}")
        for place, cells, proposed, net, unit in rows
    ]


def cells_before(connection: duckdb.DuckDBPyConnection, revision_id: int) -> dict[str, str]:
    """Field -> text of what the correction that made this revision put other texts in place of ('' for empty)."""
    query = "SELECT field, coalesce(stated_text, '') FROM corrected_cell WHERE revision_id = ? ORDER BY field"
    return dict(connection.execute(query, [revision_id]).fetchall())


@dataclass(frozen=True)
class Told:
    """Who corrects, when and why; `undoes`: the event of the correction that is taken back by this one."""

    by: str
    why: str
    now: datetime
    undoes: int | None = None


def write(
    connection: duckdb.DuckDBPyConnection, of: RowOfEntry, batch: ledger.Batch,
    cells: Mapping[str, tuple[str | None, str]], told: Told,
) -> tuple[int, str]:  # fmt: skip
    """Write the revision that `batch` holds, of the row that `of` was read from, and its event.

    Returns the revision's number, and the entry's status since.

    `cells`: field -> (text before, corrected text). Raises CorrectionRefused where somebody else revised the entry.
    """
    newest = row_of_entry(connection, of.entry_id)
    if newest.revision_id != of.revision_id:
        raise CorrectionRefused(
            f"entry {of.entry_id}: revision {newest.revision_no} was made meanwhile; nothing was changed, look at it again"
        )
    if newest.newest_event != of.newest_event:
        raise CorrectionRefused(
            f"entry {of.entry_id}: something was decided about it, or a reference table was changed, meanwhile; nothing was "
            "changed, look at it again"
        )
    revision = ledger.write_revision(connection, batch, of.file_id, of.row_id, told.by, told.now)
    frame = pl.DataFrame(
        [(revision, field, before, after) for field, (before, after) in cells.items()],
        schema={"revision_id": pl.Int64, "field": pl.String, "stated_text": pl.String, "corrected_text": pl.String},
        orient="row",
    )
    ledger.insert(connection, "corrected_cell", frame)
    content = contents.of_correction(connection, revision)
    event = events.Event(
        "correct" if told.undoes is None else "undo", told.by, told.why,
        entry_id=of.entry_id, revision_id=revision, undoes=told.undoes, content=content,
    )  # fmt: skip
    events.append(connection, event, told.now)
    query = "SELECT revision_no, status FROM current_entry WHERE entry_id = ?"
    number, status = connection.execute(query, [of.entry_id]).fetchall()[0]
    return int(number), str(status)
