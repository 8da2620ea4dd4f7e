"""Faults of the benchmark that are not one number: a wrong method of scoring, or right numbers in wrong places."""

from collections.abc import Callable, Mapping

import numpy as np

from tests.benchmarks.slip_changes import one_of
from tests.benchmarks.slip_kinds import Faulty, Kind, faulty, measured
from tests.benchmarks.slip_sheets import (
    AT,
    CATEGORIES,
    DIFFERENCES,
    INCH,
    POINTS,
    ROWS,
    SIDES,
    Flags,
    Ints,
    Rng,
    Sheets,
    carried_into,
    is_typical,
    work_out,
)

TYPICAL = tuple(category for category in CATEGORIES if is_typical(category))
NONTYPICAL = tuple(category for category in CATEGORIES if not is_typical(category))
Off = Mapping[str, Ints]


def _steps(name: str, off: Callable[[Sheets, Rng], Off], categories: tuple[str, ...] = CATEGORIES) -> Kind:
    """Figures worked out by a wrong method: `off` gives by how much each is off; all that follows is carried."""

    def make(truth: Sheets, rng: Rng) -> Faulty:
        sheets, wrong = truth.copy(), np.zeros(truth.values.shape, dtype=bool)
        kept = np.ones(len(truth), dtype=bool)
        for figure, by in off(truth, rng).items():
            sheets.values[:] += by[:, None] * carried_into(truth.category)[AT[figure]][None, :]
            wrong[:, AT[figure]] = True
            kept &= by != 0
        return faulty(truth, sheets, wrong, kept)

    return Kind(f"method: {name}", make, categories, family="method")


def _side_totals_subtracted(truth: Sheets, _: Rng) -> Off:
    return {"diff_total": np.abs(truth.of("right_total") - truth.of("left_total")) - truth.of("diff_total")}


def _signed_difference(truth: Sheets, rng: Rng) -> Off:
    rows = truth.values[:, [AT[cell] for cell in DIFFERENCES]]
    return {"diff_total": -2 * rows[np.arange(len(truth)), one_of(rows > 0, rng)]}


def _scored_as_nontypical(truth: Sheets, _: Rng) -> Off:
    abnormal = truth.of("abnormal_total")
    return {"deductions": -abnormal, "net": abnormal}


def _scored_as_typical(truth: Sheets, _: Rng) -> Off:
    abnormal = truth.of("abnormal_total")
    return {"deductions": abnormal, "net": -abnormal}


def _outside_spread(truth: Sheets, _: Rng) -> Off:
    """Only where the greatest spread is not capped itself: else nobody could tell what was credited."""
    longer, greatest = np.maximum(truth.of("beam_r"), truth.of("beam_l")), truth.of("greatest_spread")
    return {"spread_credit": np.where(greatest <= longer, greatest - truth.of("spread_credit"), 0)}


