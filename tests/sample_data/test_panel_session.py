"""The invented panel: every line of every head read once by each of eight certified measurers, two of them with a habit."""

import csv
from pathlib import Path

import numpy as np
import pytest

from sample_data import panel_session
from tests.sample_data.plain_audit import length

REFERENCE = Path(panel_session.__file__).parent / "reference"
Lengths = dict[tuple[str, str, str], float]


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def read() -> Lengths:
    """(head, measurer, line) -> inches."""
    return {
        (row["head"], row["measurer"], row["line"]): float(length(row["length"]) or 0)
        for row in rows("panel_measures.csv")
    }


def offsets(read: Lengths, measurer: str, line: str) -> np.ndarray:
    """How far a measurer is above the middle of the others, in inches, for each head."""
    heads = sorted({head for head, _, _ in read})
    others = {m for _, m, _ in read} - {measurer}
    return np.array([read[head, measurer, line] - np.median([read[head, m, line] for m in others]) for head in heads])


def test_each_measurer_reads_each_line_of_each_head_once(read: Lengths) -> None:
    kinds = [len({key[place] for key in read}) for place in range(3)]
    assert kinds == [12, 8, 7]
    assert len(read) == len(rows("panel_measures.csv")) == 12 * 8 * 7


def test_the_measurers_were_certified_on_that_day() -> None:
    held = {
        row["measurer_no"]: (row["certified_from"], row["certified_to"] or "9999-12-31")
        for row in rows("measurers.csv")
    }
    for row in rows("panel_measures.csv"):
        first, last = held[row["measurer"]]
        assert first <= row["measured_on"] == "2026-03-14" <= last


def test_one_measurer_reads_net_high_and_no_other_does(read: Lengths) -> None:
    high = {m: float(offsets(read, m, "net").mean()) for _, m, _ in read}
    assert 2 / 8 <= high.pop("M-007") <= 5 / 8
    assert max(map(abs, high.values())) < 2 / 8
    assert abs(offsets(read, "M-007", "beam_r").mean()) < 1 / 8


def test_one_measurer_reads_quarters_and_the_others_eighths(read: Lengths) -> None:
    eighths = {m: {line * 8 % 2 for (_, by, _), line in read.items() if by == m} for _, m, _ in read}
    assert eighths.pop("M-012") == {0}
    assert all(found == {0, 1} for found in eighths.values())


def test_nobody_is_far_off_and_no_net_is_above_its_gross(read: Lengths) -> None:
    scatter = [offsets(read, m, "h1_r").std() for m in {m for _, m, _ in read}]
    assert max(scatter) < 1 / 8
    assert all(read[head, m, "net"] <= read[head, m, "gross"] for head, m, _ in read)
