"""A backup restored elsewhere holds what was backed up; what is no whole backup is refused and leaves nothing behind."""

import hashlib
import json
import os
import random
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from tests.book_builder import beside, copy_of, file_of, heads, load, new_book, query
from tests.warehouse.book.backups import (
    ADVICE,
    COMMIT_AND_DIE,
    NOT_WHOLE,
    RESTORE_AND_HASH,
    ROOT,
    WRITE_NOW,
    hash_of,
    names,
    refusal,
    repacked,
)
from tests.warehouse.book.test_book_upgrade import old_book
from warehouse.book import anchor, backup_file, database, events, migrations
from warehouse.book.backup import back_up, is_older, restore
from warehouse.book.backup_file import ANCHOR, BOOK, MANIFEST
from warehouse.book.book_hash import book_hash, table_counts
from warehouse.book.upgrade import upgrade
from warehouse.errors import BackupRefused, BookOlder


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of 20 heads; no test changes it."""
    folder = tmp_path_factory.mktemp("book")
    book = new_book(folder)
    load(book, file_of(folder / "a.csv", heads(0, 19)))
    return book


@pytest.fixture(scope="module")
def good(book: Path) -> Path:
    """A backup of `book`."""
    back_up(book, book.with_name("good.zip"))
    return book.with_name("good.zip")


@pytest.mark.parametrize("zone", ["America/Chicago", "Pacific/Kiritimati"])
def test_restored_elsewhere_it_holds_the_same(book: Path, good: Path, tmp_path: Path, zone: str) -> None:
    restored = tmp_path / "elsewhere.duckdb"
    command = [sys.executable, "-c", RESTORE_AND_HASH, str(good), str(restored)]
    settings = os.environ | {"PYTHONPATH": str(ROOT), "TZ": zone, "LC_ALL": "C", "HOME": str(tmp_path)}
    done = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path, env=settings)
    assert done.stdout == hash_of(book) + "\n", done.stderr
    assert names(tmp_path) == ["elsewhere.duckdb", "elsewhere.duckdb.anchor"]
    assert restored.read_bytes() == book.read_bytes()
    assert beside(restored, ".anchor").read_bytes() == beside(book, ".anchor").read_bytes()
    assert load(restored, file_of(tmp_path / "b.csv", heads(15, 24))).counts()["new"] == 5


def test_the_manifest_says_what_the_book_holds(book: Path, tmp_path: Path) -> None:
    written = back_up(book, tmp_path / "backup.zip")
    with zipfile.ZipFile(tmp_path / "backup.zip") as packed:
        assert packed.namelist() == [BOOK, ANCHOR, MANIFEST]
        assert packed.testzip() is None
        manifest = json.loads(packed.read(MANIFEST))
    with database.reading(book) as connection:
        number, head = events.head(connection)
        counts = table_counts(connection)
    assert (number, counts["entry"], counts["load"]) == (1, 20, 1)
    data = {BOOK: book.read_bytes(), ANCHOR: beside(book, ".anchor").read_bytes()}
    assert manifest == {
        "format_version": 1,
        "program": f"beamledger {version('beamledger')}",
        "storage_version": "v2.0.0+",
        "made_at": f"{written.made_at:%Y-%m-%dT%H:%M:%SZ}",
        "holds": {
            "schema_name": migrations.known()[max(migrations.known())],
            "book_hash": hash_of(book), "events": 1, "head": head, "counts": counts,
        },
        "files": {name: {"bytes": len(one), "sha256": hashlib.sha256(one).hexdigest()} for name, one in data.items()},
    }  # fmt: skip
    assert names(tmp_path) == ["backup.zip"]


def test_what_a_crash_left_in_the_log_is_in_the_backup(book: Path, tmp_path: Path) -> None:
    copy = copy_of(book, tmp_path / "copy.duckdb")
    assert subprocess.run([sys.executable, "-c", COMMIT_AND_DIE, str(copy)], cwd=ROOT).returncode == 9
    assert beside(copy, ".wal").stat().st_size > 0
    assert back_up(copy, tmp_path / "backup.zip").holds.counts["load"] == 2
    assert not beside(copy, ".wal").exists()
    restore(tmp_path / "backup.zip", tmp_path / "restored.duckdb")
    assert query(tmp_path / "restored.duckdb", "SELECT list(load_id ORDER BY load_id) FROM load") == [([1, 2],)]


def test_nobody_writes_to_the_book_while_it_is_packed(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy, seen, pack = copy_of(book, tmp_path / "copy.duckdb"), [], backup_file.write

    def packing(*arguments: Any) -> backup_file.Manifest:
        written = pack(*arguments)
        probe = [sys.executable, "-c", WRITE_NOW, str(copy)]
        seen.append(subprocess.run(probe, capture_output=True, text=True, check=True).stdout)
        return written

    monkeypatch.setattr(backup_file, "write", packing)
    back_up(copy, tmp_path / "backup.zip")
    assert seen == ["kept out\n"]


def test_nothing_is_overwritten(book: Path, good: Path, tmp_path: Path) -> None:
    there = tmp_path / "there"
    there.write_text("somebody's")
    words = "already there, and never overwritten; name another, or move it away"
    with pytest.raises(BackupRefused) as refused:
        back_up(book, there)
    assert str(refused.value) == f"{there}: {words}"
    for ending in ("", ".wal", ".anchor"):
        restored = tmp_path / f"restored{ending[1:]}.duckdb"
        beside(restored, ending).write_text("somebody's")
        with pytest.raises(BackupRefused) as refused:
            restore(good, restored)
        assert str(refused.value) == f"{beside(restored, ending)}: {words}"
        assert beside(restored, ending).read_text() == "somebody's"
    assert there.read_text() == "somebody's"
    assert len(names(tmp_path)) == 4


@pytest.mark.parametrize(
    ("extra", "listed"),
    [
        ("../../evil.duckdb", "book.duckdb, book.duckdb.anchor, manifest.json, ../../evil.duckdb"),
        ("/tmp/evil", "book.duckdb, book.duckdb.anchor, manifest.json, /tmp/evil"),
        ("book.duckdb.wal", "book.duckdb, book.duckdb.anchor, manifest.json, book.duckdb.wal"),
        ("\u202ex", "book.duckdb, book.duckdb.anchor, manifest.json, \\u202ex"),
    ],
)
def test_only_the_three_names_are_unpacked(good: Path, tmp_path: Path, extra: str, listed: str) -> None:
    file = tmp_path / "evil.zip"
    file.write_bytes(good.read_bytes())
    with zipfile.ZipFile(file, "a") as packed:
        packed.writestr(extra, "x")
    why = f"{NOT_WHOLE}it holds {listed}; a backup holds book.duckdb, book.duckdb.anchor and manifest.json"
    assert refusal(file, tmp_path / "into") == why + ADVICE
    assert names(tmp_path) == ["evil.zip", "into"]


def test_ten_thousand_members_or_none_are_no_backup(tmp_path: Path) -> None:
    for count, listed in ((10_000, "0, 1, 2, 3 ..."), (0, "nothing")):
        file = tmp_path / f"{count}.zip"
        with zipfile.ZipFile(file, "w") as packed:
            for nth in range(count):
                packed.writestr(str(nth), "")
        why = f"{NOT_WHOLE}it holds {listed}; a backup holds book.duckdb, book.duckdb.anchor and manifest.json"
        assert refusal(file, tmp_path / f"into_{count}") == why + ADVICE


def _set(*path: str, to: object) -> Callable[[dict[str, Any]], None]:
    def change(manifest: dict[str, Any]) -> None:
        for key in path[:-1]:
            manifest = manifest[key]
        manifest[path[-1]] = to

    return change


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (_set("files", BOOK, "bytes", to=10**15), "book.duckdb has {size} bytes, its manifest says 1000000000000000"),
        (_set("files", BOOK, "sha256", to="0" * 64), "book.duckdb is not as it was packed: its SHA-256 is another one"),
        (_set("files", BOOK, "sha256", to="no"),
         "its manifest.json cannot be read: files.book.duckdb.sha256: String should match pattern '^[0-9a-f]{{64}}$'"),
        (_set("files", to={}), "its manifest.json must tell of book.duckdb and book.duckdb.anchor"),
        (_set("holds", "events", to="1"),
         "its manifest.json cannot be read: holds.events: Input should be a valid integer"),
    ],
)  # fmt: skip
def test_a_manifest_that_lies_is_refused(
    book: Path, good: Path, tmp_path: Path, change: Callable[[dict[str, Any]], None], why: str
) -> None:
    said = refusal(repacked(good, tmp_path / "lies.zip", change), tmp_path / "into")
    assert said == NOT_WHOLE + why.format(size=book.stat().st_size) + ADVICE


@pytest.mark.parametrize(
    ("key", "to"),
    [("book_hash", "0" * 64), ("events", 2), ("head", "f" * 64), ("counts", {"entry": 21})],
)
def test_a_book_that_is_not_the_one_told_of_is_refused(good: Path, tmp_path: Path, key: str, to: object) -> None:
    said = refusal(repacked(good, tmp_path / "lies.zip", _set("holds", key, to=to)), tmp_path / "into")
    assert said == (
        f"the book in it is not the one that its manifest tells of ({key}); take another backup; nothing was kept"
    )


def test_an_older_book_in_place_of_the_one_told_of_is_refused(good: Path, tmp_path: Path) -> None:
    other = new_book(tmp_path, "other.duckdb")
    said = refusal(
        repacked(good, tmp_path / "x.zip", book=other.read_bytes(), anchor=beside(other, ".anchor").read_bytes()),
        tmp_path / "into",
    )
    assert said == (
        "the book in it is not the one that its manifest tells of (book_hash, events, head, counts); take another backup; "
        "nothing was kept"
    )


def test_what_is_no_book_is_refused_and_so_is_one_that_its_anchor_does_not_know(good: Path, tmp_path: Path) -> None:
    recovery = "restore your last backup, or make a new book with `beamledger init` and load the kept files again (what was decided and corrected is then lost)"
    said = refusal(repacked(good, tmp_path / "text.zip", book=b"Dear secretary,\n"), tmp_path / "into")
    assert said == (
        f"the book in it does not open: not a book of Beamledger (or its first bytes are damaged); {recovery}"
    )
    with zipfile.ZipFile(good) as packed:
        anchored = json.loads(packed.read(ANCHOR))
    more = json.dumps(anchored | {"entry": 21}).encode()
    said = refusal(repacked(good, tmp_path / "more.zip", anchor=more), tmp_path / "into_2")
    assert said == (
        "the book in it does not open: the book holds less than when it was last closed (entry: 20 of 21); its .wal file was "
        f"probably lost or damaged; {recovery}"
    )


def test_a_bomb_is_not_unpacked(book: Path, good: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = repacked(good, tmp_path / "bomb.zip", anchor=b"0" * 70_000)
    assert refusal(file, tmp_path / "a") == (
        f"{NOT_WHOLE}book.duckdb.anchor has 70000 bytes, at most 65536 were expected{ADVICE}"
    )
    zeros = bytes(40_000_000)
    data = bytearray(repacked(good, tmp_path / "zeros.zip", book=zeros).read_bytes())
    short = (1000).to_bytes(4, "little")
    for at in (22, data.index(b"PK\x01\x02") + 24):  # both headers say 1000 bytes, a thousandth of the packed stream
        data[at : at + 4] = short
    file.write_bytes(data)
    assert refusal(file, tmp_path / "b") == f"{NOT_WHOLE}book.duckdb has 1000 bytes, its manifest says 40000000{ADVICE}"
    lying = repacked(good, tmp_path / "lying.zip", _set("files", BOOK, "bytes", to=1000), book=zeros)
    data = bytearray(lying.read_bytes())
    for at in (22, data.index(b"PK\x01\x02") + 24):
        data[at : at + 4] = short
    file.write_bytes(data)
    assert refusal(file, tmp_path / "c") == f"{NOT_WHOLE}Bad CRC-32 for file 'book.duckdb'{ADVICE}"
    monkeypatch.setattr(shutil, "disk_usage", lambda folder: SimpleNamespace(free=999))
    size = book.stat().st_size + beside(book, ".anchor").stat().st_size
    assert refusal(good, tmp_path / "d") == (
        f"holds {size} bytes, {tmp_path / 'd'} has room for 999; make room, or restore elsewhere"
    )


@pytest.mark.parametrize("flag", ["encrypted", "unknown compression"])
def test_what_no_backup_is_packed_with_is_refused(good: Path, tmp_path: Path, flag: str) -> None:
    data = bytearray(good.read_bytes())
    at = data.index(b"PK\x01\x02")
    data[at + (8 if flag == "encrypted" else 10)] ^= 1 if flag == "encrypted" else 4
    (tmp_path / "odd.zip").write_bytes(data)
    said = refusal(tmp_path / "odd.zip", tmp_path / "into")
    assert said == f"{NOT_WHOLE}book.duckdb is packed in a way that no backup is{ADVICE}"


def test_a_cut_or_flipped_backup_is_refused_or_the_same(book: Path, good: Path, tmp_path: Path) -> None:
    data, whole, rng, refusals = good.read_bytes(), hash_of(book), random.Random(20261125), 0
    for nth in range(24):
        damaged = bytearray(data)
        if nth % 2:
            damaged[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
        else:
            del damaged[rng.randrange(len(data)) :]
        file, into = tmp_path / f"{nth}.zip", tmp_path / str(nth)
        file.write_bytes(damaged)
        into.mkdir()
        try:
            restore(file, into / "restored.duckdb")
        except BackupRefused as refused:
            assert str(refused).startswith(f"{file}: ")
            assert names(into) == []
            refusals += 1
        else:
            assert hash_of(into / "restored.duckdb") == whole  # the bit was one of a time stamp or the like
    assert refusals > 20


def test_a_backup_that_does_not_read_back_is_not_kept(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pack = backup_file.write

    def failing_disk(out: Path, *more: Any) -> backup_file.Manifest:
        written = pack(out, *more)
        data = bytearray(out.read_bytes())
        data[len(data) // 3] ^= 1
        out.write_bytes(data)
        return written

    monkeypatch.setattr(backup_file, "write", failing_disk)
    with pytest.raises(BackupRefused) as refused:
        back_up(book, tmp_path / "backup.zip")
    assert str(refused.value) == (
        f"{tmp_path / 'backup.zip'}: the backup did not read back as it was written; look after that disk, and write it to "
        "another one; nothing was kept"
    )
    assert names(tmp_path) == []


def test_what_a_killed_run_left_goes_with_the_next(book: Path, good: Path, tmp_path: Path) -> None:
    for left in (".backup.zip.unfinished-ab12", ".restored.duckdb.unfinished-cd34"):
        (tmp_path / left).mkdir()
        (tmp_path / left / BOOK).write_text("half")
    (tmp_path / ".other.zip.unfinished-ab12").mkdir()
    back_up(book, tmp_path / "backup.zip")
    restore(good, tmp_path / "restored.duckdb")
    assert names(tmp_path) == [
        ".other.zip.unfinished-ab12", "backup.zip", "restored.duckdb", "restored.duckdb.anchor",
    ]  # fmt: skip


def test_a_backup_of_a_newer_schema_is_refused_in_words(good: Path, tmp_path: Path) -> None:
    file = repacked(good, tmp_path / "newer.zip", _set("holds", "schema_name", to="9999_lasers.sql"))
    newest = migrations.known()[max(migrations.known())]
    assert refusal(file, tmp_path / "into") == (
        f"of a book made by a newer version of Beamledger (its schema is 9999_lasers.sql, this program knows up to {newest}); "
        "update the program, nothing was unpacked"
    )
    file = repacked(good, tmp_path / "format.zip", _set("format_version", to=2))
    assert refusal(file, tmp_path / "into_2") == (
        "a backup of format 2, this program knows format 1; update the program, nothing was unpacked"
    )


def test_a_backup_of_an_older_schema_is_restored_as_it_is(good: Path, tmp_path: Path) -> None:
    old = old_book(2, tmp_path)
    with database.reading(old, fresh=True) as connection:
        told = {
            "schema_name": "0002_explanations.sql", "book_hash": book_hash(connection), "events": 0, "head": "0" * 64,
            "counts": table_counts(connection),
        }  # fmt: skip
        anchored = json.dumps(anchor.counts(connection) | {"bytes": old.stat().st_size}).encode()
    file = repacked(good, tmp_path / "old.zip", _set("holds", to=told), book=old.read_bytes(), anchor=anchored)
    restored = tmp_path / "restored.duckdb"
    assert is_older(restore(file, restored).holds)
    assert restored.read_bytes() == old.read_bytes()
    with pytest.raises(BookOlder), database.reading(restored):
        pass
    assert upgrade(restored) is not None
    assert query(restored, "SELECT count(*) FROM entry") == [(3,)]


def test_a_book_that_cannot_be_put_in_place_leaves_no_anchor(
    good: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rename = Path.rename

    def failing(self: Path, target: Path) -> Path:
        if self.name == BOOK:
            raise OSError(5, "Input/output error")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises(BackupRefused) as refused:
        restore(good, tmp_path / "restored.duckdb")
    assert str(refused.value) == (
        f"{tmp_path / 'restored.duckdb'}: the book was not restored: Input/output error; make room, or choose another place, "
        "and try again; nothing was left behind"
    )
    assert names(tmp_path) == []


def test_folders_and_files_that_are_not_there(book: Path, good: Path, tmp_path: Path) -> None:
    gone = tmp_path / "gone" / "x"
    tail = "No such file or directory; make room, or choose another place, and try again; nothing was left behind"
    with pytest.raises(BackupRefused) as refused:
        back_up(book, gone)
    assert str(refused.value) == f"{gone}: the backup was not written: {tail}"
    with pytest.raises(BackupRefused) as refused:
        restore(good, gone)
    assert str(refused.value) == f"{gone}: the book was not restored: {tail}"
    with pytest.raises(BackupRefused) as refused:
        restore(gone, tmp_path / "restored.duckdb")
    assert str(refused.value) == f"{gone}: cannot be opened: No such file or directory; check the file name"
