"""The sheets of the diagnosis' benchmark are what they say they are: right ones right, and a fault that fault only."""

from fractions import Fraction
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from tests.benchmarks.bench_slips import KINDS, faulty_sheets
from tests.benchmarks.slip_kinds import ONE_CELL, Faulty, Kind, exhaustive, harmless
from tests.benchmarks.slip_marks import Marks, audited, found_on, marks_of, recomputed_nets, verdicts
from tests.benchmarks.slip_sheets import (
    AT,
    CATEGORIES,
    CELLS,
    DIFFERENCES,
    FIGURES,
    LISTS,
    MEASURES,
    ROWS,
    Sheets,
    carried_into,
    is_typical,
    right_sheets,
)
from tests.benchmarks.slip_text import NOTATIONS, spelled, write_csv
from tests.plain_scoring import NONTYPICAL, TYPICAL, score

EACH = 40
WRITTEN = [kind for kind in KINDS if kind.family in ("copied", "two")]
SCORED = (*MEASURES, "inside_spread")


def _sheet(sheets: Sheets, place: int) -> dict[str, int]:
    return dict(zip(CELLS, sheets.values[place].tolist(), strict=True))


def _broken(sheet: dict[str, int], category: str) -> set[str]:
    """The figures that are not what the cells they are made of, as they stand, come to."""
    abnormal = sheet["abnormal_total"]
    typical = is_typical(category)
    worked = {f"{row}_diff": abs(sheet[f"{row}_r"] - sheet[f"{row}_l"]) for row in ROWS} | {
        "spread_credit": min(sheet["inside_spread"], max(sheet["beam_r"], sheet["beam_l"])),
        "right_total": sum(sheet[f"{row}_r"] for row in ROWS),
        "left_total": sum(sheet[f"{row}_l"] for row in ROWS),
        "diff_total": sum(sheet[name] for name in DIFFERENCES),
        "abnormal_total": sheet["abnormal_r"] + sheet["abnormal_l"],
        "deductions": sheet["diff_total"] + (abnormal if typical else 0),
        "gross": sheet["spread_credit"] + sheet["right_total"] + sheet["left_total"],
        "net": sheet["gross"] - sheet["deductions"] + (0 if typical else abnormal),
    }
    return {figure for figure, value in worked.items() if sheet[figure] != value}


def _made(kind: Kind) -> list[tuple[str, Faulty]]:
    return [(category, faulty_sheets(kind, category, EACH, seed=1)) for category in kind.categories]


@pytest.mark.parametrize("category", CATEGORIES)
def test_right_sheets_are_scored_as_plain_arithmetic_scores_them(category: str) -> None:
    sheets = right_sheets(category, EACH, np.random.default_rng(1))
    for place in range(EACH):
        sheet = _sheet(sheets, place)
        inches = {cell: Fraction(sheet[cell], 8) for cell in (*SCORED, "abnormal_total")}
        figures = score(inches, TYPICAL if is_typical(category) else NONTYPICAL)
        assert {name: Fraction(sheet[name], 8) for name in FIGURES} == figures
        listed = sheets.listed[place].sum(axis=1).tolist()
        assert [sheet[cell] for cell in LISTS] == listed


@pytest.mark.parametrize("category", CATEGORIES)
@pytest.mark.parametrize("notation", NOTATIONS)
def test_right_sheets_pass_the_audit(category: str, notation: str, tmp_path: Path) -> None:
    sheets = right_sheets(category, 400, np.random.default_rng(2))
    table, _ = audited(sheets, notation, tmp_path)
    assert (found_on(table, repeats=True).to_list(), table.explanations.height) == ([], 0)
    assert (len(table.certain), table.certain.all()) == (400, True)
    assert recomputed_nets(table).to_list() == sheets.of("net").tolist()


def _written(sheets: Sheets, folder: Path) -> pl.DataFrame:
    path = folder / "sheets.csv"
    write_csv(path, sheets, "blank")
    return pl.read_csv(path, infer_schema=False)


