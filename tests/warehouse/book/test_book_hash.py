import hashlib
import json
import random
from collections.abc import Iterator
from pathlib import Path

import duckdb
import pytest

from tests.book_builder import copy_of, file_of, heads, load, new_book
from warehouse.book import database
from warehouse.book.book_hash import book_hash, table_counts

Row = tuple[str | None, ...]


def by_hand(tables: dict[str, tuple[list[tuple[str, str]], list[Row]]]) -> str:
    """The book hash worked out by plain Python, of tables whose cells are given as text."""
    lines = []
    for table, (columns, rows) in sorted(tables.items()):
        hashes = [
            hashlib.sha256(json.dumps(row, separators=(",", ":"), ensure_ascii=False).encode()).hexdigest()
            for row in rows
        ]
        sums = [sum(int(one[at : at + 16], 16) for one in hashes) for at in (0, 16)]
        lines.append(repr((table, columns, [len(rows), *sums])))
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


@pytest.fixture
def memory() -> Iterator[duckdb.DuckDBPyConnection]:
    with duckdb.connect(":memory:") as connection:
        yield connection


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of 20 heads."""
    folder = tmp_path_factory.mktemp("hashed")
    book = new_book(folder)
    load(book, file_of(folder / "a.csv", heads(0, 19)))
    return book


def hash_of(book: Path) -> str:
    with database.reading(book) as connection:
        return book_hash(connection)


def test_it_is_what_plain_python_makes_of_the_rows(memory: duckdb.DuckDBPyConnection) -> None:
    memory.execute(
        """
        CREATE TABLE head (net INTEGER, hunter VARCHAR, taken DATE, cells VARCHAR[], added TIMESTAMP, miles DECIMAL(12, 2), ok BOOLEAN);
        INSERT INTO head VALUES
            (1101, 'Ó "Fell", \\ ½', DATE '2024-11-05', ['g2_r', 'a, b', NULL], TIMESTAMP '2026-03-01 18:30:00.25', 12.50, true),
            (NULL, '', NULL, [], NULL, NULL, NULL),
            (NULL, '', NULL, [], NULL, NULL, NULL);
        CREATE TABLE "odd ""one"" out" (a VARCHAR);
        """
    )
    columns = [
        ("added", "TIMESTAMP"), ("cells", "VARCHAR[]"), ("hunter", "VARCHAR"), ("miles", "DECIMAL(12,2)"),
        ("net", "INTEGER"), ("ok", "BOOLEAN"), ("taken", "DATE"),
    ]  # fmt: skip
    empty: Row = (None, "[]", "", None, None, None, None)
    first: Row = (
        "2026-03-01 18:30:00.25", '["g2_r","a, b",null]', 'Ó "Fell", \\ ½', "12.50", "1101", "true", "2024-11-05",
    )  # fmt: skip
    expected = by_hand({"head": (columns, [first, empty, empty]), 'odd "one" out': ([("a", "VARCHAR")], [])})
    assert book_hash(memory) == expected
    assert table_counts(memory) == {"head": 3, 'odd "one" out': 0}


def test_the_order_of_rows_threads_and_the_layout_of_the_file_do_not_matter(loaded: Path, tmp_path: Path) -> None:
    whole, copy = hash_of(loaded), tmp_path / "laid_out_anew.duckdb"
    with duckdb.connect(str(copy)) as connection:
        connection.execute(f"ATTACH '{loaded}' AS old (READ_ONLY)")
        connection.execute("COPY FROM DATABASE old TO laid_out_anew; DETACH old")
        connection.execute("CREATE TABLE shuffled AS SELECT * FROM measurement ORDER BY hash(revision_id, line)")
        connection.execute(
            "DELETE FROM measurement; INSERT INTO measurement SELECT * FROM shuffled; DROP TABLE shuffled"
        )
        for threads in (1, 4):
            connection.execute(f"SET threads = {threads}")
            assert book_hash(connection) == whole
    assert copy.read_bytes() != loaded.read_bytes()


def test_the_time_zone_of_the_session_does_not_matter(memory: duckdb.DuckDBPyConnection) -> None:
    memory.execute(
        "CREATE TABLE stamp AS SELECT to_timestamp(1700000000) AS with_zone, TIMESTAMP '2026-03-01 18:30:00' AS utc"
    )
    seen = set()
    for zone in ("UTC", "Pacific/Kiritimati", "America/Chicago"):
        memory.execute(f"SET TimeZone = '{zone}'")
        seen.add(book_hash(memory))
    columns = [("utc", "TIMESTAMP"), ("with_zone", "TIMESTAMP WITH TIME ZONE")]
    assert seen == {by_hand({"stamp": (columns, [("2026-03-01 18:30:00", "1700000000000000")])})}


def test_every_column_of_every_table_counts(loaded: Path, memory: duckdb.DuckDBPyConnection) -> None:
    with database.reading(loaded) as connection:
        rows = connection.execute(
            "SELECT table_name, list((column_name, data_type) ORDER BY column_index) FROM duckdb_columns() "
            "SEMI JOIN duckdb_tables() USING (table_oid) WHERE schema_name = 'main' AND NOT internal GROUP BY 1"
        ).fetchall()
    seen, columns_met = set(), 0
    for table, columns in rows:
        memory.execute(f"CREATE TABLE {table} ({', '.join(f'{name} {kind}' for name, kind in columns)})")
        memory.execute(f"INSERT INTO {table} ({columns[0][0]}) VALUES (NULL)")
        seen.add(book_hash(memory))
        for name, kind in columns:
            value = {"DATE": "DATE '2026-01-01'", "TIMESTAMP": "TIMESTAMP '2026-01-01'"}.get(kind, "1")
            memory.execute(f"UPDATE {table} SET {name} = {f'[{value}]' if kind.endswith('[]') else value}")
            seen.add(book_hash(memory))
            columns_met += 1
        memory.execute(f"DROP TABLE {table}")
    assert len(rows) == len(table_counts_of(loaded))
    assert columns_met > 150
    assert len(seen) == len(rows) + columns_met


def table_counts_of(book: Path) -> dict[str, int]:
    with database.reading(book) as connection:
        return table_counts(connection)


def test_a_new_table_is_not_forgotten(loaded: Path, tmp_path: Path) -> None:
    copy = copy_of(loaded, tmp_path / "copy.duckdb")
    seen = [hash_of(copy)]
    for change in ("CREATE TABLE plaque (words VARCHAR)", "INSERT INTO plaque VALUES ('best of the fells')"):
        with database.writing(copy) as connection:
            connection.execute(change)
        seen.append(hash_of(copy))
    assert len(set(seen)) == 3
    assert table_counts_of(copy)["plaque"] == 1
    with database.writing(copy) as connection:
        connection.execute("DROP TABLE plaque")
    assert hash_of(copy) == seen[0]


def test_equal_rows_do_not_cancel_and_a_row_belongs_to_its_table(memory: duckdb.DuckDBPyConnection) -> None:
    memory.execute("CREATE TABLE a (x VARCHAR, y VARCHAR); CREATE TABLE b (x VARCHAR, y VARCHAR)")
    seen = [book_hash(memory)]
    for change in (
        "INSERT INTO a VALUES ('1', '2')", "INSERT INTO a VALUES ('1', '2')", "INSERT INTO a VALUES ('2', '1')",
        "DELETE FROM a; INSERT INTO b VALUES ('1', '2'), ('1', '2'), ('2', '1')", "UPDATE b SET x = NULL",
        "UPDATE b SET x = ''", "UPDATE b SET x = 'null'", "UPDATE b SET x = 'a\",\"b', y = ''", "UPDATE b SET x = 'a', y = 'b\",\"'",
    ):  # fmt: skip
        memory.execute(change)
        seen.append(book_hash(memory))
    assert len(set(seen)) == len(seen) == 10


@pytest.mark.parametrize("nth", range(5))
def test_one_altered_cell_of_the_ledger_shows(loaded: Path, tmp_path: Path, nth: int) -> None:
    copy, rng = copy_of(loaded, tmp_path / "copy.duckdb"), random.Random(nth)
    column = ("right_units", "left_units", "single_units", "stated_difference", "line")[nth]
    value = "'beam '" if column == "line" else f"coalesce({column}, 0) + 1"
    with database.writing(copy) as connection:
        rowid = connection.execute(
            "SELECT rowid FROM measurement ORDER BY hash(rowid + ?)", [rng.randrange(99)]
        ).fetchall()[0][0]
        connection.execute(f"UPDATE measurement SET {column} = {value} WHERE rowid = ?", [rowid])
    assert hash_of(copy) != hash_of(loaded)
