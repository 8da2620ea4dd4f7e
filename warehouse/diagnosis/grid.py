"""Sheets as whole-number grids: a row for each cell, a column for each sheet, so that every step runs over all sheets."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
import numpy.typing as npt
import polars as pl

from warehouse.audit.sheets import Sheets
from warehouse.categories import Category
from warehouse.checks import ABNORMAL, Check, checks_of, measured_cells, stated_cells

Ints = npt.NDArray[np.int32]
Flags = npt.NDArray[np.bool_]


# told apart by identity (`layout_of` makes one for each category), for it is looked up often
@dataclass(frozen=True, eq=False)
class Layout:
    """Where each cell of a category's sheet stands in a grid."""

    category: Category

    @cached_property
    def cells(self) -> tuple[str, ...]:
        """Every cell: measured ones, then stated figures."""
        return (*measured_cells(self.category), *stated_cells(self.category))

    @cached_property
    def place(self) -> dict[str, int]:
        """Cell -> row of the grid."""
        return {cell: place for place, cell in enumerate(self.cells)}

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """The category's checks; the n-th is bit n of every set of checks."""
        return checks_of(self.category)

    @cached_property
    def bit(self) -> dict[str, int]:
        """Figure -> its check as a bit."""
        return {check.figure: 1 << n for n, check in enumerate(self.checks)}


@lru_cache(maxsize=64)
def layout_of(category: Category) -> Layout:
    """The layout of a category, made once."""
    return Layout(category)


@dataclass(frozen=True)
class Grid:
    """`values` (units) and `known`, both of shape (cells, sheets); an unknown cell's value is 0.

    `listed`: whether the sheet lists abnormal points; where it lists none its stated total is taken as it stands.
    """

    layout: Layout
    values: Ints
    known: Flags
    listed: Flags

    def take(self, sheets: npt.NDArray[np.int64]) -> "Grid":
        """The grid of some sheets, any of them any number of times; its values may be written to."""
        return Grid(self.layout, self.values[:, sheets], self.known[:, sheets], self.listed[sheets])

    def of(self, cell: str) -> Ints:
        """The values of one cell."""
        row: Ints = self.values[self.layout.place[cell]]
        return row

    def is_known(self, cell: str) -> Flags:
        """Where one cell is known."""
        row: Flags = self.known[self.layout.place[cell]]
        return row


def grid_of(sheets: Sheets, rows: pl.Series) -> Grid:
    """The grid of the sheets at `rows` (places in the frame)."""
    layout = layout_of(sheets.category)
    frame = sheets.frame[rows]
    measured = measured_cells(sheets.category)
    columns = [name if name in measured else f"stated.{name}" for name in layout.cells]
    parts = [frame[name] if name in frame.columns else _absent(name, frame.height) for name in columns]
    values = np.stack([part.fill_null(0).to_numpy() for part in parts]).astype(np.int32)
    known = np.stack([part.is_not_null().to_numpy() for part in parts])
    counts = [frame[f"abnormal_count_{side}"].fill_null(1).to_numpy() for side in "rl"]
    return Grid(layout, values, known, (counts[0] + counts[1]) > 0)


def _absent(name: str, height: int) -> pl.Series:
    """A list of abnormal points that the file has no column for lists nothing; any other column is not known."""
    value = 0 if name in ABNORMAL else None
    return pl.Series(name, [value], dtype=pl.Int32).new_from_index(0, height)
