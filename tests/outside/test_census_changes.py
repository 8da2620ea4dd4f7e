"""County codes that changed. Source: US Census Bureau, notes on substantial changes to counties; codes of INCITS 31.

The days of 46113 and 51515 are those notes'; the day on which 02270 became 02158 (1 July 2015), that of Connecticut's
planning regions (1 June 2022) and which of them lie in old Hartford County are from memory.
"""

from datetime import date

import pytest

from loaders.names import make_names
from tests.sheet_builder import as_csv, audit_bytes, clean_sheet
from warehouse.book.reference.row_checks import check_rows
from warehouse.book.reference.table_checks import table_problems
from warehouse.book.reference.tables import TABLES, Row

AREAS = [
    ("46113", "Shannon", "SD"), ("46102", "Oglala Lakota", "SD"), ("51515", "Bedford city", "VA"), ("51019", "Bedford", "VA"),
    ("02270", "Wade Hampton", "AK"), ("02158", "Kusilvak", "AK"), ("09003", "Hartford", "CT"), ("09110", "Capitol", "CT"),
    ("09140", "Naugatuck Valley", "CT"), ("09160", "Northwest Hills", "CT"),
]  # fmt: skip
CHANGES = [
    ("46113", "46102", date(2015, 5, 1), "renamed"), ("51515", "51019", date(2013, 7, 1), "merged"),
    ("02270", "02158", date(2015, 7, 1), "renamed"), ("09003", "09110", date(2022, 6, 1), "split"),
    ("09003", "09140", date(2022, 6, 1), "split"), ("09003", "09160", date(2022, 6, 1), "split"),
]  # fmt: skip
NAMES = make_names(areas=[(*area, "") for area in AREAS], changes=CHANGES)
CASES = {
    ("46113", "2015-04-30"): "46113", ("46113", "2015-05-01"): "46102", ("Shannon County", "2015-11-20"): "46102",
    ("46102", "2015-11-20"): "46102", ("51515", "2013-06-30"): "51515", ("51515", "2013-07-01"): "51019",
    ("Bedford city", "2013-11-09"): "51019", ("Bedford", "2012-11-09"): "51019", ("02270", "2014-11-09"): "02270",
    ("2270", "2015-11-09"): "02158", ("Wade Hampton Census Area", "2016-11-09"): "02158", ("09003", "2021-11-20"): "09003",
    ("09003", "2022-11-20"): None, ("Hartford County", "2022-11-20"): None, ("Capitol Planning Region", "2022-11-20"): "09110",
}  # fmt: skip
HINT = "Capitol or Naugatuck Valley or Northwest Hills"


@pytest.fixture(scope="module")
def resolved(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], tuple[str | None, str]]:
    rows = [clean_sheet(area=area, state="", taken_on=day, season="", district="") for area, day in CASES]
    checked = audit_bytes(tmp_path_factory.mktemp("census"), as_csv(rows), names=NAMES)
    (audited,) = checked.tables
    return dict(zip(CASES, audited.entries.select("area_code", "area.hint").rows(), strict=True))


@pytest.mark.parametrize("case", CASES)
def test_the_code_on_the_date_taken(
    case: tuple[str, str], resolved: dict[tuple[str, str], tuple[str | None, str]]
) -> None:
    assert resolved[case] == (CASES[case], "" if CASES[case] else HINT)


def test_the_changes_are_a_table_that_the_book_takes() -> None:
    areas = check_rows(
        "area", "areas.csv", enumerate([dict(zip(("area_code", "name", "state"), row, strict=True)) for row in AREAS])
    )
    fields = ("old_code", "new_code", "changed_on", "kind")
    changes = check_rows(
        "area_change", "area_changes.csv", enumerate([dict(zip(fields, row, strict=True)) for row in CHANGES])
    )
    tables: dict[str, list[Row]] = {table: [] for table in TABLES} | {"area": areas, "area_change": changes}
    assert table_problems(tables, {"area", "area_change"}) == []
