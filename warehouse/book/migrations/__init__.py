"""Numbered SQL migrations, each applied once, in order, in the caller's transaction together with its own record."""

import re
from importlib.resources import files
from pathlib import Path

import duckdb

from warehouse.errors import BookDamaged, BookNewer, BookOlder
from warehouse.plain_text import shown

_RECORD = "CREATE TABLE IF NOT EXISTS migration (number INTEGER PRIMARY KEY, name VARCHAR NOT NULL, applied_at TIMESTAMP NOT NULL)"


def known() -> dict[int, str]:
    """Number -> file name of every migration that ships with the program, in order."""
    names = sorted(item.name for item in files(__package__).iterdir() if re.fullmatch(r"\d{4}_\w+\.sql", item.name))
    return {int(name[:4]): name for name in names}


def apply_all(connection: duckdb.DuckDBPyConnection) -> None:
    """Apply every migration the book does not have yet."""
    connection.execute(_RECORD)
    done = {number for (number,) in connection.execute("SELECT number FROM migration").fetchall()}
    for number, name in known().items():
        if number not in done:
            connection.execute(files(__package__).joinpath(name).read_text(encoding="utf-8"))
            connection.execute("INSERT INTO migration VALUES (?, ?, now()::TIMESTAMP)", [number, name])


def check_version(connection: duckdb.DuckDBPyConnection, path: Path) -> None:
    """Raise BookNewer or BookOlder for a book of another schema than this program's, BookDamaged for no book of ours."""
    try:
        newest = connection.execute("SELECT max(number), max_by(name, number) FROM migration").fetchall()[0]
    except duckdb.CatalogException as refusal:
        raise BookDamaged(
            f"{shown(str(path))}: a DuckDB file, but not a book of Beamledger; check the file name"
        ) from refusal
    if newest[0] is None:
        raise BookDamaged(f"{shown(str(path))}: its record of migrations is empty; restore your last backup")
    if newest[0] > max(known()):
        raise BookNewer(
            f"{shown(str(path))}: made by a newer version of Beamledger (its schema is {newest[1]}, this program knows "
            f"up to {known()[max(known())]}); update the program, the book was not touched"
        )
    if newest[0] < max(known()):
        raise BookOlder(
            f"{shown(str(path))}: made by an earlier version of Beamledger (its schema is {newest[1]}); bring it up to date "
            f"with `beamledger upgrade {shown(str(path))}`, which keeps a copy"
        )
