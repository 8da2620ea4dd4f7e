"""One SHA-256 that stands for everything a book holds: the same for the same rows, wherever and however they lie.

Each row is written as a JSON list of its cells' texts and hashed. The rows of a table are then added up: the first 128
bits of each SHA-256 are two 64-bit numbers, and each of the two is summed exactly over all rows. Sums do not ask in which
order the rows come, so nothing has to be sorted or kept in memory, and the file's layout and the number of threads do not
matter; nor can two equal rows cancel each other, as they would with XOR. This shows any change by accident, and by hand
unless somebody chooses many rows freely and works them out against the sums; against him stands the chained log.
"""

import hashlib

import duckdb

_PARTS = 2  # of 16 hexadecimal digits each
_NESTED = ("[", "STRUCT", "MAP", "UNION")


def book_hash(connection: duckdb.DuckDBPyConnection) -> str:
    """The SHA-256, in hexadecimal, over every table of the schema in the order of their names, with all their columns.

    A million entries, fourteen million measurements among them, take some ten seconds on two cores.
    """
    lines = [_table_line(connection, table, columns) for table, columns in sorted(_columns(connection).items())]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def table_counts(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Rows of every table of the schema, in the order of their names."""
    tables = sorted(_columns(connection))
    query = " UNION ALL ".join(f"SELECT {nth}, count(*) FROM {_quoted(table)}" for nth, table in enumerate(tables))
    counts = dict(connection.execute(query).fetchall()) if tables else {}
    return {table: int(counts[nth]) for nth, table in enumerate(tables)}


def _columns(connection: duckdb.DuckDBPyConnection) -> dict[str, list[tuple[str, str]]]:
    """Table -> its columns' names and types, by name: an upgraded book may have them in another order than a new one."""
    rows = connection.execute(
        "SELECT table_name, column_name, data_type FROM duckdb_columns() SEMI JOIN duckdb_tables() USING (table_oid) "
        "WHERE NOT internal AND database_name = current_database() AND schema_name = 'main' ORDER BY 1, 2"
    ).fetchall()
    tables: dict[str, list[tuple[str, str]]] = {}
    for table, column, kind in rows:
        tables.setdefault(table, []).append((column, kind))
    return tables


def _table_line(connection: duckdb.DuckDBPyConnection, table: str, columns: list[tuple[str, str]]) -> str:
    cells = ", ".join(_cell(column, kind) for column, kind in columns)
    sums = ", ".join(
        f"coalesce(sum(('0x' || substr(hashed, {1 + 16 * part}, 16))::UBIGINT), 0)" for part in range(_PARTS)
    )
    found = connection.execute(
        f"SELECT count(*), {sums} FROM (SELECT sha256(json_array({cells})) AS hashed FROM {_quoted(table)})"
    ).fetchall()[0]
    return repr((table, columns, [int(number) for number in found]))


def _cell(column: str, kind: str) -> str:
    """The SQL of a cell as text. A time with a zone is written as its moment, for its text is that of the session's zone."""
    if kind == "TIMESTAMP WITH TIME ZONE":
        return f"epoch_us({_quoted(column)})::VARCHAR"
    if any(mark in kind for mark in _NESTED):
        return f"to_json({_quoted(column)})::VARCHAR"
    return f"{_quoted(column)}::VARCHAR"


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'
