"""The commands `backup` and `restore`, and what they print."""

import json
import zipfile
from importlib.metadata import version
from pathlib import Path

import pytest

from tests.book_builder import beside, file_of, heads, load, new_book, query
from tests.dashboards.run_command import run, run_apart
from tests.warehouse.book.backups import repacked
from tests.warehouse.book.test_book_upgrade import old_book
from warehouse.book import anchor, database, migrations
from warehouse.book.backup_file import MANIFEST
from warehouse.book.book_hash import book_hash, table_counts

NEWEST = migrations.known()[max(migrations.known())]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book of five heads, of two loads."""
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", heads(1, 3)))
    load(book, file_of(tmp_path / "b.csv", heads(4, 5)))
    return book


def figures(file: Path, book: Path) -> str:
    """The lines that tell what the backup of a book with two loads holds."""
    with zipfile.ZipFile(file) as packed:
        made = json.loads(packed.read(MANIFEST))["made_at"].replace("T", " ").replace("Z", " UTC")
    with database.reading(book) as connection:
        whole = book_hash(connection)
        ((head,),) = connection.execute("SELECT hash FROM event WHERE event_no = 2").fetchall()
    return (
        "  entries     5, of 2 loads\n"
        f"  book hash   {whole}\n"
        f"  head        {head} (event 2)\n"
        f"  made        {made} by beamledger {version('beamledger')}, schema {NEWEST}\n"
        f"  book        {book.stat().st_size} bytes\n"
    )


def test_backup_and_restore_say_what_the_book_holds(book: Path, tmp_path: Path) -> None:
    file, restored = tmp_path / "backup.zip", tmp_path / "restored.duckdb"
    backed_up = run("backup", book, file)
    assert backed_up == (
        0,
        f"{book}: backed up to {file}, and read back\n"
        + figures(file, book)
        + f"  backup      {file.stat().st_size} bytes; keep it on another disk, and the head where nobody can change it\n",
        "",
    )
    came_back = run("restore", file, restored)
    assert came_back == (
        0, f"{restored}: restored from {file}; it holds what was backed up\n" + figures(file, book), "",
    )  # fmt: skip
    assert run("entries", "--book", restored, "--json").out == run("entries", "--book", book, "--json").out
    assert run("findings", "--book", restored, "--json").out == run("findings", "--book", book, "--json").out


def test_restore_drill_in_another_zone_and_folder(book: Path, tmp_path: Path) -> None:
    run("backup", book, tmp_path / "backup.zip")
    told = run("entries", "--book", book, "--json").out
    for path in (book, beside(book, ".anchor")):
        path.unlink()
    (tmp_path / "elsewhere").mkdir()
    apart = run_apart(
        "restore", "../backup.zip", "again.duckdb", folder=tmp_path / "elsewhere", TZ="Pacific/Kiritimati"
    )
    assert (apart.code, apart.err) == (0, "")
    assert run("entries", "--book", tmp_path / "elsewhere" / "again.duckdb", "--json").out == told


def test_refusals_are_one_line_and_exit_2(book: Path, tmp_path: Path) -> None:
    words = "already there, and never overwritten; name another, or move it away"
    assert run("backup", book, tmp_path / "a.csv") == (2, "", f"beamledger: {tmp_path / 'a.csv'}: {words}\n")
    gone = tmp_path / "gone.zip"
    assert run("restore", gone, tmp_path / "x.duckdb") == (
        2, "", f"beamledger: {gone}: cannot be opened: No such file or directory; check the file name\n",
    )  # fmt: skip
    assert run("backup", tmp_path / "no.duckdb", gone) == (
        2, "",
        f"beamledger: {tmp_path / 'no.duckdb'}: no book there; make one with `beamledger init {tmp_path / 'no.duckdb'}`\n",
    )  # fmt: skip
    assert not gone.exists()


def test_an_older_book_is_restored_and_asks_to_be_upgraded(book: Path, tmp_path: Path) -> None:
    run("backup", book, tmp_path / "backup.zip")
    old = old_book(2, tmp_path)
    with database.reading(old, fresh=True) as connection:
        counts, whole = table_counts(connection), book_hash(connection)
        anchored = json.dumps(anchor.counts(connection) | {"bytes": old.stat().st_size}).encode()

    def told(manifest: dict[str, object]) -> None:
        manifest["holds"] = {"schema_name": "0002_explanations.sql", "book_hash": whole, "events": 0, "head": "0" * 64,
                             "counts": counts}  # fmt: skip

    file = repacked(tmp_path / "backup.zip", tmp_path / "old.zip", told, book=old.read_bytes(), anchor=anchored)
    restored = tmp_path / "restored.duckdb"
    ran = run("restore", file, restored)
    assert ran.code == 1
    assert ran.out.splitlines()[1:3] == [
        f"  entries     {counts['entry']}, of {counts['load']} loads",
        f"  book hash   {whole}",
    ]
    assert ran.out.splitlines()[-1] == (
        f"The book is of an earlier version of Beamledger: bring it up to date with `beamledger upgrade {restored}`"
    )
    assert run("upgrade", restored).code == 0
    assert query(restored, "SELECT count(*) FROM entry") == [(counts["entry"],)]