def _may_follow(category: str, kind: Kind, cells: list[str]) -> set[str]:
    """The cells that a fault in `cells` may change besides them."""
    if kind.family in ("copied", "erased") or (kind.family == "moved" and set(cells) <= set(MEASURES)):
        return set()
    if kind.family == "moved":  # the columns above the two totals
        return set(MEASURES)
    if "beam tip" in kind.name:
        return set(FIGURES)
    follow = carried_into(category)[[AT[cell] for cell in cells]].any(axis=0)
    return {CELLS[place] for place in np.flatnonzero(follow)}


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_a_fault_changes_the_written_cells_it_says_and_no_others(kind: Kind, tmp_path: Path) -> None:
    for category in kind.categories:
        truth = right_sheets(category, 1_000, np.random.default_rng(9))
        made = kind.make(truth, np.random.default_rng(10))
        right, wrong = _written(truth, tmp_path), _written(made.sheets, tmp_path)
        differs = right.select(pl.col(name).ne_missing(wrong[name]) for name in right.columns).to_numpy()
        names = made.names()
        assert made.kept.any()
        for place in np.flatnonzero(made.kept).tolist():
            changed, cells = {right.columns[n] for n in np.flatnonzero(differs[place])}, set(names[place])
            assert changed <= cells | _may_follow(category, kind, names[place])
            # the columns exchanged stand for the totals; of two slips the second may make the first's cell right again
            if not changed >= cells:
                assert kind.family == "two" or kind.name == "moved: right and left columns"


@pytest.mark.parametrize("kind", WRITTEN, ids=lambda kind: kind.name)
def test_nobody_writes_a_point_under_an_inch(kind: Kind) -> None:
    points = [AT[cell] for cell in MEASURES if cell[0] == "g"]
    for _, made in _made(kind):
        lengths = np.concatenate([made.sheets.values[:, points].ravel(), made.sheets.listed.ravel()])
        assert lengths[lengths > 0].min() >= 8


def test_only_what_agrees_all_the_same_is_harmless() -> None:
    (kind,) = [kind for kind in KINDS if kind.name == "copied: inside spread"]
    made = faulty_sheets(kind, "whitetail-typical", 2_000, seed=3)
    longer = np.maximum(made.sheets.of("beam_r"), made.sheets.of("beam_l"))
    capped = np.minimum(made.sheets.of("inside_spread"), longer) == made.sheets.of("spread_credit")
    assert 0 < np.count_nonzero(capped) < 200
    assert (harmless(made) == capped).all()
    seen = ("copied: net", "erased: a measure", "carried: gross", "method: beam tip measured as a point")
    others = [kind for kind in KINDS if kind.name in seen]
    assert len(others) == len(seen)
    assert not any(harmless(made).any() for kind in others for _, made in _made(kind))


def test_every_eighth_is_as_frequent_as_any_other() -> None:
    sheets = right_sheets("whitetail-typical", 20_000, np.random.default_rng(3))
    lengths = sheets.values[:, [AT[cell] for cell in MEASURES]]
    share = np.bincount(lengths[lengths > 0] % 8) / np.count_nonzero(lengths)
    assert np.abs(share - 1 / 8).max() < 0.01


@pytest.mark.parametrize("kind", [kind for kind in ONE_CELL if kind.family == "copied"], ids=lambda kind: kind.name)
def test_a_copied_slip_changes_its_cell_and_nothing_else(kind: Kind) -> None:
    for category in CATEGORIES:
        truth = right_sheets(category, 500, np.random.default_rng(7))
        made = kind.make(truth, np.random.default_rng(8))
        names = made.names()
        assert np.count_nonzero(made.kept) > 100
        for place in np.flatnonzero(made.kept).tolist():
            (cell,) = names[place]
            changed = made.sheets.values[place] != truth.values[place]
            assert [CELLS[n] for n in np.flatnonzero(changed)] == [cell] and cell in kind.cells
            assert made.sheets.listed[place].sum(axis=1).tolist() == [made.sheets.of(one)[place] for one in LISTS]
            relisted = np.count_nonzero(made.sheets.listed[place] != truth.listed[place])
            assert relisted == (cell in LISTS)
        assert (made.net == truth.of("net")).all()


