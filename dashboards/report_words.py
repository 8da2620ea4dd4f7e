"""What the command prints for people: short, whole sentences, figures first."""

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

import polars as pl

from dashboards.arguments import NOTICE
from dashboards.sheet_lines import figure_text
from loaders.check import Checked, statuses
from warehouse.audit.codes import HOLDS, code_of, title_of
from warehouse.plain_text import shown

if TYPE_CHECKING:  # both import DuckDB, which `check` must not wait for
    from loaders.load import Loaded
    from warehouse.book.balance import Balance

MOST_SHEETS = 40
MOST_FIELDS = 5
STATUS_WORDS = (
    ("clean", "clean"),
    ("questions", "with questions"),
    ("errors", "with errors"),
    ("unreadable", "not scored"),
)


def needs_person(findings: Iterable[pl.DataFrame]) -> bool:
    """Whether any finding is an error or a question."""
    return any(bool(frame["severity"].is_in(HOLDS).any()) for frame in findings)


def _where(file: str, sheet: str | None) -> str:
    return shown(file) + (f", sheet {shown(sheet, 60)!r}" if sheet else "")


def check_report(checked: Checked) -> Iterator[str]:
    """Each file's count of sheets by status, then its findings, sheet by sheet."""
    for audited in checked.tables:
        counts = dict(statuses(audited).value_counts().rows())
        states = ", ".join(f"{counts[name]} {text}" for name, text in STATUS_WORDS if name in counts)
        yield f"{_where(audited.table.file, audited.table.sheet)}: {_sheets(audited.table.cells.height)}; {states or 'none'}"
        places = audited.findings.drop_nulls("id")
        rows = places.with_columns(
            row=audited.table.rows.gather(places["id"]), entry_no=audited.entries["entry_no"].gather(places["id"])
        )
        certain = audited.entries.select("id", audited.certain.alias("score_certain"))
        why = best_explanations(audited.explanations, "id", certain)
        yield from _by_sheet(rows, {audited.table.rows[place]: said for place, said in why.items()})
    yield NOTICE


def best_explanations(explanations: pl.DataFrame, key: str, certain: pl.DataFrame) -> dict[int, str]:
    """Sheet (`key`) -> its likeliest explanation, and whether others are left. `certain`: the key and `score_certain`."""
    best = explanations.group_by(key, maintain_order=True).agg(
        pl.col("why", "tie").first(), others=pl.len() - 1, nets=pl.col("net").n_unique()
    )
    best = best.join(certain.select(key, "score_certain"), on=key, how="left", maintain_order="left")
    rows = best.select(key, "why", "tie", "others", "nets", pl.col("score_certain").fill_null(False)).rows()
    return {sheet: explained(*rest) for sheet, *rest in rows}


def explained(why: str, tie: bool, others: int, nets: int, is_certain: bool) -> str:
    """The likeliest explanation of a sheet and what else there is, in a sentence or two."""
    if not others:
        return why if is_certain else f"{why} Not certain."
    first = "One of several as likely" if tie else "Likeliest"
    left = f"{others} other explanation{'s' if others > 1 else ''}"
    return f"{first}: {why} {left}, {'another net is possible' if nets > 1 else 'with the same net'}."


def _sheets(count: int) -> str:
    return f"{count:,} sheet{'' if count == 1 else 's'}"


def _by_sheet(findings: pl.DataFrame, why: Mapping[int, str] | None = None) -> Iterator[str]:
    """Findings under the row they are of, the likeliest explanation last; a long list is cut, and says so."""
    rows = findings["row"].unique(maintain_order=True)
    shown_rows = findings.filter(pl.col("row").is_in(rows.head(MOST_SHEETS).implode()))
    last = None
    for row, number, severity, message in shown_rows.select("row", "entry_no", "severity", "message").rows():
        if row != last:
            yield from _why(why, last)
            yield f"  row {row}, entry {shown(number or '(no number)', 40)}"
            last = row
        yield f"    {severity:<8} {shown(message)}"
    yield from _why(why, last)
    if len(rows) > MOST_SHEETS:
        yield f"  ... and {len(rows) - MOST_SHEETS:,} more sheets with findings; --json lists them all"


def _why(why: Mapping[int, str] | None, row: int | None) -> Iterator[str]:
    if why and row is not None and row in why:
        yield f"    {'cause':<8} {shown(why[row], 400)}"


def file_notes(run: "Checked | Loaded") -> Iterator[str]:
    """What concerns files as a whole: columns, encodings, files that came before."""
    tables = run.tables if isinstance(run, Checked) else tuple(placed.audited for placed in run.tables)
    for audited in tables:
        of_file = audited.findings.filter(pl.col("id").is_null()).select("severity", "code", "cells", "message")
        for severity, code, cells, message in of_file.rows():
            where = _where(audited.table.file, audited.table.sheet)
            if code == "column-missing" and len(cells) > MOST_FIELDS:
                message = f"The file has no column for {len(cells)} fields ({', '.join(cells[:MOST_FIELDS])} ...)."
            yield f"{severity}: {shown(message) if message.startswith(where) else f'{where}: {shown(message)}'}"
    for repeat in run.repeats:
        yield f"note: {_where(repeat.file, repeat.sheet)}: already received {shown(repeat.before)}; not taken again"


