"""One slip in every cell of a published sheet, by every amount: the diagnosis and a plain search find the same.

Source of the sheet: forum post huntingnet.com 1752277-8 (see tests/outside/test_forum_whitetail.py). Its two
abnormal points are published as one sum of 3 3/8, and the figures it leaves out are worked out here.
"""

from collections.abc import Mapping
from pathlib import Path

import pytest

from loaders.audit_table import AuditedTable
from tests.outside.test_forum_whitetail import LEFT, LINES, RIGHT
from tests.plain_diagnosis import NEXT, ROWS, Explanation, Sheet, agrees, single_slips
from tests.plain_scoring import inches
from tests.sheet_builder import ENTRY, as_csv, audit_bytes
from warehouse.eighths import text_of

OFFSETS = [offset for offset in range(-16, 17) if offset]
COUNTS = {"points_r": "", "points_l": ""}


def published() -> Sheet:
    """Every cell of the sheet in eighths, all of its figures stated."""
    sheet = {f"{row}_{side}": 0 for row in ROWS for side in "rl"}
    for side, texts in (("r", RIGHT), ("l", LEFT)):
        for line, text in zip(LINES, texts.split(","), strict=True):
            sheet[f"{line}_{side}"] = int(inches(text.strip()) * 8)
    sheet |= {"inside_spread": 140, "abnormal_r": 27, "abnormal_l": 0}
    figures = {f"{row}_diff": abs(sheet[f"{row}_r"] - sheet[f"{row}_l"]) for row in ROWS}
    sides = {f"{name}_total": sum(sheet[f"{row}_{name[0]}"] for row in ROWS) for name in ("right", "left")}
    totals = {
        "spread_credit": 140,
        "abnormal_total": 27,
        "diff_total": 25,
        "deductions": 52,
        "gross": 1133,
        "net": 1081,
    }
    assert sides == {"right_total": 485, "left_total": 508}
    return sheet | figures | sides | totals


def with_slip(sheet: Sheet, cell: str, offset: int, is_carried: bool) -> Sheet:
    """The sheet with one cell off, and where it is carried, all that follows."""
    follows = NEXT[cell] if is_carried else {}
    return (
        sheet
        | {cell: sheet[cell] + offset}
        | {figure: sheet[figure] + sign * offset for figure, sign in follows.items()}
    )


def audited(folder: Path, sheets: list[Sheet]) -> AuditedTable:
    """The sheets through the whole audit, written as a file."""
    return audit_bytes(folder, as_csv([_row(sheet) for sheet in sheets])).tables[0]


def _row(sheet: Mapping[str, int]) -> dict[str, str]:
    return ENTRY | COUNTS | {cell: text_of(units) if units or "diff" in cell else "0" for cell, units in sheet.items()}


def explained(table: AuditedTable) -> dict[int, set[Explanation]]:
    """What the diagnosis says of each sheet."""
    found: dict[int, set[Explanation]] = {}
    for one in table.explanations.to_dicts():
        wrong = frozenset(zip(one["cells"], one["proposed"], strict=True))
        follows = frozenset(zip(one["follows"], one["follows_proposed"], strict=True))
        found.setdefault(one["id"], set()).add((wrong, follows))
    return found


def test_the_published_sheet_agrees() -> None:
    assert agrees(published())


@pytest.mark.parametrize("is_carried", [False, True], ids=["copied", "carried"])
def test_the_diagnosis_finds_what_a_plain_search_finds(tmp_path: Path, is_carried: bool) -> None:
    sheet = published()
    cells = [cell for cell in sheet if sheet[cell] or cell in NEXT] if not is_carried else list(NEXT)
    slips = [(cell, offset) for cell in cells for offset in OFFSETS if sheet[cell] + offset >= 0]
    sheets = [with_slip(sheet, cell, offset, is_carried) for cell, offset in slips]
    found = explained(audited(tmp_path, sheets))
    for place, wrong in enumerate(sheets):
        assert found.get(place, set()) == (set() if agrees(wrong) else single_slips(wrong)), slips[place]
