"""Hold every check of a grid: what each figure should be from its stated inputs, and how far off it is."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from warehouse.checks import Check
from warehouse.diagnosis.grid import Flags, Grid, Ints

Bits = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Residuals:
    """By check (rows) and sheet (columns).

    `worked`: what the figure comes to; `used`: the stated figure, or where none is stated the worked one, and
    `usable` whether that is known; `tried`: stated, and all its inputs usable; `off`: stated less worked, 0 where
    the check could not be tried.
    """

    worked: Ints
    used: Ints
    usable: Flags
    tried: Flags
    off: Ints

    def take(self, sheets: Bits) -> "Residuals":
        """Those of some sheets."""
        return Residuals(
            self.worked[:, sheets],
            self.used[:, sheets],
            self.usable[:, sheets],
            self.tried[:, sheets],
            self.off[:, sheets],
        )

    @property
    def broken(self) -> Bits:
        """The checks that do not hold, as a set of bits for each sheet."""
        return as_bits(self.off != 0)


def as_bits(flags: Flags) -> Bits:
    """Row n of `flags` as bit n."""
    weights = np.left_shift(np.int64(1), np.arange(flags.shape[0], dtype=np.int64))
    bits: Bits = weights @ flags.astype(np.int64)
    return bits


def residuals(grid: Grid) -> Residuals:
    """Hold every check of every sheet of the grid."""
    layout = grid.layout
    shape = (len(layout.checks), grid.values.shape[1])
    found = Residuals(*(np.zeros(shape, dtype) for dtype in (np.int32, np.int32, bool, bool, np.int32)))
    row = {check.figure: n for n, check in enumerate(layout.checks)}
    for n, check in enumerate(layout.checks):
        inputs = [
            (sign, found.used[row[cell]], found.usable[row[cell]])
            if cell in row
            else (sign, grid.of(cell), grid.is_known(cell))
            for cell, sign in check.inputs
        ]
        known = np.logical_and.reduce([usable for _, _, usable in inputs])
        stated, is_stated = grid.of(check.figure), grid.is_known(check.figure)
        worked = _worked(check, [(sign, value) for sign, value, _ in inputs])
        tried = known & is_stated
        if check.figure == "abnormal_total":
            tried &= grid.listed
        found.worked[n], found.tried[n] = worked, tried
        found.used[n] = np.where(is_stated, stated, worked)
        found.usable[n] = known | is_stated
        found.off[n] = np.where(tried, stated - worked, 0)
    return found


def _worked(check: Check, inputs: list[tuple[int, Ints]]) -> Ints:
    values = [value for _, value in inputs]
    worked: Ints
    if check.form == "difference":
        worked = np.abs(values[0] - values[1])
    elif check.form == "credit":
        worked = np.minimum(values[0], np.maximum.reduce(values[1:])) if len(values) > 1 else values[0]
    else:
        worked = sum((sign * value for sign, value in inputs), np.zeros_like(values[0]))
    return worked
