"""Known manners of working a step out wrong (common practice, no source): each a test over many sheets, and its words.

A manner is tried on the figure whose step went wrong, with the sheet as it stood before. The first that fits names
the slip; `easier` says by how many halvings it makes the slip likelier than one without a known manner.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache, reduce
from operator import or_

import numpy as np

from warehouse.diagnosis.grid import Flags, Grid, Ints
from warehouse.diagnosis.residuals import Residuals

RECORDED = ("greatest_spread", "tip_to_tip")


@dataclass(frozen=True)
class Step:
    """One check of many sheets: the figure stated, what it comes to, and what it is made of."""

    grid: Grid
    found: Residuals
    check: int
    recorded: dict[str, Ints]

    @property
    def off(self) -> Ints:
        """Stated less worked."""
        off: Ints = self.found.off[self.check]
        return off

    @property
    def stated(self) -> Ints:
        """What the figure should not be."""
        return self.grid.of(self.grid.layout.checks[self.check].figure)

    @property
    def unit(self) -> int:
        """Parts of an inch."""
        return self.grid.layout.category.unit

    def cell(self, name: str) -> Ints:
        """A cell as used: a figure that is not stated as worked out; nothing where the category has no such cell."""
        layout = self.grid.layout
        if name in layout.bit:
            used: Ints = self.found.used[layout.bit[name].bit_length() - 1]
            return used
        return self.grid.of(name) if name in layout.place else np.zeros_like(self.off)

    def inputs(self) -> Iterator[tuple[str, Ints]]:
        """The cells that the figure is made of."""
        for name, _ in self.grid.layout.checks[self.check].inputs:
            yield name, self.cell(name)


@dataclass(frozen=True)
class Manner:
    """`of`: the figures it can happen to ("difference" stands for every row's); `words` say how. A weak manner fits
    so many amounts that it names a slip without making its score certain."""

    of: tuple[str, ...]
    easier: int
    words: str
    fits: Callable[[Step], Flags]
    is_weak: bool = False


INCH_LOST, INCH_MORE = "an inch was lost in carrying", "an inch too many was carried"
MISCOUNTED = "the parts of an inch were miscounted"
SIDE_SUMS = ("right_total", "left_total")
SUMS = (*SIDE_SUMS, "diff_total", "abnormal_total", "gross")
STEPS = (*SUMS, "deductions", "net")


def _added_as_tenths(step: Step) -> Flags:
    parts = [value for _, value in step.inputs()]
    inches = sum((part // step.unit for part in parts), np.zeros_like(step.off))
    pieces = sum((part % step.unit for part in parts), np.zeros_like(step.off))
    shown = inches * step.unit + pieces // 10 * step.unit + pieces % 10
    fits: Flags = (pieces % 10 < step.unit) & (step.stated == shown) & (step.off != 0)
    return fits


def _borrowed_ten(step: Step) -> Flags:
    pieces = [value % step.unit for _, value in step.inputs()]
    longer_is_first = step.cell(_first(step)) >= step.cell(_second(step))
    lent = np.where(longer_is_first, pieces[0] < pieces[1], pieces[1] < pieces[0])
    fits: Flags = lent & (step.off == 10 - step.unit)
    return fits


def _first(step: Step) -> str:
    return step.grid.layout.checks[step.check].inputs[0][0]


def _second(step: Step) -> str:
    return step.grid.layout.checks[step.check].inputs[1][0]


def _any_input(step: Step, times: int) -> Flags:
    fits: list[Flags] = [(value > 0) & (step.off == times * value) for _, value in step.inputs()]
    return reduce(or_, fits)


def _subtracted_sums(step: Step) -> Flags:
    fits: Flags = step.stated == np.abs(step.cell("right_total") - step.cell("left_total"))
    return fits


def _fifth_circumference(step: Step) -> Flags:
    """As much too long as another circumference: between half and one and a half of the last one."""
    side = step.grid.layout.checks[step.check].figure[0]
    last = step.grid.layout.category.of_kind("circumference")
    if not last:
        return np.zeros(step.off.shape, dtype=bool)
    length = step.cell(f"{last[-1].name}_{side}")
    fits: Flags = (2 * step.off >= length) & (2 * step.off <= 3 * length) & (length > 0)
    return fits


def _side_abnormal(step: Step) -> Flags:
    side = step.grid.layout.checks[step.check].figure[0]
    points = step.cell(f"abnormal_{side}")
    fits: Flags = (points > 0) & (step.off == points)
    return fits


def _is(step: Step, times: int, name: str) -> Flags:
    value = step.cell(name)
    fits: Flags = (value > 0) & (step.off == times * value)
    return fits


def _stated_is(step: Step, name: str) -> Flags:
    value = step.recorded.get(name)
    fits: Flags = np.zeros(step.off.shape, dtype=bool) if value is None else (value > 0) & (step.stated == value)
    return fits


def _uncapped(step: Step) -> Flags:
    fits: Flags = step.stated == step.cell(_first(step))
    return fits


@lru_cache(maxsize=8)
def manners(abnormal: str) -> tuple[Manner, ...]:
    """The known manners for a category whose abnormal points are "subtracted", "added" or "none"."""
    forgotten, reversed_ = (1, 2) if abnormal == "subtracted" else (-1, -2)
    turned = "added instead of subtracted" if abnormal == "subtracted" else "subtracted instead of added"
    points = (
        Manner(("net",), 5, "the abnormal points were forgotten", lambda s: _is(s, forgotten, "abnormal_total")),
        Manner(("net",), 5, f"the abnormal points were {turned}", lambda s: _is(s, reversed_, "abnormal_total")),
        Manner(("deductions",), 5, "the abnormal points were forgotten", lambda s: _is(s, -1, "abnormal_total")),
        Manner(("deductions",), 5, "the abnormal points were taken off, which are added here",
               lambda s: _is(s, 1, "abnormal_total")),
        Manner(("gross",), 5, "the abnormal points were counted in", lambda s: _is(s, 1, "abnormal_total")),
        Manner(SIDE_SUMS, 5, "the side's abnormal points were counted in", _side_abnormal),
    )  # fmt: skip
    return (
        Manner(("diff_total",), 5, "the difference of the two side totals was taken instead of the rows' differences",
               _subtracted_sums),
        Manner(("diff_total",), 5, "a difference was subtracted instead of added", lambda s: _any_input(s, -2)),
        *(points if abnormal != "none" else ()),
        Manner(("spread_credit",), 12, "the inside spread was credited in full, beyond the longer beam", _uncapped),
        Manner(("spread_credit",), 12, "the greatest spread was credited instead of the inside spread",
               lambda s: _stated_is(s, "greatest_spread")),
        Manner(("spread_credit",), 12, "the tip to tip spread was credited instead of the inside spread",
               lambda s: _stated_is(s, "tip_to_tip")),
        Manner(("gross",), 5, "the spread credit was left out", lambda s: _is(s, -1, "spread_credit")),
        Manner(("net",), 5, "the deductions were added", lambda s: _is(s, 2, "deductions")),
        # a measure copied an inch off whose difference was worked out from it looks just like an inch in its side total
        Manner(SIDE_SUMS, 5, INCH_LOST, lambda s: s.off == -s.unit, is_weak=True),
        Manner(SIDE_SUMS, 5, INCH_MORE, lambda s: s.off == s.unit, is_weak=True),
        Manner(STEPS, 5, INCH_LOST, lambda s: s.off == -s.unit),
        Manner(STEPS, 5, INCH_MORE, lambda s: s.off == s.unit),
        Manner(("difference",), 5, "ten eighths were borrowed for an inch", _borrowed_ten),
        Manner(("difference",), 5, "an inch was lost in borrowing", lambda s: s.off == -s.unit),
        Manner(("difference",), 5, "an inch was not taken off in borrowing", lambda s: s.off == s.unit),
        Manner(SUMS, 5, "the parts of an inch were carried at ten", _added_as_tenths),
        Manner(SUMS, 4, "a row was left out", lambda s: _any_input(s, -1)),
        Manner(SUMS, 3, "a row was added twice", lambda s: _any_input(s, 1)),
        Manner(SIDE_SUMS, 3, "it is too long by as much as a fifth circumference", _fifth_circumference),
        Manner((*STEPS, "difference"), 4, MISCOUNTED, lambda s: np.abs(s.off) == 1),
        Manner((*STEPS, "difference"), 4, MISCOUNTED, lambda s: np.abs(s.off) <= 3, is_weak=True),
    )  # fmt: skip


def manner_of(step: Step) -> tuple[Ints, Ints]:
    """For each sheet the first manner that fits its step (place in `manners`, -1 for none), and how much it eases."""
    check = step.grid.layout.checks[step.check]
    name = "difference" if check.form == "difference" else check.figure
    first = np.full(step.off.shape, -1, dtype=np.int32)
    easier = np.zeros(step.off.shape, dtype=np.int32)
    for place, manner in enumerate(manners(step.grid.layout.category.abnormal)):
        if name in manner.of:
            fits = (first < 0) & manner.fits(step)
            first[fits], easier[fits] = place, manner.easier
    return first, easier
