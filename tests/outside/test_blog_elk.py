"""Two elk with every row. Source: blog jayscottoutdoors, 11 July 2012 and 29 June 2012 (stored excerpts; sums redone).

The second has wrong published sums that cannot be decided: this program must say so, and must not name one figure.
Its circumferences are published as one sum a side, 26 3/8 and 26 6/8; the four lengths that make it up are ours.
"""

from pathlib import Path

import pytest

from tests.outside.worked_sheets import figures, sides
from tests.plain_scoring import inches
from tests.sheet_builder import ENTRY, as_csv, audit_bytes, brief, clean_sheet, findings_of
from warehouse.eighths import text_of

LINES = ("beam", "g1", "g2", "g3", "g4", "g5", "h1", "h2", "h3", "h4")
JULY_RIGHT = "59, 21, 19, 17 6/8, 23 6/8, 14, 8 5/8, 7 4/8, 7 1/8, 6"
JULY_LEFT = "58 2/8, 20, 19 4/8, 16, 22 2/8, 13 6/8, 8 4/8, 7 6/8, 7 4/8, 6 1/8"
JULY_STATED = {
    "left_total": "179 5/8",
    "right_total": "183 6/8",
    "gross": "400 3/8",
    "deductions": "6 5/8",
    "net": "393 6/8",
}
JUNE_RIGHT = "54, 16 4/8, 17 7/8, 17 5/8, 25, 19 4/8, 7, 6 5/8, 6 4/8, 6 2/8"
JUNE_LEFT = "56 2/8, 16 4/8, 18, 15 7/8, 23 4/8, 16 2/8, 7 1/8, 6 6/8, 6 4/8, 6 3/8"
JUNE_STATED = {"right_total": "176 3/8", "left_total": "172 7/8", "gross": "385 2/8"}
ROWS_GIVE = {"right_total": "176 7/8", "left_total": "173 1/8", "gross": "386 0/8"}


def _row(spread: str, right: str, left: str, stated: dict[str, str]) -> dict[str, str]:
    texts = {f"{line}_{side}": text.strip() for side, row in (("r", right), ("l", left))
             for line, text in zip(LINES, row.split(","), strict=True)}  # fmt: skip
    entry = ENTRY | {"category": "Elk, typical", "points_r": "", "points_l": ""}
    return dict.fromkeys(clean_sheet(), "") | entry | texts | {"inside_spread": spread} | stated


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(tmp_path_factory.mktemp("elk"))


def test_july_is_right_throughout(folder: Path) -> None:
    found = figures("elk-typical", sides(LINES, JULY_RIGHT, JULY_LEFT) | {"inside_spread": inches("37")})
    assert {name: found[name] for name in JULY_STATED} == JULY_STATED
    checked = audit_bytes(folder, as_csv([_row("37", JULY_RIGHT, JULY_LEFT, JULY_STATED)]))
    assert (brief(findings_of(checked)), checked.tables[0].explanations.height) == ([], 0)
    assert checked.tables[0].certain.to_list() == [True]


def test_june_gets_a_finding_on_every_stated_sum(folder: Path) -> None:
    checked = audit_bytes(folder, as_csv([_row("36", JUNE_RIGHT, JUNE_LEFT, JUNE_STATED)]))
    found = {one.code: (one.stated, one.expected) for one in findings_of(checked)}
    assert found == {name: (JUNE_STATED[name], ROWS_GIVE[name]) for name in ROWS_GIVE}


def test_june_gross_follows_from_its_stated_totals() -> None:
    total = inches("36") + inches(JUNE_STATED["right_total"]) + inches(JUNE_STATED["left_total"])
    assert total == inches(JUNE_STATED["gross"])


def test_june_has_two_faults_and_is_undecided(folder: Path) -> None:
    """385 2/8 if a row of each side is misprinted, 386 0/8 if both sums are wrong; no single slip, no certain score."""
    checked = audit_bytes(folder, as_csv([_row("36", JUNE_RIGHT, JUNE_LEFT, JUNE_STATED)]))
    told = checked.tables[0].explanations.to_dicts()
    assert {len(one["cells"]) for one in told} == {2}
    both_sums = [one for one in told if set(one["cells"]) == {"right_total", "left_total"}]
    assert [(one["kind"], [text_of(units) for units in one["follows_proposed"]]) for one in both_sums] == [
        ("carried and carried", ["386 0/8"])
    ]
    misprints = [one for one in told if one["kind"] == "copied and copied"]
    assert misprints and all(one["follows"] == [] for one in misprints)  # the gross of 385 2/8 stays
    assert len({one["net"] for one in told}) > 1
    assert checked.tables[0].certain.to_list() == [False]
