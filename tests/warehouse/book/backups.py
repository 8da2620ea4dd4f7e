"""Backups by hand for the tests: packed again with changes, and what is said of those that are none."""

import hashlib
import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from warehouse.book import database
from warehouse.book.backup import restore
from warehouse.book.backup_file import ANCHOR, BOOK, MANIFEST
from warehouse.book.book_hash import book_hash
from warehouse.errors import BackupRefused

ROOT = Path(__file__).parents[3]
NOT_WHOLE = "not a whole backup of a book: "
ADVICE = "; take another backup; nothing was kept"
RESTORE_AND_HASH = """
import sys
from importlib.metadata import version
from pathlib import Path
from warehouse.book import database
from warehouse.book.backup import restore
from warehouse.book.book_hash import book_hash
restore(Path(sys.argv[1]), Path(sys.argv[2]))
with database.reading(Path(sys.argv[2])) as connection:
    connection.execute("SET threads = 1")
    print(book_hash(connection))
"""
COMMIT_AND_DIE = """
import os, sys, duckdb
connection = duckdb.connect(sys.argv[1])
connection.execute("INSERT INTO load VALUES (2, now()::TIMESTAMP, 'x', 'y')")
os._exit(9)
"""
WRITE_NOW = """
import sys, duckdb
try:
    duckdb.connect(sys.argv[1])
    print("came in")
except duckdb.IOException as refusal:
    print("kept out" if "Conflicting lock" in str(refusal) else refusal)
"""


def hash_of(book: Path) -> str:
    with database.reading(book, wait=5) as connection:
        return book_hash(connection)


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def repacked(good: Path, to: Path, change: Callable[[dict[str, Any]], None] = lambda _: None, **members: bytes) -> Path:
    """The backup packed anew with another manifest; `members` (book, anchor) are other bytes of those members."""
    with zipfile.ZipFile(good) as packed:
        data = {name: packed.read(name) for name in (BOOK, ANCHOR, MANIFEST)}
    manifest = json.loads(data[MANIFEST])
    for name, key in ((BOOK, "book"), (ANCHOR, "anchor")):
        data[name] = members.get(key, data[name])
        manifest["files"][name] = {"bytes": len(data[name]), "sha256": hashlib.sha256(data[name]).hexdigest()}
    change(manifest)
    with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in (BOOK, ANCHOR):
            packed.writestr(name, data[name])
        packed.writestr(MANIFEST, json.dumps(manifest))
    return to


def refusal(file: Path, folder: Path) -> str:
    """What restoring `file` into the empty `folder` is refused with; nothing may be left there."""
    folder.mkdir()
    with pytest.raises(BackupRefused) as refused:
        restore(file, folder / "restored.duckdb")
    assert names(folder) == []
    return str(refused.value).replace(f"{file}: ", "", 1)