@pytest.mark.parametrize("kind", [kind for kind in ONE_CELL if kind.family == "carried"], ids=lambda kind: kind.name)
def test_a_carried_slip_breaks_its_own_step_and_no_other(kind: Kind) -> None:
    for category, made in _made(kind):
        for place, cells in enumerate(made.names()):
            sheet = _sheet(made.sheets, place)
            assert len(cells) == 1 and cells[0] in kind.cells
            assert _broken(sheet, category) == set(cells)
            assert made.net[place] == _true_net(sheet, category)


def _true_net(sheet: dict[str, int], category: str) -> int:
    measures = {cell: Fraction(sheet[cell], 8) for cell in SCORED}
    measures["abnormal_total"] = Fraction(sheet["abnormal_r"] + sheet["abnormal_l"], 8)
    return int(score(measures, TYPICAL if is_typical(category) else NONTYPICAL)["net"] * 8)


METHODS = [kind for kind in KINDS if kind.family == "method" and "beam tip" not in kind.name]


@pytest.mark.parametrize("kind", METHODS, ids=lambda kind: kind.name)
def test_a_wrong_method_breaks_the_steps_it_names(kind: Kind) -> None:
    for category, made in _made(kind):
        for place, cells in enumerate(made.names()):
            sheet = _sheet(made.sheets, place)
            assert _broken(sheet, category) == set(cells)
            assert made.net[place] == _true_net(sheet, category)


def test_what_the_methods_come_to() -> None:
    """Each by its definition, on the sheet as it stands."""
    figures = {kind.name.removeprefix("method: "): _sheet(_made(kind)[0][1].sheets, 0) for kind in METHODS}
    sheet = figures["right less left total for differences"]
    assert sheet["diff_total"] == abs(sheet["right_total"] - sheet["left_total"])
    sheet = figures["a difference taken off, not added"]
    less = sum(sheet[name] for name in DIFFERENCES) - sheet["diff_total"]
    assert less and less in {2 * sheet[name] for name in DIFFERENCES}
    sheet = figures["abnormal forgotten"]
    assert sheet["deductions"] == sheet["diff_total"] and sheet["net"] == sheet["gross"] - sheet["diff_total"]
    sheet = figures["abnormal added"]
    assert sheet["net"] == sheet["gross"] - sheet["diff_total"] + sheet["abnormal_total"]
    sheet = figures["scored as non-typical"]
    assert sheet["deductions"] == sheet["diff_total"]
    assert sheet["net"] == sheet["gross"] - sheet["diff_total"] + sheet["abnormal_total"]
    sheet = figures["abnormal forgotten (non-typ.)"]
    assert sheet["net"] == sheet["gross"] - sheet["diff_total"]
    sheet = figures["abnormal subtracted"]
    assert sheet["net"] == sheet["gross"] - sheet["diff_total"] - sheet["abnormal_total"]
    sheet = figures["scored as typical"]
    assert sheet["deductions"] == sheet["diff_total"] + sheet["abnormal_total"]
    assert sheet["net"] == sheet["gross"] - sheet["deductions"]
    sheet = figures["spread cap forgotten"]
    assert sheet["spread_credit"] == sheet["inside_spread"] > max(sheet["beam_r"], sheet["beam_l"])
    sheet = figures["greatest spread credited"]
    assert sheet["spread_credit"] == sheet["greatest_spread"] > sheet["inside_spread"]


def test_a_beam_tip_measured_as_a_point_leaves_no_step_broken() -> None:
    (kind,) = [kind for kind in KINDS if "beam tip" in kind.name]
    for category, made in _made(kind):
        for place, (cell,) in enumerate(made.names()):
            sheet = _sheet(made.sheets, place)
            assert _broken(sheet, category) == set() and 8 <= sheet[cell] <= 16
            side = "rl".index(cell[-1])
            measured = sum(sheet[name] > 0 for name in MEASURES if name[0] == "g" and name[-1] == cell[-1])
            listed = np.count_nonzero(made.sheets.listed[place, side])
            assert made.sheets.points[place, side] == measured + listed  # one less than these and the tip
            assert made.net[place] == _true_net(sheet | {cell: 0}, category)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind.family == "moved"], ids=lambda kind: kind.name)