def _fifth(truth: Sheets, side: str, rng: Rng) -> Ints:
    """A fifth circumference, a little thinner than the last one or thicker."""
    length: Ints = np.maximum(truth.of(f"h4_{side}") + rng.integers(-INCH, INCH // 2 + 1, len(truth)), INCH)
    return length


def _fifth_on_one(truth: Sheets, rng: Rng) -> Off:
    return {"right_total": _fifth(truth, "r", rng)}


def _fifth_on_both(truth: Sheets, rng: Rng) -> Off:
    return {"right_total": _fifth(truth, "r", rng), "left_total": _fifth(truth, "l", rng)}


def _tip_as_point(truth: Sheets, rng: Rng) -> Faulty:
    """The beam tip measured again as one side's last point; the stated count of points is the true one."""
    sheets, wrong = truth.copy(), np.zeros(truth.values.shape, dtype=bool)
    side = rng.integers(0, 2, len(truth))
    boxes = np.array([[AT[f"{point}_{letter}"] for point in POINTS] for letter in SIDES])[side]
    every = np.arange(len(truth))
    grown = (sheets.values[every[:, None], boxes] > 0).sum(axis=1)
    free = grown < len(POINTS)
    box = boxes[every, np.minimum(grown, len(POINTS) - 1)]
    sheets.values[every, box] = rng.integers(INCH, 2 * INCH + 1, len(truth))
    work_out(sheets)
    wrong[every, box] = True
    return faulty(truth, sheets, wrong, free)


METHODS = (
    _steps("right less left total for differences", _side_totals_subtracted),
    _steps("a difference taken off, not added", _signed_difference),
    _steps("abnormal forgotten", lambda truth, _: {"deductions": -truth.of("abnormal_total")}, TYPICAL),
    _steps("abnormal added", lambda truth, _: {"net": 2 * truth.of("abnormal_total")}, TYPICAL),
    _steps("scored as non-typical", _scored_as_nontypical, TYPICAL),
    _steps("abnormal forgotten (non-typ.)", lambda truth, _: {"net": -truth.of("abnormal_total")}, NONTYPICAL),
    _steps("abnormal subtracted", lambda truth, _: {"net": -2 * truth.of("abnormal_total")}, NONTYPICAL),
    _steps("scored as typical", _scored_as_typical, NONTYPICAL),
    _steps("spread cap forgotten",
           lambda truth, _: {"spread_credit": truth.of("inside_spread") - truth.of("spread_credit")}),
    _steps("greatest spread credited", _outside_spread),
    _steps("fifth circumference, one side", _fifth_on_one),
    _steps("fifth circumference, both", _fifth_on_both),
    Kind("method: beam tip measured as a point", _tip_as_point, family="method"),
)  # fmt: skip


def _moved(name: str, move: Callable[[Sheets, Rng], tuple[Ints, Ints]], truth_cells: tuple[str, ...] = ()) -> Kind:
    """Values written in each other's boxes. `move` gives for each sheet which boxes get a value, and from which."""

    def make(truth: Sheets, rng: Rng) -> Faulty:
        sheets, every = truth.copy(), np.arange(len(truth))[:, None]
        to, source = move(truth, rng)
        sheets.values[every, to] = truth.values[every, source]
        wrong: Flags = sheets.values != truth.values
        if truth_cells:
            wrong = np.zeros(truth.values.shape, dtype=bool)
            wrong[:, [AT[cell] for cell in truth_cells]] = True
        return faulty(truth, sheets, wrong)

    return Kind(f"moved: {name}", make, family="moved")


def _across(truth: Sheets, rng: Rng) -> tuple[Ints, Ints]:
    boxes = np.array([[AT[f"{row}_r"], AT[f"{row}_l"]] for row in ROWS])
    chosen = boxes[one_of(truth.values[:, boxes[:, 0]] > 0, rng)]
    return chosen, chosen[:, ::-1]


def _columns(truth: Sheets, _: Rng) -> tuple[Ints, Ints]:
    sides = [[AT[f"{row}_{side}"] for row in ROWS] for side in SIDES]
    every = np.ones((len(truth), 1), dtype=np.int64)
    return every * np.array([*sides[0], *sides[1]]), every * np.array([*sides[1], *sides[0]])


def _points_from(truth: Sheets, rng: Rng, least: int) -> tuple[Ints, Ints, Ints]:
    """The boxes of one side's points, how many have grown, and a box to begin at with `least` or more left."""
    side = rng.integers(0, 2, len(truth))
    boxes = np.array([[AT[f"{point}_{letter}"] for point in POINTS] for letter in SIDES])[side]
    grown = (truth.values[np.arange(len(truth))[:, None], boxes] > 0).sum(axis=1)[:, None]
    start = rng.integers(0, np.maximum(grown - least + 1, 1))
    return boxes, grown, start


def _one_row_up(truth: Sheets, rng: Rng) -> tuple[Ints, Ints]:
    """The points of a side from some box on one box further, that box empty."""
    boxes, grown, start = _points_from(truth, rng, 2)
    nth = np.arange(len(POINTS))[None, :]
    source = np.where((nth > start) & (nth <= grown), nth - 1, nth)
    return boxes, np.take_along_axis(boxes, np.where(nth == start, grown, source) % len(POINTS), axis=1)


def _one_row_down(truth: Sheets, rng: Rng) -> tuple[Ints, Ints]:
    """The points of a side from some box on one box too low, and the first of them in the last one's box."""
    boxes, grown, start = _points_from(truth, rng, 3)
    nth = np.arange(len(POINTS))[None, :]
    source = np.where((nth >= start) & (nth < grown - 1), nth + 1, nth)
    return boxes, np.take_along_axis(boxes, np.where(nth == grown - 1, start, source), axis=1)


def _rows_of_a_side(truth: Sheets, rng: Rng) -> tuple[Ints, Ints]:
    boxes = np.array([[AT[cell] for cell in measured(ROWS) if cell[-1] == side] for side in SIDES])
    boxes = boxes[rng.integers(0, 2, len(truth))]
    there = truth.values[np.arange(len(truth))[:, None], boxes] > 0
    first = one_of(there[:, :-1] & there[:, 1:], rng)
    far = rng.random(len(truth)) < 0.3
    second = np.where(far, one_of(there & (np.arange(len(ROWS)) != first[:, None]), rng), first + 1)
    every = np.arange(len(truth))
    to = np.stack([boxes[every, first], boxes[every, second]], axis=1)
    return to, to[:, ::-1]


MOVED = (
    _moved("right and left of a row", _across),
    # which were exchanged, the columns or the two totals below them, is the same statement
    _moved("right and left columns", _columns, ("right_total", "left_total")),
    _moved("points of a side one row up", _one_row_up),
    _moved("points of a side one row down", _one_row_down),
    _moved("two rows of a side", _rows_of_a_side),
)
