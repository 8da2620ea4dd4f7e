"""An edition as CSV (RFC 4180, UTF-8): one file of every list, one of the changes, one of the errata.

One file holds every record book, category and span, told apart by its first columns, for the names of record books
are other people's text and no names for files.
"""

import polars as pl

from dashboards.publications.printed_text import lines_as_text, plain
from dashboards.tables import csv_for_spreadsheets
from warehouse.book.editions import Edition


def rankings(edition: Edition) -> bytes:
    """Every line of every list: book, category, span ('all-time', or a season) and the fields that may be published."""
    return _csv(lines_as_text(edition.lines))


def changes(edition: Edition) -> bytes:
    """Every difference from the edition before: book, category, kind, entry_no, hunter, place_was, place_is, what."""
    return _csv(plain(edition.changes))


def errata(edition: Edition) -> bytes:
    """What is wrong in the edition before: book, category, kind, entry_no, hunter, place_was, erratum (a sentence)."""
    return _csv(plain(edition.errata).drop("place_is").rename({"what": "erratum"}))


def _csv(frame: pl.DataFrame) -> bytes:
    # no text holds a line end of its own any more: each one that is left ends a record
    return csv_for_spreadsheets(frame).replace("\n", "\r\n").encode()