def test_moved_values_are_the_same_values_elsewhere(kind: Kind) -> None:
    for _, made in _made(kind):
        for place, cells in enumerate(made.names()):
            sheet = _sheet(made.sheets, place)
            assert made.net[place] == sheet["net"]
            is_columns = cells == ["right_total", "left_total"]
            if is_columns:
                assert sum(sheet[f"{row}_r"] for row in ROWS) == sheet["left_total"]
                assert sum(sheet[f"{row}_l"] for row in ROWS) == sheet["right_total"]
                continue
            assert len(cells) >= 2 and set(cells) <= set(MEASURES)
            totals = [sum(sheet[f"{row}_{side}"] for row in ROWS) for side in "rl"]
            if "right and left" not in kind.name:
                assert totals == [sheet["right_total"], sheet["left_total"]]
            else:
                assert sum(totals) == sheet["right_total"] + sheet["left_total"]


def test_an_erased_cell_is_the_only_one_and_is_written_so(tmp_path: Path) -> None:
    (kind,) = [kind for kind in KINDS if kind.family == "erased"]
    for category, made in _made(kind):
        table, _ = audited(made.sheets, "blank", tmp_path)
        lost = table.findings.filter(code="unreadable").sort("id")["cells"].to_list()
        assert lost == made.names()
        assert all(not _broken(_sheet(made.sheets, place), category) for place in range(EACH))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind.family == "two"], ids=lambda kind: kind.name)
def test_two_slips_are_two(kind: Kind) -> None:
    for category, made in _made(kind):
        for place, cells in enumerate(made.names()):
            assert len(cells) == 2
            if kind.name == "two: carried, carried":
                assert _broken(_sheet(made.sheets, place), category) == set(cells)


def test_exhaustive_tries_every_cell_by_every_offset_once() -> None:
    truth = right_sheets("elk-typical", 1, np.random.default_rng(4))
    (kind,) = [kind for kind in ONE_CELL if kind.name == "copied: circumference"]
    made = exhaustive(kind, truth, np.random.default_rng(5))
    tried = [(cells[0], int(_sheet(made.sheets, place)[cells[0]] - truth.of(cells[0])[0]))
             for place, cells in enumerate(made.names())]  # fmt: skip
    assert sorted(tried) == sorted((cell, by) for cell in kind.cells for by in range(-16, 17) if by)


@pytest.mark.parametrize(
    ("notation", "texts"),
    [
        ("blank", ["0", "3/8", "21 0/8", "21 3/8"]),
        ("dash", ["0", "3/8", "21", "21-3/8"]),
        ("eighths", ["0.0", "0.3", "21.0", "21.3"]),
        ("decimal", ["0", "0.375", "21", "21.375"]),
    ],
)
def test_notations(notation: str, texts: list[str]) -> None:
    assert [spelled(value, notation) for value in (0, 3, 168, 171)] == texts


def test_marks_count_what_they_say(tmp_path: Path) -> None:
    """A net copied wrong is found and named; the same sheets with another truth are found and named wrongly."""
    (kind,) = [kind for kind in ONE_CELL if kind.name == "copied: net"]
    made = faulty_sheets(kind, "whitetail-typical", 50, seed=6)
    table, _ = audited(made.sheets, "blank", tmp_path)
    right = marks_of(verdicts(made, table), 0.0)
    assert right == Marks(50, 50, 50, 50, 50, 50, 50, 50, 50, 0)
    elsewhere = Faulty(made.sheets, np.roll(made.wrong, -1, axis=1), made.net + 1, made.kept)
    wrong = marks_of(verdicts(elsewhere, table), 0.0)
    assert wrong == Marks(50, 50, 0, 50, 0, 0, 0, 0, 50, 50)
