"""Put the explanations of each sheet in order: what every slip costs, ties, and whether one net is left."""

from dataclasses import dataclass

import numpy as np
import polars as pl

from warehouse.checks import measured_cells
from warehouse.diagnosis.candidates import NO_SLIP, Places
from warehouse.diagnosis.grid import Flags, Grid, Ints
from warehouse.diagnosis.likelihood import (
    COUNT_BROKEN,
    COUNT_MENDED,
    ODD,
    SHARED,
    adding_costs,
    base_costs,
    copying_costs,
)
from warehouse.diagnosis.manners import Step, manner_of, manners
from warehouse.diagnosis.residuals import residuals
from warehouse.diagnosis.search import Found
from warehouse.diagnosis.solving import put_right

MOST_TOLD = 40  # explanations kept of one sheet; whether its score is certain is decided over all of them


@dataclass(frozen=True)
class Costed:
    """Explanations with the cost of each, the manner (place in `manners`, -1 for none) of either slip, (n, 2), and
    whether two common slips look just like it."""

    cost: Ints
    manner: Ints
    rivalled: Flags


@dataclass(frozen=True)
class Recorded:
    """What a sheet records beside its measures: `spreads` by name, `count_off` (2, sheets): points stated on the right
    and left less points found, where both are known, and `counted` whether they are."""

    spreads: dict[str, Ints]
    count_off: Ints
    counted: Flags
    abnormal_points: Ints


def cost_all(grid: Grid, found: Found, recorded: Recorded) -> Costed:
    """The cost of every explanation that holds: of its slips one after the other, and of its point counts."""
    cells = grid.layout.cells
    base = np.append(base_costs(found.known, cells), 0).astype(np.int32)
    trial = grid.take(found.sheet)
    spreads = {name: values[found.sheet] for name, values in recorded.spreads.items()}
    cost = np.zeros(len(found.sheet), dtype=np.int32)
    manner = np.full((len(found.sheet), 2), -1, dtype=np.int32)
    for nth in range(2):
        chosen = found.slips[:, nth]
        if not (chosen != NO_SLIP).any():
            continue
        before = residuals(trial)
        step = trial.take(np.arange(len(chosen)))
        put_right(trial, before, found.known, chosen)
        cost += base[chosen]
        for place in np.unique(chosen[chosen != NO_SLIP]).tolist():
            slip, columns = found.known[place], np.flatnonzero(chosen == place)
            if slip.kind == "carried" and slip.route is not None:
                told = Step(
                    step.take(columns), before.take(columns), slip.route.at, {k: v[columns] for k, v in spreads.items()}
                )
                manner[columns, nth], easier = manner_of(told)
                cost[columns] -= easier
                if grid.layout.cells[slip.cells[0]] == "abnormal_total":
                    cost[columns] += adding_costs(recorded.abnormal_points[found.sheet[columns]])
            elif slip.kind == "copied":
                (cell,) = slip.cells
                wrong, right = step.values[cell, columns], trial.values[cell, columns]
                cost[columns] += copying_costs(
                    wrong, right, grid.layout.category.unit, grid.layout.cells[cell] in grid.layout.bit
                )
    return Costed(cost + _count_costs(grid, found, recorded), manner, _has_rival(grid, found, recorded, manner))


def _count_costs(grid: Grid, found: Found, recorded: Recorded) -> Ints:
    """An explanation that makes or unmakes a point speaks for or against itself where points are counted."""
    cost = np.zeros(len(found.sheet), dtype=np.int32)
    for side in range(2):
        points = [grid.layout.place[line.columns[side]] for line in grid.layout.category.of_kind("point")]
        if not points:
            continue
        before = (grid.values[np.array(points)[:, None], found.sheet[None, :]] > 0).sum(axis=0)
        grown = (found.after[points] > 0).sum(axis=0) - before
        off = recorded.count_off[side, found.sheet]
        known = recorded.counted[side, found.sheet] & (grown != 0)
        cost[known & (off == grown)] += COUNT_MENDED
        cost[known & (off != grown)] += COUNT_BROKEN
    return cost


