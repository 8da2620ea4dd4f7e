"""A white-tail with every row. Source: forum post huntingnet.com 1752277-8 (read as a stored excerpt; sums redone)."""

from tests.outside.worked_sheets import figures, sides
from tests.plain_scoring import inches
from tests.sheet_builder import audit_each, clean_sheet

LINES = ("beam", "g1", "g2", "g3", "g4", "h1", "h2", "h3", "h4")
RIGHT = "21 7/8, 3 4/8, 7 4/8, 6 5/8, 3 4/8, 4 5/8, 4 5/8, 4 5/8, 3 6/8"
LEFT = "21 6/8, 4, 8 5/8, 7 1/8, 3 4/8, 4 7/8, 4 6/8, 4 6/8, 4 1/8"
SPREADS = {"inside_spread": "17 4/8", "tip_to_tip": "", "greatest_spread": ""}
STATED = {
    "right_total": "60 5/8",
    "left_total": "63 4/8",
    "diff_total": "3 1/8",
    "gross": "141 5/8",
    "net": "135 1/8",
}
HEAD = sides(LINES, RIGHT, LEFT) | {"inside_spread": inches("17 4/8"), "abnormal_total": inches("3 3/8")}


def test_typical_as_stated() -> None:
    found = figures("whitetail-typical", HEAD)
    assert {name: found[name] for name in STATED} == STATED
    assert (found["spread_credit"], found["deductions"]) == ("17 4/8", "6 4/8")


def test_nontypical_as_stated() -> None:
    assert figures("whitetail-nontypical", HEAD)["net"] == "141 7/8"


def test_the_whole_audit_finds_nothing_to_say() -> None:
    texts = {
        f"{n}_{s}": t.strip()
        for s, row in (("r", RIGHT), ("l", LEFT))
        for n, t in zip(LINES, row.split(","), strict=True)
    }
    left_out = {
        name: ""
        for name in clean_sheet()
        if name.endswith(("_diff", "_credit")) or name in ("deductions", "abnormal_r")
    }
    counts = {"points_r": "", "points_l": "", "abnormal_total": "3 3/8"}
    row = clean_sheet() | left_out | counts | SPREADS | texts | STATED
    audited = audit_each({"typical": row})["typical"]
    assert (audited.findings, audited.figures["net"]) == ([], 135 * 8 + 1)
