"""The command `reference`: put reference tables in place of the book's, and say what changed."""

import argparse
from collections.abc import Iterator
from datetime import UTC, datetime

from dashboards.arguments import NOTICE
from dashboards.asked import login
from dashboards.printing import print_lines
from loaders.reference_files import read_all, sources
from warehouse.book import database, reference
from warehouse.plain_text import shown


def run(asked: argparse.Namespace) -> int:
    """Replace whole tables in one transaction; a table that stays as it is, is not written."""
    told = reference.Told(asked.by or login(), asked.why, datetime.now(UTC).replace(tzinfo=None))
    told.check()
    given = read_all(sources(asked.files))
    with database.reading(asked.book, asked.wait) as connection:
        changes = reference.plan(connection, given).changes
    if not all(change.is_none for change in changes):
        with database.writing(asked.book, asked.wait) as connection:
            changes = reference.put(connection, given, told)
    print_lines(_report(str(asked.book), changes))
    return 0


def _report(book: str, changes: tuple[reference.Change, ...]) -> Iterator[str]:
    written = sum(not change.is_none for change in changes)
    yield f"{shown(book)}: {written} of {len(changes)} table{'' if len(changes) == 1 else 's'} put in place of the book's"
    for change in changes:
        words = reference.TABLES[change.table].words
        if change.is_none:
            yield f"  {words}: {change.after:,} as before; nothing was written"
        else:
            yield (
                f"  {words}: {change.before:,} before, {change.after:,} now: {change.added:,} added, "
                f"{change.removed:,} removed, {change.changed:,} changed{_why(change)}"
            )
    yield NOTICE


def _why(change: reference.Change) -> str:
    return " (default rules of the books that have minimums)" if change.by_default else ""
