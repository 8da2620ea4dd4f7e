"""Sheets with anything in any cell: the whole audit ends, every row is there, and nothing unknown gets a figure."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from loaders.check import Checked, scored, statuses
from loaders.fields import all_fields
from tests.sheet_builder import as_csv, audit_bytes, clean_sheet, findings_of
from warehouse.audit.codes import CODES, is_figure

USUAL = [
    "",
    "-",
    "8.5",
    "32/8",
    "2026-03-08",
    "8-Mar",
    "-8",
    "-8.5",
    "17.4 [# ?/8]",
    "0",
    "9999",
    "45969",
    "1001",
    "nt",
]
texts = st.one_of(
    st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=10),
    st.text("0123456789 /-.,;½⅝–[]#?٣", max_size=8),
    st.sampled_from(USUAL),
)
changes = st.dictionaries(st.sampled_from(all_fields()), texts, max_size=6)


def _audit(sheets: list[dict[str, str]]) -> Checked:
    with TemporaryDirectory() as folder:
        return audit_bytes(
            Path(folder), as_csv([clean_sheet(hunter="First"), *(clean_sheet() | one for one in sheets)])
        )


@settings(max_examples=10)
@given(sheets=st.lists(changes, min_size=20, max_size=60))
def test_every_row_is_kept_and_told_of_in_known_codes(sheets: list[dict[str, str]]) -> None:
    checked = _audit(sheets)
    (audited,) = checked.tables
    assert audited.table.cells.height == audited.entries.height == len(sheets) + 1
    found = findings_of(checked)
    assert {one.code for one in found if not is_figure(one.code)} <= set(CODES)
    assert all(one.message and one.severity in ("error", "question", "note") for one in found)
    assert {one.row for one in found} <= {None, *range(2, len(sheets) + 3)}


@settings(max_examples=10)
@given(sheets=st.lists(changes, min_size=20, max_size=60))
def test_a_row_without_a_score_says_why(sheets: list[dict[str, str]]) -> None:
    checked = _audit(sheets)
    (audited,) = checked.tables
    reasons = {
        "unreadable",
        "two-readings",
        "date-cell",
        "hidden-fraction",
        "missing-measure",
        "circumference-missing",
        "category-unknown",
    }
    told = {one.row for one in findings_of(checked) if one.code in reasons}
    unscored = {row + 2 for row in scored(audited).not_().arg_true()}
    assert unscored <= told
    assert len(statuses(audited)) == len(sheets) + 1
    assert set(statuses(audited)) <= {"clean", "questions", "errors", "unreadable"}
