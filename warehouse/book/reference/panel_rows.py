"""Rows about panels: heads that several measurers measured in one session, so that they can be held against each other."""

from functools import cache
from typing import Annotated, Any

from pydantic import AfterValidator

from warehouse.book.reference.cells import EXPECTED, Day, TableRow, Text
from warehouse.categories import all_categories
from warehouse.eighths import EIGHTHS, units_of

SCORES = ("net", "gross")


@cache
def panel_lines() -> frozenset[str]:
    """What a panel may measure: a score, or a measure of a sheet that is taken in eighths."""
    in_eighths = (category for category in all_categories().values() if category.unit == EIGHTHS)
    return frozenset((*SCORES, *(measure for category in in_eighths for measure in category.measures)))


def _line(line: str) -> str:
    if line not in panel_lines():
        raise ValueError(f"found {line!r}; expected {EXPECTED['line']}")
    return line


def _units(length: str) -> int:
    """The length in whole eighths; a number alone is whole inches."""
    try:
        return units_of(f"{length} 0/{EIGHTHS}" if length.isdigit() else length)
    except ValueError as odd:
        raise ValueError(f"found {length!r}; expected {EXPECTED['length']}") from odd


def _length(length: str) -> str:
    _units(length)
    return length


class PanelRow(TableRow):
    """One line ("net", "gross" or a measure of a sheet) of one head, measured by one measurer in one session."""

    session: Text
    measured_on: Day
    head: Text
    measurer: Text
    line: Annotated[str, AfterValidator(_line)]
    length: Annotated[str, AfterValidator(_length)]

    def stored(self) -> dict[str, Any]:
        """Column -> value; the length is kept in units, the measurer under the name that every table has for the number."""
        values = self.model_dump(exclude={"measurer", "length"})
        return values | {"measurer_no": self.measurer, "length_units": _units(self.length), "unit": EIGHTHS}
