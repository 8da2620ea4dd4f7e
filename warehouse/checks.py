"""Every check that a sheet carries, derived from its category: which figure must equal what of which cells.

A check compares a stated figure with what its inputs, *as the sheet states them*, make it. So a step worked out
wrong breaks one check, and one cell written wrong breaks every check that it stands in: that is what tells the two
apart. A new category gets its checks, and so its diagnosis, from its lines alone.

Two laws follow from the checks and share no step with them (derived): net = spread credit + twice the shorter side of
every pair, less or plus the abnormal total; and net + spread credit + abnormal total is an even number of units. Tests
hold every score to the first; the second is the only check of a record that gives no rows.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from warehouse.categories import Category

ABNORMAL = ("abnormal_r", "abnormal_l")
Form = Literal["sum", "difference", "credit"]


@dataclass(frozen=True)
class Check:
    """One check: `figure` must equal the `form` of its `inputs` (cell, sign).

    "sum": the signed sum; "difference": the length of first less second; "credit": the first, but at most the
    longest of the others (where there are others).
    """

    figure: str
    form: Form
    inputs: tuple[tuple[str, int], ...]


@lru_cache(maxsize=64)
def checks_of(category: Category) -> tuple[Check, ...]:
    """The checks of a category's sheet, each after the checks whose figures it takes."""
    pairs = category.pairs
    taken = category.abnormal != "none"
    subtracted = category.abnormal == "subtracted"
    deducted = [(line.name, 1) for line in category.lines if line.use == "deducted"]
    kept = [(line.name, 1) for line in category.lines if line.sides == "single" and line.use == "scored"]
    credited = [line for line in category.lines if line.use == "credited"]
    spread = [("spread_credit", 1)] if credited else []
    abnormal = [("abnormal_total", 1)]
    every = (
        *(Check(line.difference, "difference", tuple((column, 1) for column in line.columns)) for line in pairs),
        *(Check(f"{name}_total", "sum", tuple((f"{line.name}_{name[0]}", 1) for line in pairs)) for name in SIDES),
        *(Check("spread_credit", "credit", _credit(line.name, line.capped_by)) for line in credited),
        *([Check("abnormal_total", "sum", tuple((name, 1) for name in ABNORMAL))] if taken else []),
        Check("diff_total", "sum", tuple((line.difference, 1) for line in pairs)),
        Check("deductions", "sum", (("diff_total", 1), *deducted, *(abnormal if subtracted else []))),
        Check("gross", "sum", (*spread, ("right_total", 1), ("left_total", 1), *kept)),
        Check("net", "sum", (("gross", 1), ("deductions", -1), *(abnormal if taken and not subtracted else []))),
    )
    return _with_inputs(every)


def _with_inputs(checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """The checks that have something to check: a skull has no sides, so nothing of them, and no sum of them either."""
    kept: list[Check] = []
    empty: set[str] = set()
    for check in checks:
        inputs = tuple((cell, sign) for cell, sign in check.inputs if cell not in empty)
        if inputs:
            kept.append(replace(check, inputs=inputs))
        else:
            empty.add(check.figure)
    return tuple(kept)


SIDES = ("right", "left")


def _credit(spread: str, capped_by: str | None) -> tuple[tuple[str, int], ...]:
    caps = (f"{capped_by}_r", f"{capped_by}_l") if capped_by else ()
    return tuple((name, 1) for name in (spread, *caps))


def measured_cells(category: Category) -> tuple[str, ...]:
    """The cells that are measured and count, in the order the checks name them, the lists of abnormal points last."""
    figures = {check.figure for check in checks_of(category)}
    named = dict.fromkeys(cell for check in checks_of(category) for cell, _ in check.inputs if cell not in figures)
    return tuple(cell for cell in named if cell not in ABNORMAL) + tuple(cell for cell in ABNORMAL if cell in named)


def stated_cells(category: Category) -> tuple[str, ...]:
    """The figures a sheet may state, in the order of its checks."""
    return tuple(check.figure for check in checks_of(category))


def followers(category: Category, figure: str) -> dict[str, int]:
    """The later figures that a wrong `figure` is carried into, and with which sign."""
    signs = {figure: 1}
    for check in checks_of(category):
        if check.form == "sum" and check.figure != figure:
            carried = sum(sign * signs[cell] for cell, sign in check.inputs if cell in signs)
            if carried:
                signs[check.figure] = carried
    del signs[figure]
    return signs
