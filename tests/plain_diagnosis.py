"""A slow, plain search for every single slip that explains one white-tail sheet; only tests use it.

It tries every value near the written one, cell by cell, and works the whole sheet out each time; it shares no step
with the product, which solves for them. Lengths are whole eighths. A sheet is a dict of cells, all of them stated.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import combinations

import numpy as np
import numpy.typing as npt

ROWS = ("beam", "g1", "g2", "g3", "g4", "g5", "g6", "g7", "h1", "h2", "h3", "h4")
POINTS = ("g1", "g2", "g3", "g4", "g5", "g6", "g7")
REACH = 60  # how far from what is written a right value is looked for, in eighths
# from the category's file: least and most of a measure
BOUNDS = {
    "inside_spread": (32, 304), "beam": (64, 288), "g1": (0, 112), "g2": (0, 152), "g3": (0, 144), "g4": (0, 120),
    "g5": (0, 112), "g6": (0, 96), "g7": (0, 96), "h1": (12, 72), "h2": (12, 72), "h3": (12, 88), "h4": (8, 88),
}  # fmt: skip
NEXT: dict[str, dict[str, int]] = {
    **{f"{row}_diff": {"diff_total": 1, "deductions": 1, "net": -1} for row in ROWS},
    "diff_total": {"deductions": 1, "net": -1}, "abnormal_total": {"deductions": 1, "net": -1},
    "deductions": {"net": -1}, "spread_credit": {"gross": 1, "net": 1}, "right_total": {"gross": 1, "net": 1},
    "left_total": {"gross": 1, "net": 1}, "gross": {"net": 1}, "net": {},
}  # fmt: skip
Sheet = dict[str, int]
Trials = npt.NDArray[np.int64]  # one row a trial, one column a cell
Explanation = tuple[
    frozenset[tuple[str, int]], frozenset[tuple[str, int]]
]  # (cell, right value) of wrong; of following


def agrees(sheet: Mapping[str, int]) -> bool:
    """Whether every stated figure of a typical sheet is what its inputs make it, as they stand on the sheet."""
    return bool(_agree(np.array([list(sheet.values())]), list(sheet))[0])


def agrees_in_part(sheet: Mapping[str, int]) -> bool:
    """As `agrees`, for a sheet that leaves figures out: what is not stated is worked out, and what is stated is used."""
    used = dict(sheet)

    def holds(figure: str, worked: int) -> bool:
        return used.setdefault(figure, worked) == worked

    listed = sheet["abnormal_r"] + sheet["abnormal_l"]
    if not listed:
        used.setdefault("abnormal_total", 0)  # nothing is listed, so the stated total is all there is
    return all(
        (
            *(holds(f"{row}_diff", abs(sheet[f"{row}_r"] - sheet[f"{row}_l"])) for row in ROWS),
            holds("right_total", sum(sheet[f"{row}_r"] for row in ROWS)),
            holds("left_total", sum(sheet[f"{row}_l"] for row in ROWS)),
            holds("spread_credit", min(sheet["inside_spread"], max(sheet["beam_r"], sheet["beam_l"]))),
            holds("abnormal_total", listed or used["abnormal_total"]),
            holds("diff_total", sum(used[f"{row}_diff"] for row in ROWS)),
            holds("deductions", used["diff_total"] + used["abnormal_total"]),
            holds("gross", used["spread_credit"] + used["right_total"] + used["left_total"]),
            holds("net", used["gross"] - used["deductions"]),
        )
    )


def single_slips(sheet: Sheet) -> set[Explanation]:
    """Every way in which one slip explains the sheet."""
    cells = tuple(sheet)
    written = np.array(list(sheet.values()))
    steps, sources, wrong = _trials(cells)
    trials = np.concatenate([written + steps, written[sources]])
    good = _agree(trials, list(cells)) & _grown(written, trials, cells)
    found = set()
    for trial in np.flatnonzero(good).tolist():
        changed = {cells[n]: int(trials[trial, n]) for n in np.flatnonzero(trials[trial] != written).tolist()}
        named = frozenset((cell, value) for cell, value in changed.items() if cell in wrong[trial])
        if named:
            found.add((named, frozenset(changed.items()) - named))
    return found


@cache
def _trials(cells: tuple[str, ...]) -> tuple[Trials, Trials, list[set[str]]]:
    """What is tried on any sheet: steps added to its cells, cells taken from elsewhere; and the cells each calls wrong."""
    at = {cell: n for n, cell in enumerate(cells)}
    steps, wrong = [], []
    for cell in cells:
        for follows in [{}, NEXT[cell]] if cell in NEXT else [{}]:
            for step in range(-REACH, REACH + 1):
                row = np.zeros(len(cells), dtype=np.int64)
                row[at[cell]] = step
                for figure, sign in follows.items():
                    row[at[figure]] = sign * step
                steps.append(row)
                wrong.append({cell})
    sources = []
    for to, source in _moves():
        row = np.arange(len(cells))
        row[[at[cell] for cell in to]] = [at[cell] for cell in source]
        sources.append(row)
        wrong.append(set(to))
    return np.array(steps), np.array(sources), wrong


def _moves() -> Iterator[tuple[list[str], list[str]]]:
    columns = [[f"{row}_{side}" for row in ROWS] for side in ("r", "l", "diff")]
    two = [pair for column in columns for pair in combinations(column, 2)]
    two += [(f"{row}_r", f"{row}_l") for row in ROWS]
    two += [("right_total", "left_total"), ("diff_total", "deductions"), ("gross", "net")]
    for one, other in two:
        yield [one, other], [other, one]
    for side in "rl":
        for first, last in combinations(range(len(POINTS)), 2):
            run = [f"{point}_{side}" for point in POINTS[first : last + 1]]
            if len(run) > 2:
                yield run, run[1:] + run[:1]
                yield run, run[-1:] + run[:-1]


def _agree(trials: Trials, cells: list[str]) -> npt.NDArray[np.bool_]:
    sheet = dict(zip(cells, trials.T, strict=True))
    worked = {f"{row}_diff": abs(sheet[f"{row}_r"] - sheet[f"{row}_l"]) for row in ROWS} | {
        "right_total": sum(sheet[f"{row}_r"] for row in ROWS),
        "left_total": sum(sheet[f"{row}_l"] for row in ROWS),
        "spread_credit": np.minimum(sheet["inside_spread"], np.maximum(sheet["beam_r"], sheet["beam_l"])),
        "abnormal_total": sheet["abnormal_r"] + sheet["abnormal_l"],
        "diff_total": sum(sheet[f"{row}_diff"] for row in ROWS),
        "deductions": sheet["diff_total"] + sheet["abnormal_total"],
        "gross": sheet["spread_credit"] + sheet["right_total"] + sheet["left_total"],
        "net": sheet["gross"] - sheet["deductions"],
    }
    fits = np.ones(len(trials), dtype=bool)
    for figure, value in worked.items():
        fits &= sheet[figure] == value
    return fits


def _grown(written: Trials, trials: Trials, cells: tuple[str, ...]) -> npt.NDArray[np.bool_]:
    """Whether every changed measure is one that the species grows."""
    fits = np.ones(len(trials), dtype=bool)
    for n, cell in enumerate(cells):
        line = cell.rsplit("_", 1)[0] if cell[-2:] in ("_r", "_l") else cell
        value = trials[:, n]
        least, most = BOUNDS.get(line, (0, 10_000))
        good = (value >= least) & (value <= most)
        if line in (*POINTS, "abnormal"):
            good &= (value == 0) | (value >= 8)
        fits &= good | (value == written[n])
    return fits
