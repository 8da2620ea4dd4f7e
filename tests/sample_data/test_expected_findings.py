"""What the audit reports for the sample files against expected_findings.csv, an independent statement of it."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import NamedTuple

import polars as pl
import pytest

from loaders.audit_table import AuditedTable
from loaders.check import Settings, check_files
from loaders.names import Names, make_names
from sample_data import make_sample_data

HOME = Path(make_sample_data.__file__).parent
TODAY = date(2026, 11, 25)
FILES = sorted((HOME / "sheets").iterdir()) + sorted(p for p in (HOME / "messy").iterdir() if p.suffix != ".md")


class Found(NamedTuple):
    """A finding as a person would point at it; the order of the cells says nothing."""

    file: str
    sheet: str
    row: str
    entry_no: str
    code: str
    cells: frozenset[str]
    severity: str

    def __str__(self) -> str:
        place = " ".join(
            part for part in (self.file, self.sheet, self.row and f"row {self.row}", self.entry_no) if part
        )
        return f"{place}: {self.code} ({self.severity}) [{' '.join(sorted(self.cells))}]"


Findings = Counter[Found]


def _names() -> Names:
    areas, aliases, measurers = (
        pl.read_csv(HOME / "reference" / f"{name}.csv", infer_schema=False)
        for name in ("areas", "area_aliases", "measurers")
    )
    return make_names(
        areas.select("area_code", "name", "state", "district").rows(),
        aliases.select("alias", "area_code").rows(),
        measurers.select("measurer_no", "name").rows(),
    )


def _of_table(audited: AuditedTable) -> Iterator[Found]:
    table = audited.table
    places = pl.DataFrame(
        {
            "id": pl.int_range(len(table.rows), dtype=pl.UInt32, eager=True),
            "row": table.rows.cast(pl.String),
            "entry_no": audited.entries["entry_no"],
        }
    )
    listed = audited.findings.select("id", "code", "cells", "severity").join(
        places, on="id", how="left", maintain_order="left"
    )
    for found in listed.iter_rows(named=True):
        yield Found(
            Path(table.file).name,
            table.sheet or "",
            found["row"] or "",
            found["entry_no"] or "",
            found["code"],
            frozenset(found["cells"]),
            found["severity"],
        )


@pytest.fixture(scope="module")
def reported() -> Findings:
    checked = check_files(FILES, Settings(TODAY, _names()))
    found = Counter(finding for audited in checked.tables for finding in _of_table(audited))
    # the same bytes again are not audited but told of as a whole
    found.update(
        Found(Path(r.file).name, r.sheet or "", "", "", "file-twice", frozenset(), "note") for r in checked.repeats
    )
    return found


@pytest.fixture(scope="module")
def expected() -> Findings:
    with (HOME / "expected_findings.csv").open(encoding="utf-8", newline="") as file:
        return Counter(
            Found(**(row | {"cells": frozenset(filter(None, row["cells"].split(";")))})) for row in csv.DictReader(file)
        )


def difference(reported: Findings, expected: Findings) -> list[str]:
    """What stands on one side only, one line a finding, sorted by place."""
    extra = [(str(f), f"reported, not expected: {f}") for f in (reported - expected).elements()]
    missing = [(str(f), f"expected, not reported: {f}") for f in (expected - reported).elements()]
    return [line for _, line in sorted(extra + missing)]


@pytest.mark.parametrize("name", [path.name for path in FILES])
def test_the_audit_reports_what_is_expected_and_nothing_else(name: str, reported: Findings, expected: Findings) -> None:
    mine, theirs = (Counter({f: n for f, n in side.items() if f.file == name}) for side in (reported, expected))
    assert difference(mine, theirs) == []


def test_no_finding_is_about_another_file(reported: Findings, expected: Findings) -> None:
    names = {path.name for path in FILES}
    assert {found.file for found in reported} - names == set()
    assert {found.file for found in expected} - names == set()
    assert sum(expected.values()) > 500


def test_a_difference_is_told_by_its_place() -> None:
    gross = Found("a.csv", "", "5", "17", "gross", frozenset({"gross"}), "error")
    twice = Found("b.xlsx", "One", "", "", "column-twice", frozenset({"net", "gross"}), "error")
    assert difference(Counter([gross, gross]), Counter([gross, twice])) == [
        "reported, not expected: a.csv row 5 17: gross (error) [gross]",
        "expected, not reported: b.xlsx One: column-twice (error) [gross net]",
    ]
    assert difference(Counter([gross]), Counter([gross])) == []
