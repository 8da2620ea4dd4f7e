"""The command `standing`: where each entry qualifies, and every reason where it does not."""

import argparse
import json
from collections.abc import Iterator, Sequence
from typing import Any

import polars as pl

from dashboards.arguments import NOTICE
from dashboards.asked import one_of
from dashboards.printing import print_lines
from dashboards.which_entry import entry_id
from warehouse.book import database, standing
from warehouse.errors import EntryNotFound
from warehouse.plain_text import shown

LINE_FIELDS = ("entry_no", "book", "qualifies", "reasons", "margin", "would_qualify", "entry_id", "status", "category",
               "season", "score", "score_text", "minimum")  # fmt: skip
MOST_ENTRIES = 40


def run(asked: argparse.Namespace) -> int:
    """Print the standing of one entry or of all."""
    one = entry_id(asked.book, asked.entry, asked.wait) if asked.entry else None
    with database.reading(asked.book, asked.wait) as connection:
        books = standing.books(connection)
        one_of("--in", asked.record_book, books)
        found = standing.standing(connection, asked.record_book, one)
    if one is not None and books and not found.height:
        raise EntryNotFound(f"entry {shown(asked.entry)}: the book has no such entry")
    print_lines(_json_lines(found) if asked.json else _report(found, books))
    return 0


def _json_lines(found: pl.DataFrame) -> Iterator[str]:
    """One object an entry and record book; `margin` is text, negative under the minimum, null where there is none."""
    lines = found.select(
        "entry_no", "book", "qualifies", "reasons", pl.col("margin_text").alias("margin"),
        "would_qualify", "entry_id", "status", "category", "season", "score",
        pl.col("score_units_text").alias("score_text"), pl.col("minimum_units_text").alias("minimum"),
    ).select(LINE_FIELDS)  # fmt: skip
    return (json.dumps(line, ensure_ascii=False) for line in lines.iter_rows(named=True))


def _report(found: pl.DataFrame, books: Sequence[str]) -> Iterator[str]:
    if not books:
        yield "the book has no record books; put some in place with: beamledger reference books.csv minimums.csv --book BOOK"
        return
    shown_entries = found["entry_id"].unique(maintain_order=True).head(MOST_ENTRIES)
    for _, rows in found.filter(pl.col("entry_id").is_in(shown_entries.implode())).group_by(
        "entry_id", maintain_order=True
    ):
        yield from entry_report(rows)
    if found["entry_id"].n_unique() > MOST_ENTRIES:
        yield from _counts(found)
    yield NOTICE


def entry_report(rows: pl.DataFrame) -> Iterator[str]:
    """One entry's lines: a head line, one line for each record book, and where it would qualify if it were accepted."""
    first = rows.row(0, named=True)
    facts = ", ".join(shown(str(first[fact] or "not known")) for fact in ("category", "season", "status"))
    yield f"entry {shown(first['entry_no'] or '=' + str(first['entry_id']))} ({facts})"
    for row in rows.iter_rows(named=True):
        yield f"    {shown(row['book'])}: {in_words(row)}"
    would = [shown(book) for book in rows.filter("would_qualify")["book"]]
    if would:
        yield f"    would qualify in {', '.join(would)} once it is accepted"


def in_words(row: dict[str, Any]) -> str:
    """What one record book says of one entry."""
    if row["qualifies"]:
        over = "exactly at" if row["margin"] == 0 else f"{row['margin_text']} over"
        return f"qualifies: {row['score']} {row['score_units_text']}, {over} the minimum of {row['minimum_units_text']}"
    return f"does not qualify: {'; '.join(shown(reason, 300) for reason in row['reasons'])}"


def _counts(found: pl.DataFrame) -> Iterator[str]:
    yield f"... and {found['entry_id'].n_unique() - MOST_ENTRIES:,} more entries; --json lists them all, --entry NO shows one"
    counts = found.group_by("book", maintain_order=True).agg(
        pl.len().alias("entries"),
        pl.col("qualifies").sum(),
        pl.col("would_qualify").sum().alias("would"),
    )
    for book, entries, qualify, would in counts.rows():
        yield f"{shown(book)}: {qualify:,} of {entries:,} entries qualify; {would:,} would once they are accepted"
