"""Rows that are in force from season to season: those of one key must follow each other without overlap or gap."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from warehouse.book.reference.season_labels import label_of, span, year_of
from warehouse.book.reference.tables import TABLES, Row


@dataclass(frozen=True)
class Period:
    """A row's first and last year (None: still in force)."""

    row: Row
    first: int
    last: int | None

    @property
    def words(self) -> str:
        """ "2006-07 to 2011-12", or "2012-13 on"."""
        return f"{label_of(self.first)} on" if self.last is None else span(self.first, self.last)


def period_of(row: Row) -> Period:
    """The seasons that a row is in force."""
    last = row.values["last_season"]
    return Period(row, year_of(row.values["first_season"]), None if last is None else year_of(last))


def by_key(rows: Iterable[Row], columns: Sequence[str]) -> dict[tuple[Any, ...], list[Period]]:
    """Key -> its periods in order."""
    ordered = sorted(map(period_of, rows), key=lambda one: (one.row.key(*columns), one.first))
    return {key: list(of) for key, of in groupby(ordered, key=lambda one: one.row.key(*columns))}


def period_problems(table: str, rows: Iterable[Row]) -> list[str]:
    """Overlaps and gaps between the periods of one key, each naming both rows."""
    columns = [column for column in TABLES[table].key if column != "first_season"]
    return [problem for key, periods in by_key(rows, columns).items() for problem in _of_one(key, periods)]


def _of_one(key: tuple[Any, ...], periods: Sequence[Period]) -> list[str]:
    problems = []
    longest = periods[0]
    for period in periods[1:]:
        where = f"{period.row.place}, first_season: {', '.join(key)}:"
        if longest.last is None or longest.last >= period.first:
            problems.append(
                f"{where} {period.words} overlaps {longest.words} of {longest.row.place}; "
                "let the one end the season before the other begins"
            )
        elif longest.last + 1 < period.first:
            problems.append(
                f"{where} nothing is in force in {span(longest.last + 1, period.first - 1)}, between "
                f"{longest.row.place} ({longest.words}) and this row ({period.words}); let them follow each other"
            )
        if longest.last is not None and (period.last is None or period.last > longest.last):
            longest = period
    return problems
