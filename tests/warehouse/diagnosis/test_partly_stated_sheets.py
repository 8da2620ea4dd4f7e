"""Sheets that state only some of their figures: every explanation makes them agree, and the true one is among them.

The sheets are random, from fixed seeds; whether one agrees is worked out by the plain search's own arithmetic.
"""

from pathlib import Path
from random import Random
from typing import Any

import pytest

from tests.plain_diagnosis import ROWS, Sheet, agrees_in_part
from tests.sheet_builder import ENTRY, as_csv, audit_bytes
from tests.warehouse.diagnosis.test_every_single_slip import COUNTS
from warehouse.audit.codes import is_figure
from warehouse.eighths import text_of

SIZES = {"beam": 176, "g1": 34, "g2": 70, "g3": 66, "g4": 40, "h1": 36, "h2": 35, "h3": 36, "h4": 33}
TOTALS = ("right_total", "left_total", "spread_credit", "abnormal_total", "diff_total", "deductions", "gross", "net")

Case = tuple[
    Sheet, dict[str, int], list[dict[str, Any]], bool
]  # the sheet, the truth, what is told, whether it disagrees


def right_sheet(source: Random) -> Sheet:
    """A full sheet without a fault, every figure worked out."""
    sheet = {f"{row}_{side}": 0 for row in ROWS for side in "rl"}
    for row, size in SIZES.items():
        for side in "rl":
            sheet[f"{row}_{side}"] = size + source.randrange(-8, 9)
    sheet |= {"inside_spread": source.randrange(110, 170), "abnormal_r": source.choice([0, 13, 20]), "abnormal_l": 0}
    sheet |= {f"{row}_diff": abs(sheet[f"{row}_r"] - sheet[f"{row}_l"]) for row in ROWS}
    right, left = (sum(sheet[f"{row}_{side}"] for row in ROWS) for side in "rl")
    credit = min(sheet["inside_spread"], max(sheet["beam_r"], sheet["beam_l"]))
    lost = sum(sheet[f"{row}_diff"] for row in ROWS)
    abnormal = sheet["abnormal_r"]
    gross = credit + right + left
    totals = (right, left, credit, abnormal, lost, lost + abnormal, gross, gross - lost - abnormal)
    return sheet | dict(zip(TOTALS, totals, strict=True))


def partly_stated(source: Random, sheet: Sheet) -> Sheet:
    """The sheet with some figures left out; the differences all or none."""
    dropped = {figure for figure in TOTALS if source.random() < 0.35}
    if source.random() < 0.5:
        dropped |= {f"{row}_diff" for row in ROWS}
    return {cell: value for cell, value in sheet.items() if cell not in dropped}


def faulty(seed: int) -> tuple[Sheet, dict[str, int]]:
    """A partly stated sheet with one or two cells copied wrong, and what they should be."""
    source = Random(seed)
    sheet = partly_stated(source, right_sheet(source))
    cells = source.sample([cell for cell, value in sheet.items() if value > 20], k=source.choice([1, 1, 2]))
    wrong = {cell: sheet[cell] + source.choice([-8, -3, -2, -1, 1, 2, 3, 5, 8]) for cell in cells}
    return sheet | wrong, {cell: sheet[cell] for cell in cells}


def _row(sheet: Sheet, seed: int) -> dict[str, str]:
    blank = dict.fromkeys([*TOTALS, *(f"{row}_diff" for row in ROWS)], "")
    texts = {cell: text_of(units) if units else "0" for cell, units in sheet.items()}
    return ENTRY | COUNTS | {"entry_no": str(seed), "hunter": f"Hunter {seed}"} | blank | texts


@pytest.fixture(scope="module")
def cases(
    tmp_path_factory: pytest.TempPathFactory,
) -> list[Case]:
    made = [faulty(seed) for seed in range(1500)]
    rows = [_row(sheet, seed) for seed, (sheet, _) in enumerate(made)]
    (table,) = audit_bytes(Path(tmp_path_factory.mktemp("partly")), as_csv(rows)).tables
    told: list[list[dict[str, Any]]] = [[] for _ in made]
    for one in table.explanations.to_dicts():
        told[one["id"]].append(one)
    figures = [code for code in table.findings["code"].unique() if is_figure(code)]
    disagree = set(table.findings.filter(table.findings["code"].is_in(figures))["id"])
    return [(sheet, truth, told[n], n in disagree) for n, (sheet, truth) in enumerate(made)]


def test_a_sheet_disagrees_exactly_where_plain_arithmetic_says_so(cases: list[Case]) -> None:
    assert [disagrees for *_, disagrees in cases] == [not agrees_in_part(sheet) for sheet, *_ in cases]
    assert sum(disagrees for *_, disagrees in cases) > 1400


def test_every_explanation_makes_its_sheet_agree(cases: list[Case]) -> None:
    told = [(sheet, one) for sheet, _, explanations, _ in cases for one in explanations]
    assert len(told) > 1400
    for sheet, one in told:
        mended = sheet | dict(zip(one["cells"], one["proposed"], strict=True))
        mended |= dict(zip(one["follows"], one["follows_proposed"], strict=True))
        assert agrees_in_part(mended), (sheet, one)


def test_a_single_slip_is_always_among_its_explanations(cases: list[Case]) -> None:
    single = [case for case in cases if len(case[1]) == 1 and case[3]]
    assert len(single) > 900
    for sheet, truth, explanations, _ in single:
        proposed = [dict(zip(one["cells"], one["proposed"], strict=True)) for one in explanations]
        assert truth in proposed, (sheet, truth)
