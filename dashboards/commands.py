"""What each command that needs a book does: call the loaders or the book, print, say how it ended."""

import argparse
import sys
from datetime import UTC, datetime
from importlib.resources import as_file, files
from pathlib import Path

import polars as pl

from dashboards import report_words as words
from dashboards.asked import login, mapping_of, today
from dashboards.book_lines import entry_lines, finding_lines
from dashboards.printing import print_lines
from dashboards.progress import Progress
from dashboards.sheet_lines import load_lines
from loaders.load import Loaded, Request, load_files
from loaders.reference_files import files_in, write_reference
from warehouse.book import database, reports
from warehouse.book.balance import balance
from warehouse.book.reference import TABLES, Told
from warehouse.book.upgrade import upgrade
from warehouse.errors import BookRefused
from warehouse.plain_text import shown

DEMO_WORST = 10
DEMO_AUTHOR = "demo"


def init(asked: argparse.Namespace) -> int:
    """Make an empty book with its reference tables."""
    paths: dict[str, Path] = {}
    with as_file(files("sample_data").joinpath("reference")) as folder:
        paths |= files_in(folder) if asked.demo else {}
        paths |= _reference_folder(asked.reference) if asked.reference else {}
        paths |= {"area": asked.areas} if asked.areas else {}
        counts = make_book(asked.book, paths)
    filled = ", ".join(f"{count} {TABLES[table].words}" for table, count in counts.items())
    print(
        f"{shown(str(asked.book))}: an empty book, with {filled or 'no reference tables (names are kept as written)'}"
    )
    return 0


def _reference_folder(folder: Path) -> dict[str, Path]:
    found = files_in(folder)
    if not found:
        raise BookRefused(f"{shown(str(folder))}: holds none of the reference files (areas.csv, measurers.csv ...)")
    return found


def make_book(book: Path, reference: dict[str, Path], by: str | None = None) -> dict[str, int]:
    """Make a book with reference tables; returns their rows. Where they are refused no book is left behind."""
    database.create(book)
    try:
        with database.writing(book) as connection:
            told = Told(by or login(), "the book was made", datetime.now(UTC).replace(tzinfo=None))
            return {change.table: change.after for change in write_reference(connection, reference, told)}
    except BaseException:
        database.remove(book)  # `create` refuses a book that was there before: this one is ours
        raise


def load(asked: argparse.Namespace) -> int:
    """Audit files and keep them in a book."""
    with Progress(asked.json) as progress:
        loaded = load_files(
            Request(
                paths=asked.files, book=asked.book, by=asked.by or login(), today=today(), mapping=mapping_of(asked),
                use_mapping=asked.mapping, save_mapping=asked.save_mapping, dry_run=asked.dry_run, wait=asked.wait,
                tell=progress.tell,
            )
        )  # fmt: skip
    if asked.json:
        print_lines(load_lines(loaded))
    else:
        print_lines(words.load_report(loaded, str(asked.book)))
    for note in words.file_notes(loaded):
        print(note, file=sys.stderr if asked.json else sys.stdout)
    return _load_code(loaded)


def _load_code(loaded: Loaded) -> int:
    counts = loaded.findings()
    return int(bool(counts["error"] or counts["question"] or loaded.counts()["held"]))


def findings(asked: argparse.Namespace) -> int:
    """List the sheets of a book that have findings."""
    with database.reading(asked.book, asked.wait) as connection:
        found, entries = reports.open_findings(connection), reports.entries(connection)
        why = reports.explanations(connection)
    print_lines(
        finding_lines(found, entries, why)
        if asked.json
        else words.findings_report(found, words.best_explanations(why, "entry_id", entries))
    )
    return int(words.needs_person([found]))


def entries(asked: argparse.Namespace) -> int:
    """List the entries of a book."""
    with database.reading(asked.book, asked.wait) as connection:
        found = reports.entries(connection)
    counted = found.with_columns(
        gross=pl.col("counted_gross"), net=pl.col("counted_net")
    )  # a panel's, where there is one
    print_lines(entry_lines(counted) if asked.json else words.entries_report(counted))
    return 0


def upgrade_book(asked: argparse.Namespace) -> int:
    """Bring a book of an earlier schema up to date."""
    copy = upgrade(asked.book, asked.wait)
    said = f"up to date; as it was it is kept as {shown(str(copy))}" if copy else "is up to date already"
    print(f"{shown(str(asked.book))}: {said}")
    return 0


def demo(asked: argparse.Namespace) -> int:
    """Build the demo book, report on it, and serve it."""
    with as_file(files("sample_data")) as folder:
        if asked.book.exists():
            _refuse_real_book(asked)
        else:
            make_book(asked.book, files_in(folder / "reference"), DEMO_AUTHOR)
        sheets = sorted((folder / "sheets").glob("*.csv"))
        messy = sorted(path for path in (folder / "messy").iterdir() if path.suffix not in (".md", ".py"))
        with Progress(False) as progress:
            request = Request(
                [*sheets, *messy], asked.book, DEMO_AUTHOR, today(), {}, wait=asked.wait, tell=progress.tell
            )
            loaded = load_files(request)
    with database.reading(asked.book, asked.wait) as connection:
        print_lines(words.demo_report(
            balance(connection), reports.finding_counts(connection),
            reports.worst_findings(connection, DEMO_WORST), len(sheets) + len(messy), str(asked.book),
        ))  # fmt: skip
    if asked.no_serve:
        return _load_code(loaded)
    return _serve(asked.book, asked.port)


def _refuse_real_book(asked: argparse.Namespace) -> None:
    with database.reading(asked.book, asked.wait) as connection:
        others = [author for author in reports.authors(connection) if author != DEMO_AUTHOR]
    if others:
        raise BookRefused(
            f"{shown(str(asked.book))}: holds loads of {shown(', '.join(others), 80)}; the demo's invented sheets go only "
            "into a book of their own: name another with --book"
        )


def serve(asked: argparse.Namespace) -> int:
    """Show a book in the browser, until stopped."""
    with database.reading(asked.book, asked.wait):
        pass  # a book that cannot be read is refused here, in words, before a page is opened
    return _serve(asked.book, asked.port)


def _serve(book: Path, port: int | None) -> int:
    from dashboards.serve import serve as serve_book  # the web server is slow to import, and only this needs it

    serve_book(book, port, open_browser=False)
    return 0
