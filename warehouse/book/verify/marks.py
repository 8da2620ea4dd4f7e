"""The marks: is each received row and each revision of an entry as it was written?"""

import duckdb

from warehouse.book.marks import MARKS
from warehouse.book.verify.check import Check, judged, many
from warehouse.book.verify.queries import first, number

# grain: one received row whose mark is missing, or is of another row
_ROWS = f"""
SELECT coalesce(f.name, format('file {{}}', r.file_id)), f.sheet, r.row, r.mark IS NULL
FROM (SELECT row_id, file_id, row, mark FROM received_row
      WHERE mark IS DISTINCT FROM {MARKS["received_row"]} ORDER BY row_id LIMIT 1) r
LEFT JOIN received_file f USING (file_id)
"""
# grain: one revision whose mark is missing, or is of another revision
_REVISIONS = f"""
SELECT coalesce(v.entry_no, e.entry_no, '=' || v.entry_id), v.revision_no, v.mark IS NULL
FROM (SELECT revision_id, entry_id, revision_no, entry_no, mark FROM entry_revision
      WHERE mark IS DISTINCT FROM {MARKS["entry_revision"]} ORDER BY revision_id LIMIT 1) v
LEFT JOIN entry e ON e.entry_id = v.entry_id
"""


def check_marks(connection: duckdb.DuckDBPyConnection) -> Check:
    """Recompute the mark of every received row and revision; a missing one is a fault."""
    rows = number(connection, "SELECT count(*) FROM received_row")
    revisions = number(connection, "SELECT count(*) FROM entry_revision")
    sound = f"{many(rows, 'received row')} and {many(revisions, 'revision')}, each as it was written"
    return judged("marks", rows + revisions, sound, _altered_row(connection) or _altered_revision(connection))


def _altered_row(connection: duckdb.DuckDBPyConnection) -> str | None:
    altered = first(connection, _ROWS)
    if altered is None:
        return None
    name, sheet, row, unmarked = altered
    return f"{place(name, sheet, row)}: {_altered('the row as received', unmarked)}"


def _altered_revision(connection: duckdb.DuckDBPyConnection) -> str | None:
    altered = first(connection, _REVISIONS)
    if altered is None:
        return None
    entry, revision, unmarked = altered
    return f"entry {entry}, revision {revision}: {_altered('it', unmarked)}"


def _altered(what: str, unmarked: bool) -> str:
    return f"{what} has no mark" if unmarked else f"{what} is not as it was written: its mark is not that of its fields"


def place(file: str, sheet: str | None, row: int) -> str:
    """Where a received row stands, in words."""
    return f"{file}{f', sheet {sheet}' if sheet else ''}, row {row}"
