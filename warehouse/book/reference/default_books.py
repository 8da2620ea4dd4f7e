"""Record books that only have minimums: each has the rules that every book shared before books had rules of their own."""

from collections.abc import Sequence

from warehouse.book.reference.book_rows import RecordBookRow
from warehouse.book.reference.tables import Row, Rows


def default_books(minimums: Sequence[Row]) -> list[Row]:
    """A row of default rules for each book with minimums, in force from its first minimum on (as migration 0003 does)."""
    first: dict[str, Row] = {}
    for row in minimums:
        known = first.setdefault(row.values["book"], row)
        if row.values["first_season"] < known.values["first_season"]:
            first[row.values["book"]] = row
    return [
        Row(RecordBookRow(book=book, first_season=row.values["first_season"]).stored(), row.place)
        for book, row in sorted(first.items())
    ]


def with_default_books(given: Rows, stays: Rows) -> Rows:
    """What is given; with default rules where minimums are, and the book has had no other rules so far."""
    if "minimum" not in given or "record_book" in given:
        return given
    of_book = {row.key("book", "first_season"): row for row in stays["record_book"]}
    by_default = {row.key("book", "first_season"): row for row in default_books(stays["minimum"])}
    return {**given, "record_book": default_books(given["minimum"])} if of_book == by_default else given
