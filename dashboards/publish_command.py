"""The command `publish`: freeze an edition, or read it again where it was frozen, and write its files."""

import argparse
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import NamedTuple

from dashboards.arguments import NOTICE
from dashboards.asked import login
from dashboards.printing import print_lines
from dashboards.publications.changes_html import count_words, erratum_sentences
from dashboards.publications.edition_files import Written, write_edition
from dashboards.publications.rankings_html import chain_sentence
from dashboards.words import counted
from warehouse.book import database
from warehouse.book.editions import Edition, edition_number, events_since, freeze, read_edition
from warehouse.book.editions.names import checked_name
from warehouse.book.editions.printed import ALL_TIME
from warehouse.plain_text import shown

MOST_ERRATA = 20


class _Published(NamedTuple):
    edition: Edition
    is_new: bool
    since: int


def run(asked: argparse.Namespace) -> int:
    """Publish; returns the exit code 0. Raises EditionRefused, and as the book's opening does."""
    name = checked_name(asked.edition)
    published = _read_again(asked, name) or _freeze(asked, name)
    written = write_edition(published.edition, asked.to)
    print_lines(_report(published, written))
    return 0


def _read_again(asked: argparse.Namespace, name: str) -> _Published | None:
    """The edition that the book has frozen under this name; read without keeping others from the book."""
    with database.reading(asked.book, asked.wait) as connection:
        if edition_number(connection, name) is None:
            return None
        return _Published(read_edition(connection, name), False, events_since(connection, name))


def _freeze(asked: argparse.Namespace, name: str) -> _Published:
    now = datetime.now(UTC).replace(tzinfo=None)
    with database.writing(asked.book, asked.wait) as connection:
        freeze(connection, name, asked.by or login(), asked.why, now)
        return _Published(read_edition(connection, name), True, 0)


def _report(published: _Published, written: list[Written]) -> Iterator[str]:
    edition = published.edition
    yield _what_was_done(published)
    whole = edition.lines.filter(edition.lines["span"] == ALL_TIME).height
    yield (
        f"{counted(edition.entries, 'accepted entry', 'accepted entries')}; "
        f"{counted(whole, 'line')} in the lists of all time, "
        f"{counted(edition.lines.height - whole, 'line')} in those of season {shown(edition.season)}"
    )
    for file in written:
        yield f"    {shown(str(file.path))}: {file.size:,} bytes"
    yield from _changes(edition)
    yield chain_sentence(edition)
    yield NOTICE


def _what_was_done(published: _Published) -> str:
    edition = published.edition
    if published.is_new:
        return f"edition '{edition.name}' frozen and written"
    since = counted(published.since, "event")
    return (
        f"edition '{edition.name}' of {edition.published_on:%Y-%m-%d} written again as it was frozen; "
        f"the log holds {since} since then"
    )


def _changes(edition: Edition) -> Iterator[str]:
    if edition.before is None:
        yield "the first edition: no changes, no errata"
        return
    yield f"since edition '{edition.before}': {count_words(edition)}; {counted(edition.errata.height, 'erratum', 'errata')}"
    sentences = erratum_sentences(edition)
    for sentence in sentences[:MOST_ERRATA]:
        yield f"    {sentence}"
    if len(sentences) > MOST_ERRATA:
        yield f"    ... and {len(sentences) - MOST_ERRATA} more in errata.csv"
