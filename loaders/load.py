"""The whole run: read, audit, match with the book, write the ledger in one transaction, report."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from importlib.metadata import version
from pathlib import Path

import polars as pl
from duckdb import DuckDBPyConnection

from loaders.batch import Placed, make_batch, place, verdicts, with_changes
from loaders.check import Checked, Repeat, Settings, TableKey, check_files, silent
from loaders.headings import check_mapping
from loaders.names import Names, make_names
from warehouse.book import database, ledger, reference
from warehouse.errors import BookLocked, MappingRefused
from warehouse.plain_text import shown

MOST_TRIES = 8  # another load, a correction or a reference table may come in between reading the book and writing to it


@dataclass(frozen=True)
class Request:
    """What a load is asked to do. `mapping` is added to the saved one of the name `use_mapping`, if that is given."""

    paths: Sequence[Path]
    book: Path
    by: str
    today: date
    mapping: Mapping[str, str]
    use_mapping: str | None = None
    save_mapping: str | None = None
    dry_run: bool = False
    wait: float = database.WAIT_SECONDS
    tell: Callable[[str, int, int], None] = silent


@dataclass(frozen=True)
class Loaded:
    """What a load came to: the audited tables with each row's verdict, and the files that had come before."""

    tables: tuple[Placed, ...]
    verdicts: tuple[pl.Series, ...]
    repeats: tuple[Repeat, ...]
    dry_run: bool

    def counts(self) -> dict[str, int]:
        """Rows in all and by verdict; every row is counted in exactly one of them."""
        names = ("new", "unchanged", "revised", "held")
        totals = {name: sum(int((verdict == name).sum()) for verdict in self.verdicts) for name in names}
        totals["unchanged"] += sum(repeat.rows for repeat in self.repeats)
        return {"rows": sum(totals.values()), **totals}

    def findings(self) -> dict[str, int]:
        """Findings of the rows that were not unchanged, and of the files, by severity."""
        counts = {"error": 0, "question": 0, "note": len(self.repeats)}
        for placed, verdict in zip(self.tables, self.verdicts, strict=True):
            told = placed.audited.findings
            silent = (verdict == "unchanged").arg_true().cast(pl.UInt32)
            told = told.filter(pl.col("id").is_null() | ~pl.col("id").is_in(silent.implode()))
            for severity, count in told["severity"].value_counts().rows():
                counts[severity] += count
        return counts


@dataclass(frozen=True)
class _BookState:
    """What a load must know of the book, and the newest load, revision and reference table it was read after."""

    settings: Settings
    known: dict[TableKey, str]
    heads: pl.DataFrame
    received: pl.DataFrame
    newest: tuple[int, int, int]


def load_files(request: Request) -> Loaded:
    """Load files into a book: all of them or none. Raises BeamledgerError; the book is then untouched."""
    check_mapping(request.mapping, "--map")
    if request.save_mapping is not None and not (request.mapping or request.use_mapping):
        raise MappingRefused(
            f"--save-mapping '{shown(request.save_mapping)}': nothing to save; give headings with --map"
        )
    checked: Checked | None = None
    for _ in range(MOST_TRIES):
        state = _read_state(request)
        checked = check_files(request.paths, state.settings, state.known)
        tables = _place(request, checked, state)
        loaded = Loaded(tables, tuple(verdicts(placed) for placed in tables), checked.repeats, request.dry_run)
        if request.dry_run or _write(request, tables, state):
            return loaded
    raise BookLocked(f"{shown(str(request.book))}: other loads kept coming in between; nothing was written, try again")


def book_names(connection: DuckDBPyConnection) -> Names:
    """The book's reference tables as look-ups."""
    areas, aliases, measurers, seasons = reference.read_names(connection)
    changes, districts = reference.read_area_history(connection)
    return make_names(areas, aliases, measurers, seasons, changes, districts)


def _read_state(request: Request) -> _BookState:
    with database.reading(request.book, request.wait) as connection:
        saved = reference.read_mapping(connection, request.use_mapping) if request.use_mapping else {}
        if request.use_mapping and not saved:
            raise MappingRefused(f"{shown(str(request.book))}: no mapping is saved as '{shown(request.use_mapping)}'")
        settings = Settings(
            request.today,
            book_names(connection),
            {**saved, **request.mapping},
            frozenset(request.mapping),
            request.tell,
        )
        return _BookState(
            settings, ledger.known_files(connection), ledger.current_heads(connection),
            ledger.heads_as_received(connection), ledger.newest(connection),
        )  # fmt: skip


def _place(request: Request, checked: Checked, state: _BookState) -> tuple[Placed, ...]:
    """Match each table's rows with the book; an entry that one table has claimed is not there for the next."""
    placed, heads, received = [], state.heads, state.received
    for audited in checked.tables:
        one = place(audited, heads, received)
        claimed = one.matches["entry_id"].drop_nulls()
        placed.append(one)
        if len(claimed):
            heads, received = (
                known.filter(~pl.col("entry_id").is_in(claimed.implode())) for known in (heads, received)
            )
    asked = pl.concat([one.matches["before"].drop_nulls() for one in placed]) if placed else pl.Series(dtype=pl.Int64)
    if not len(asked):
        return tuple(placed)
    with database.reading(request.book, request.wait) as connection:
        before = ledger.rows_as_received(connection, asked)
    return tuple(with_changes(one, before, state.received) for one in placed)


def _write(request: Request, tables: Sequence[Placed], state: _BookState) -> bool:
    """Write the batch; False where something came in between and all must be looked at again."""
    saving = request.save_mapping is not None
    if not tables and not saving:
        database.settle(request.book, request.wait)  # whoever hears that all is in already relies on it
        return True
    request.tell("writing the book", 0, 0)
    with database.writing(request.book, request.wait) as connection:
        if ledger.newest(connection) != state.newest:
            return False
        if tables:
            now = datetime.now(UTC).replace(tzinfo=None)
            ledger.write(connection, make_batch(tables), request.by, f"beamledger {version('beamledger')}", now)
        if request.save_mapping is not None:
            reference.save_mapping(connection, request.save_mapping, state.settings.mapping)
    return True
