"""Named queries for the command: the worst findings, sheets with findings, entries."""

import duckdb
import polars as pl


def worst_findings(connection: duckdb.DuckDBPyConnection, most: int) -> list[tuple[str, int, str, str, str]]:
    """(file, row, entry number, severity, sentence) of the worst findings, at most one an entry.

    Worst first: errors before questions; among errors those whose stated net is furthest from the recomputed one,
    then by entry, so that the list is the same each time.
    """
    rows = connection.execute(
        """
        WITH ranked AS (
            SELECT f.file, f.row, coalesce(f.entry_no, '(no number)') AS entry_no, f.severity, f.message, f.entry_id,
                   CASE f.severity WHEN 'error' THEN 0 ELSE 1 END AS grave,
                   coalesce(abs(c.stated_net - c.net), 0) AS off,
                   row_number() OVER (PARTITION BY f.entry_id ORDER BY CASE f.severity WHEN 'error' THEN 0 ELSE 1 END,
                                      f.code = 'net' DESC, f.code) AS nth
            FROM open_finding f JOIN current_entry c USING (entry_id)
            WHERE f.severity IN ('error', 'question'))
        SELECT file, row, entry_no, severity, message FROM ranked
        WHERE nth = 1 ORDER BY grave, off DESC, entry_id LIMIT ?
        """,
        [most],
    ).fetchall()
    return [(file, int(row), number, severity, message) for file, row, number, severity, message in rows]


def finding_counts(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Open findings by severity."""
    rows = connection.execute("SELECT severity, count(*) FROM open_finding GROUP BY severity").fetchall()
    return {"error": 0, "question": 0, "note": 0} | {severity: int(count) for severity, count in rows}


def open_findings(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """Every open finding with its place: file, sheet, row, entry_no, code, severity, cells, stated, expected, message, entry_id."""
    found: pl.DataFrame = connection.sql(
        "SELECT file, sheet, row, row_id, entry_id, entry_no, code, severity, cells, stated, expected, message "
        "FROM open_finding ORDER BY file_id, row NULLS FIRST, row_id, CASE severity WHEN 'error' THEN 0 WHEN 'question' THEN 1 ELSE 2 END"
    ).pl()
    return found


def explanations(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """Every explanation of an entry's current state: entry_id beside the columns of the table."""
    found: pl.DataFrame = connection.sql(
        "SELECT c.entry_id, x.* EXCLUDE (revision_id) FROM explanation x JOIN current_entry c USING (revision_id) "
        "ORDER BY c.entry_id, x.place"
    ).pl()
    return found


def entries(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """Every entry in its current state, with its place and the row it came from."""
    found: pl.DataFrame = connection.sql(
        "SELECT c.*, rf.name AS file, rf.sheet, rr.row FROM current_entry c "
        "JOIN received_row rr USING (row_id) JOIN received_file rf USING (file_id) ORDER BY c.entry_id"
    ).pl()
    return found


def authors(connection: duckdb.DuckDBPyConnection) -> list[str]:
    """Everyone who has loaded into the book."""
    return [author for (author,) in connection.execute("SELECT DISTINCT loaded_by FROM load ORDER BY 1").fetchall()]
