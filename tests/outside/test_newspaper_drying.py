"""Drying days: 8 October to 10 December is 63 days. Source: a newspaper that printed 62 (stored excerpt).

Counting rule: measured on or after the date taken plus 60 days (common practice, no source).
"""

from datetime import date, timedelta

from tests.sheet_builder import audit_each, clean_sheet

TAKEN = date(2023, 10, 8)


def _findings(*days: int) -> list[list[str]]:
    rows = {
        n: clean_sheet(taken_on=TAKEN.isoformat(), season="2023-24", measured_on=(TAKEN + timedelta(n)).isoformat())
        for n in days
    }
    return [[one.message for one in audited.findings] for audited in audit_each(rows).values()]


def test_the_tenth_of_december_is_day_63() -> None:
    assert (date(2023, 12, 10) - TAKEN).days == 63
    assert _findings(63) == [[]]


def test_day_59_is_short_and_day_60_is_not() -> None:
    short = "Dried 59 days, from 2023-10-08 to 2023-12-06; official measuring waits 60 days."
    assert _findings(59, 60, 61) == [[short], [], []]
