"""The US Census Bureau's lists of counties as areas: comma without or with headings, or pipe (2020) with headings.

Open data; the columns are from memory: `STATE,STATEFP,COUNTYFP,COUNTYNAME,CLASSFP` (2010) and
`STATE|STATEFP|COUNTYFP|COUNTYNS|COUNTYNAME|CLASSFP|FUNCSTAT` (2020). District and region are the book's own: blank.
"""

import csv
import re
from pathlib import Path

from warehouse.book import reference
from warehouse.plain_text import shown

COLUMNS = {
    ",": ("STATE", "STATEFP", "COUNTYFP", "COUNTYNAME", "CLASSFP"),
    "|": ("STATE", "STATEFP", "COUNTYFP", "COUNTYNS", "COUNTYNAME", "CLASSFP", "FUNCSTAT"),
}
_FIRST_LINE = {
    ",": r"[A-Z]{2},\d{2},\d{3},[^,]+,[A-Z]\d",
    "|": r"[A-Z]{2}\|\d{2}\|\d{3}\|\d+\|[^|]+\|[A-Z]\d\|[A-Z]",
}
# the longest first; behind a city the name stays whole, for a county beside it may have the same ("St. Louis city")
_TAKEN_OFF = (
    "City and Borough",
    "Planning Region",
    "Census Area",
    "Municipality",
    "Municipio",
    "Borough",
    "Parish",
    "County",
)
_KEPT = ("city", "island", "district")
NO_KIND = "county equivalent"


def _text(path: Path) -> str | None:
    """The file's text, UTF-8 or else cp1252; None where it is neither or cannot be read."""
    try:
        data = path.read_bytes()
    except OSError:
        return None
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return None


def separator_of(path: Path) -> str | None:
    """What separates the columns of a Census list; None for a file that is none."""
    first = (_text(path) or "").lstrip("\r\n").split("\n", 1)[0].strip()
    for separator, columns in COLUMNS.items():
        if first == separator.join(columns) or re.fullmatch(_FIRST_LINE[separator], first):
            return separator
    return None


def read_census(path: Path, separator: str) -> list[reference.Row]:
    """The checked areas of a Census list. Raises ReferenceRefused naming the row."""
    columns = COLUMNS[separator]
    lines = csv.reader((_text(path) or "").splitlines(), delimiter=separator, quoting=csv.QUOTE_NONE)
    rows = [(number, line) for number, line in enumerate(lines, start=1) if any(line) and tuple(line) != columns]
    reference.refuse(
        [f"{shown(str(path))}, row {number}: found {len(line)} columns; expected {len(columns)}: {separator.join(columns)}"
         for number, line in rows if len(line) != len(columns)]
    )  # fmt: skip
    named = [(number, _area(dict(zip(columns, line, strict=True)))) for number, line in rows]
    return reference.check_rows("area", str(path), named)


def _area(line: dict[str, str]) -> dict[str, str]:
    name, kind = name_and_kind(line["COUNTYNAME"].strip())
    return {"area_code": line["STATEFP"] + line["COUNTYFP"], "name": name, "kind": kind, "state": line["STATE"]}


def name_and_kind(written: str) -> tuple[str, str]:
    """ "Orleans Parish" -> ("Orleans", "parish"); the name of a city stays whole: ("St. Louis city", "city")."""
    for kind in _TAKEN_OFF:
        if written.endswith(f" {kind}"):
            return written.removesuffix(f" {kind}"), kind.lower()
    last = written.rsplit(" ", 1)[-1].lower()
    return written, last if last in _KEPT else NO_KIND
