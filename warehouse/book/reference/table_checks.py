"""Whole reference tables, by themselves and against each other. Every problem names the rows that disagree."""

from collections.abc import Callable, Collection, Iterable, Iterator
from itertools import pairwise

from warehouse.book.reference.area_checks import CODES, areas_of_books, ends_of_codes, unknown_areas
from warehouse.book.reference.panel_checks import measurers_of_panels, sessions_of_panels
from warehouse.book.reference.periods import Period, by_key, period_of, period_problems
from warehouse.book.reference.tables import Rows

MOST_KINDS = 64  # of certificates: a bit for each
Check = Callable[[Rows], Iterable[str]]


def overlapping_seasons(tables: Rows) -> Iterator[str]:
    """Seasons that share a day."""
    ordered = sorted(tables["season"], key=lambda row: row.values["starts_on"])
    for before, row in pairwise(ordered):
        if row.values["starts_on"] <= before.values["ends_on"]:
            yield (
                f"{row.place}, starts_on: {row.values['season']} begins on {row.values['starts_on']}, before "
                f"{before.values['season']} in {before.place} has ended on {before.values['ends_on']}; a day belongs to one season"
            )


def kinds_of_certificates(tables: Rows) -> Iterator[str]:
    """More kinds of certificates than the view `standing` has bits for."""
    kinds: set[str] = set()
    for row in tables["measurer"]:
        kinds.add(row.values["certificate"])
        if len(kinds) > MOST_KINDS:
            yield f"{row.place}, certificate: {row.values['certificate']!r} is one kind too many; expected at most {MOST_KINDS}"
            return


def minimums_of_books(tables: Rows) -> Iterator[str]:
    """Minimums of a book that is not there, or beyond the seasons in which its rules are in force."""
    books = by_key(tables["record_book"], ["book"])
    for row in tables["minimum"]:
        periods = books.get(row.key("book"))
        if periods is None:
            known = ", ".join(book for (book,) in books) or "no book"
            yield f"{row.place}, book: found {row.values['book']!r}; expected a book with rules (books.csv): {known}"
        else:
            yield from _outside(period_of(row), periods[0], max(periods, key=_end))


def _end(period: Period) -> int:
    return 9999 if period.last is None else period.last


def _outside(minimum: Period, first: Period, last: Period) -> Iterator[str]:
    where = f"{minimum.row.place}, {{}}: the minimum is in force in {minimum.words}, but the book's rules"
    if minimum.first < first.first:
        yield f"{where.format('first_season')} only begin with {first.words} ({first.row.place})"
    if _end(minimum) > _end(last):
        yield f"{where.format('last_season')} end with {last.words} ({last.row.place})"


def _periods(table: str) -> Check:
    return lambda tables: period_problems(table, tables[table])


def _codes(table: str) -> Check:
    return lambda tables: unknown_areas(tables, table)


CHECKS: list[tuple[set[str], Check]] = [
    *(({table}, _periods(table)) for table in ("area_district", "record_book", "minimum")),
    ({"season"}, overlapping_seasons),
    ({"measurer"}, kinds_of_certificates),
    *(({"area", table}, _codes(table)) for table in CODES),
    ({"area_change"}, ends_of_codes),
    ({"area", "area_district", "record_book"}, areas_of_books),
    ({"record_book", "minimum"}, minimums_of_books),
    ({"measurer", "panel_measure"}, measurers_of_panels),
    ({"panel_measure"}, sessions_of_panels),
]
"""The tables that a check looks at, and the check."""


def table_problems(tables: Rows, fresh: Collection[str]) -> list[str]:
    """What is wrong with tables (all of them) of which some are `fresh`; what only concerns the others was said before."""
    return [problem for of, check in CHECKS if of & set(fresh) for problem in check(tables)]