def load_report(loaded: "Loaded", book: str) -> Iterator[str]:
    """What the load did to the book."""
    counts, found = loaded.counts(), loaded.findings()
    verb = "would be " if loaded.dry_run else ""
    yield (
        f"{_rows(counts['rows'])} received: {counts['new']:,} {verb}new, {counts['revised']:,} {verb}revised, "
        f"{counts['held']:,} {verb}held for a person, {counts['unchanged']:,} unchanged"
    )
    yield f"findings: {found['error']:,} errors, {found['question']:,} questions, {found['note']:,} notes"
    yield from _changes(loaded)
    if loaded.dry_run:
        yield "nothing was written (dry run)"
    elif sum(found.values()):
        yield f"see them with: beamledger findings --book {shown(book)}"
    yield NOTICE


def _rows(count: int) -> str:
    return f"{count:,} row{'' if count == 1 else 's'}"


def _changes(loaded: "Loaded") -> Iterator[str]:
    """What changed in rows that were sent before."""
    for placed in loaded.tables:
        changed = (placed.changed.fill_null("") != "").arg_true()
        for row, words in zip(placed.audited.table.rows.gather(changed.head(MOST_SHEETS)),
                              placed.changed.gather(changed.head(MOST_SHEETS)), strict=True):  # fmt: skip
            yield f"  revised {_where(placed.audited.table.file, placed.audited.table.sheet)}, row {row}: {shown(words, 300)}"
        if len(changed) > MOST_SHEETS:
            yield f"  ... and {len(changed) - MOST_SHEETS:,} more revised rows"


def findings_report(findings: pl.DataFrame, why: Mapping[int, str]) -> Iterator[str]:
    """Open findings of a book by kind with what to do, then those of files as a whole, then sheet by sheet.

    `why`: the likeliest explanation of an entry in words.
    """
    if not findings.height:
        yield "no open findings"
        return
    counts = findings.group_by("severity", "code").len()
    for severity, code, count in counts.sort("severity", "len", "code", descending=[False, True, False]).rows():
        yield f"{count:>7,}  {severity:<8}  {title_of(code)}. {code_of(code).what_to_do}"
    asked = findings.filter(pl.col("severity").is_in(HOLDS))
    for (file, sheet), rows in asked.group_by("file", "sheet", maintain_order=True):
        yield _where(str(file), str(sheet) if sheet is not None else None)
        for severity, message in rows.filter(pl.col("row").is_null()).select("severity", "message").rows():
            yield f"    {severity:<8} {shown(message)}"
        of_sheets = rows.drop_nulls("row")
        entries = dict(of_sheets.select("row", "entry_id").rows())
        yield from _by_sheet(of_sheets, {row: why[entry] for row, entry in entries.items() if entry in why})
    yield NOTICE


def entries_report(entries: pl.DataFrame) -> Iterator[str]:
    """Entries as a table for the terminal."""
    if not entries.height:
        yield "no entries; load some with: beamledger load FILE --book BOOK"
        return
    yield f"{'number':<12} {'status':<9} {'category':<22} {'area':<16} {'season':<8} {'weapon':<13} {'gross':>9} {'net':>9}"
    texts = entries.with_columns(figure_text("gross"), figure_text("net"))
    fields = ("entry_no", "status", "category", "area_written", "season", "weapon", "gross", "net")
    for row in texts.select(pl.col(fields).fill_null("-")).rows():
        number, status, category, area, season, weapon, gross, net = (shown(str(cell), 22) for cell in row)
        yield f"{number:<12} {status:<9} {category:<22} {area:<16} {season:<8} {weapon:<13} {gross:>9} {net:>9}"


_BALANCE_NOTES = {
    "held": "a person must look: an error or a question",
    "sent again": "rows of entries that are counted above",
}


def _balance_lines(balance: "Balance") -> Iterator[str]:
    """Rows received and what became of them, and whether that is all of them."""
    yield f"  rows received  {balance.received:>7,}"
    for words, count in balance.parts.items():
        note = f"   ({_BALANCE_NOTES[words]})" if words in _BALANCE_NOTES else ""
        yield f"  {words:<14} {count:>7,}{note}"
    verdict = "the balance holds" if balance.holds else "THE BALANCE DOES NOT HOLD"
    yield f"  {verdict}: received = {' + '.join(balance.parts)}"


def demo_report(
    balance: "Balance", counts: dict[str, int], worst: list[tuple[str, int, str, str, str]], files: int, book: str
) -> Iterator[str]:
    """The demo's report, for a committee member."""
    yield f"The book {shown(book)} was built from {files} files of an invented region."
    yield ""
    yield from _balance_lines(balance)
    yield ""
    yield f"Open findings: {counts['error']:,} errors, {counts['question']:,} questions, {counts['note']:,} notes. The worst:"
    for place, (file, row, number, severity, message) in enumerate(worst, start=1):
        yield f"{place:>3}. {severity} in entry {shown(number, 40)} ({shown(file.rsplit('/', 1)[-1])}, row {row})"
        yield f"     {shown(message)}"
    yield ""
    yield NOTICE