def in_order(grid: Grid, found: Found, costed: Costed) -> pl.DataFrame:
    """One row for each different explanation: sheet, place, tie, `row` in `found`, net; at most MOST_TOLD a sheet.

    Explanations that leave the same sheet behind are one; the cheapest way to it stands for it.
    """
    after = {f"cell{n}": values for n, values in enumerate(found.after)}
    frame = pl.DataFrame(
        {"sheet": found.sheet, "row": np.arange(len(found.sheet)), "cost": costed.cost, "net": found.net, **after}
    ).with_columns(
        odd=(pl.col("cost") > ODD * pl.Series((found.slips != NO_SLIP).sum(axis=1)))
        | _unproved(found)
        | pl.Series(costed.rivalled)
    )
    different = (
        frame.with_columns(kind=pl.Series(_kinds(found)))
        .sort("sheet", "cost", "row")
        .unique(["sheet", *after], keep="first", maintain_order=True)
    )
    shared = (pl.col("kind") == "copied") & (pl.len().over("sheet", "cost", "kind") > 1)
    different = (
        different.with_columns(cost=pl.col("cost") + pl.when(shared).then(SHARED).otherwise(0))
        .sort("sheet", "cost", "row")
        .with_columns(
            place=pl.int_range(pl.len()).over("sheet"),
            tie=pl.len().over("sheet", "cost") > 1,
            net=pl.when(pl.col("net") >= 0).then("net"),
        )
    )
    return different.select("sheet", "place", "tie", "row", "net", "odd")


def _kinds(found: Found) -> np.ndarray[tuple[int], np.dtype[np.str_]]:
    """The kind of a single slip; "pair" for two."""
    kinds = np.array([str(slip.kind) for slip in found.known] or [""])
    return np.where(found.slips[:, 1] == NO_SLIP, kinds[found.slips[:, 0]], "pair")


def _has_rival(grid: Grid, found: Found, recorded: Recorded, manner: Ints) -> Flags:
    """Explanations that two common slips look just like, with another net.

    A difference and a side total that both lost an inch look like one measure written an inch too long: so it is with
    every measure called copied wrong, or exchanged, where each check it breaks is off in a known manner.
    """
    measured = len(measured_cells(grid.layout.category))
    credit = grid.layout.place.get("spread_credit", -1)
    copied = np.array(
        [
            slip.kind in ("copied", "exchanged") and (slip.cells[0] < measured or slip.cells[0] == credit)
            for slip in found.known
        ]
        + [False]
    )
    suspect = np.flatnonzero(copied[found.slips[:, 0]] & (found.slips[:, 1] == NO_SLIP))
    some = grid.take(found.sheet[suspect])
    spreads = {name: values[found.sheet[suspect]] for name, values in recorded.spreads.items()}
    before = residuals(some)
    known = np.ones(len(suspect), dtype=bool)
    for check, figure in enumerate(one.figure for one in grid.layout.checks):
        if figure != "spread_credit":  # the inside spread, copied wrong, explains that one at any time
            known &= (manner_of(Step(some, before, check, spreads))[0] >= 0) | (before.off[check] == 0)
    rivals = _without_manner(grid, found, manner)
    rivals[suspect] |= known
    return rivals


def _without_manner(grid: Grid, found: Found, manner: Ints) -> Flags:
    """Explanations with a step that is off by an amount nobody has a reason for: two slips may add up to any.

    Not the net: whatever it is off by, it is recomputed from everything else.
    """
    net = grid.layout.place["net"]
    carried = np.array([slip.kind == "carried" and slip.cells[0] != net for slip in found.known] + [False])
    known = manners(grid.layout.category.abnormal)
    weak = np.array([one.is_weak for one in known] + [True])  # the last: no manner
    strange: Flags = (carried[found.slips] & weak[manner]).any(axis=1)
    return strange


def _unproved(found: Found) -> pl.Series:
    """Explanations that solve an unread cell from one check alone: nothing is left to prove the value by."""
    alone = [slip.kind == "unread" and slip.touches.bit_count() < 2 for slip in found.known]
    return pl.Series(np.array([*alone, False])[found.slips].any(axis=1))


def decided(frame: pl.DataFrame, cut: Places) -> pl.Series:
    """The sheets of which every explanation gives the same net, none was left out, and the likeliest is not odd."""
    one_net = (pl.col("net").n_unique() == 1) & pl.col("net").is_not_null().all()
    nets = frame.group_by("sheet").agg(one=one_net & ~pl.col("odd").sort_by("place").first())
    alike = nets.filter("one")["sheet"]
    return alike.filter(~alike.is_in(pl.Series(cut).implode()))
