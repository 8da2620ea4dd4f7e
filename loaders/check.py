"""Audit files without keeping anything: read, find headings, audit, look for repeats."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

import polars as pl

from loaders.audit_table import AuditedTable, audit_table, status_of
from loaders.names import Names
from loaders.readers import Grid, Notice, read
from loaders.repeats import find_repeats
from loaders.tables import Table, table_of
from warehouse.errors import FileRefused, MappingRefused
from warehouse.plain_text import shown


def silent(doing: str, done: int = 0, of: int = 0) -> None:
    """Tell nobody what is being done."""


@dataclass(frozen=True)
class Settings:
    """What a run is held to: today's date, the reference look-ups, and headings named by the sender.

    `named`: the headings of `mapping` that were named for this run, so that some file must have them.
    """

    today: date
    names: Names = field(default_factory=Names)
    mapping: Mapping[str, str] = field(default_factory=dict)
    named: frozenset[str] = frozenset()
    tell: Callable[[str, int, int], None] = silent


# the same bytes under another mapping say something else, so the fields belong to what makes a table the same
TableKey = tuple[str, str | None, tuple[str, ...]]


@dataclass(frozen=True)
class Repeat:
    """A file that was received before, and where: it is not audited again."""

    file: str
    sheet: str | None
    sha256: str
    before: str
    rows: int


@dataclass(frozen=True)
class Checked:
    """The audited tables of one run, in the files' order, and the files that came twice."""

    tables: tuple[AuditedTable, ...]
    repeats: tuple[Repeat, ...]


def _name(path: Path) -> str:
    """The path as text: bytes of it that are no UTF-8 are written out, for no book and no JSON can hold them."""
    return str(path).encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")


def _tables(paths: Sequence[Path], settings: Settings) -> Iterator[Table]:
    for done, path in enumerate(paths):
        settings.tell(f"reading {shown(path.name, 40)}", done, len(paths))
        yield from _tables_of(read(path, _name(path)), settings.mapping)


def _tables_of(grids: Sequence[Grid], mapping: Mapping[str, str]) -> list[Table]:
    """The tables of one file. A workbook's sheet that holds no score sheets is told of, not refused, beside one that does."""
    tables: list[Table] = []
    unread: list[FileRefused] = []
    for grid in grids:
        try:
            tables.append(table_of(grid, mapping))
        except FileRefused as refusal:
            unread.append(refusal)
    if not tables:
        raise unread[0]
    told = tuple(Notice("sheet-unread", "question", f"Not read: {refusal}") for refusal in unread)
    return [replace(tables[0], notices=tables[0].notices + told), *tables[1:]]


def check_files(paths: Sequence[Path], settings: Settings, known: Mapping[TableKey, str] | None = None) -> Checked:
    """Audit files. `known`: tables received before -> when and by whom, in words.

    Raises FileRefused for a file that cannot be read as score sheets, naming it and what was expected.
    """
    seen = dict(known or {})
    tables, repeats, missing = [], [], set(settings.named)
    for table in _tables(paths, settings):
        missing -= {heading.strip() for heading in table.headings}
        key = (table.sha256, table.sheet, tuple(field or "" for field in table.fields))
        if key in seen:
            repeats.append(Repeat(table.file, table.sheet, table.sha256, seen[key], table.cells.height))
            continue
        seen[key] = f"in this run as {table.file}"
        tables.append(audit_table(table, settings.names, settings.today))
    if missing:
        names = ", ".join(f"'{shown(name, 60)}'" for name in sorted(missing))
        raise MappingRefused(f"--map {names}: no file has such a heading; write it as it stands in the file")
    return Checked(tuple(find_repeats(tables)) if tables else (), tuple(repeats))


def scored(audited: AuditedTable) -> pl.Series:
    """Whether each row's net could be recomputed."""
    flags = pl.Series("scored", [False]).new_from_index(0, audited.table.cells.height)
    for sheets in audited.sheets:
        known = sheets.frame["net"].is_not_null()
        flags = known if sheets.frame.height == flags.len() else flags.scatter(sheets.frame["id"], known)
    return flags.alias("scored")


def statuses(audited: AuditedTable) -> pl.Series:
    """Each row's status (see `status_of`)."""
    return status_of(audited.findings, scored(audited))
