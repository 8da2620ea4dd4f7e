"""The cells of some sheets that have two readings, or one that a spreadsheet hid, in blocks of one habit each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

import numpy as np
import polars as pl

from loaders.fields import ABNORMAL
from loaders.notation import Readings
from loaders.notation.habits import DATED, ROUNDED, RUN_TOGETHER
from loaders.notation.spellings import DATE, HIDDEN, OPEN
from warehouse.audit.readings import FIRST, SECOND, Flags
from warehouse.categories import Category

UNSURE = (OPEN, DATE, HIDDEN)
STATED_TOTAL = "stated.abnormal_total"
MEASURES, DIFFERENCES, TOTALS, FRACTIONS = range(4)  # blocks; FRACTIONS are "277/8", in whatever column


@dataclass(frozen=True)
class OpenCells:
    """State and readings of the columns in which some cell is unsure; heights are those of the category's sheets.

    Columns are named as in the sheet frame: a measure, `stated.<figure>`, or `abnormal_r`/`abnormal_l`. `traits`
    (see `loaders.notation.habits`) has every length column, if any cell of the file is open.
    """

    states: pl.DataFrame
    first: pl.DataFrame
    second: pl.DataFrame
    traits: pl.DataFrame

    @classmethod
    def of(
        cls,
        readings: Readings,
        lists: Mapping[str, pl.DataFrame],
        ids: pl.Series | None,
        category: Category,
        stated: Sequence[str],
    ) -> "OpenCells | None":
        """Gather the unsure columns; None where every cell is sure."""
        names = {column: column for column in category.measures} | {column: f"stated.{column}" for column in stated}

        def taken(frame: pl.DataFrame) -> list[pl.Series]:
            series = [frame[column].alias(names[column]) for column in frame.columns if column in names]
            return series if ids is None else [one[ids] for one in series]

        def listed(part: str) -> list[pl.Series]:
            return [frame[part].alias(field) for field, frame in lists.items()]

        states = [*taken(readings.states), *listed("state")]
        unsure = [state.name for state in states if state.is_in(UNSURE).any()]
        if not unsure:
            return None
        parts = (states, [*taken(readings.first), *listed("first")], [*taken(readings.second), *listed("second")])
        kept, first, second = (pl.DataFrame([one for one in part if one.name in unsure]) for part in parts)
        return cls(kept, first, second, pl.DataFrame([*taken(readings.traits), *listed("traits")]))

    def readings(self) -> tuple[pl.DataFrame, pl.DataFrame]:
        """The two lengths that each unsure cell may be; null for a cell that is sure."""
        unsure = [self.states[name].is_in(UNSURE) for name in self.states.columns]
        frames = (self.first, self.second)
        first, second = (pl.DataFrame([frame[flag.name].set(~flag, None) for flag in unsure]) for frame in frames)
        return first, second

    def rows(self) -> pl.Series:
        """Places of the sheets that have an unsure cell."""
        flags = self.states.select(pl.any_horizontal(pl.all().is_in(UNSURE))).to_series()
        return flags.arg_true()

    def take(self, rows: pl.Series) -> "OpenCells":
        """The same for some sheets only."""
        traits = self.traits[rows] if self.traits.width else self.traits
        return OpenCells(self.states[rows], self.first[rows], self.second[rows], traits)

    def flags(self) -> pl.DataFrame:
        """Which cells are unsure."""
        return self.states.select(pl.all().is_in(UNSURE))

    def trait(self, name: str, mark: int) -> pl.Series:
        """Which cells of a column have a mark of spelling."""
        return (self.traits[name] & mark) > 0

    def needs_figures(self, name: str) -> pl.Series:
        """The unsure cells that only the sheet's figures can confirm: a spreadsheet made them of something else."""
        return self.states[name].is_in([DATE, HIDDEN]) | self._open(name, DATED, True)

    def in_block(self, block: int) -> dict[str, pl.Series]:
        """Column -> its open cells (Boolean) that belong to a block, where there are any."""
        columns = {
            name: self._open(name, RUN_TOGETHER, block == FRACTIONS)
            for name in self.states.columns
            if block in (block_of(name), FRACTIONS)
        }
        return {name: flags for name, flags in columns.items() if flags.any()}

    def _open(self, name: str, mark: int, marked: bool) -> pl.Series:
        is_open = self.states[name] == OPEN
        if name not in self.traits.columns:
            return is_open & (not marked)
        return is_open & (self.trait(name, mark) == marked)


@dataclass(frozen=True)
class Blocks:
    """The blocks that have an open cell on some of the sheets, and for each its cells: column -> Boolean."""

    names: tuple[int, ...]
    cells: tuple[Mapping[str, pl.Series], ...]

    @classmethod
    def of(cls, opened: OpenCells) -> "Blocks":
        """The blocks of these sheets, in their fixed order."""
        found = {block: opened.in_block(block) for block in (MEASURES, DIFFERENCES, TOTALS, FRACTIONS)}
        kept = {block: cells for block, cells in found.items() if cells}
        return cls(tuple(kept), tuple(kept.values()))

    def has(self, height: int) -> Flags:
        """(height, blocks) The sheets that have an open cell in each block."""
        return flags_of([reduce(or_, cells.values()) for cells in self.cells], height)


def flags_of(columns: Sequence[pl.Series], height: int) -> Flags:
    """Boolean columns side by side as an array (height, columns)."""
    flags = np.zeros((height, len(columns)), dtype=np.bool_)
    for place, column in enumerate(columns):
        flags[:, place] = column.to_numpy()
    return flags


def block_of(name: str) -> int:
    """The block of a column of the sheet frame, run-together fractions apart."""
    if not name.startswith("stated."):
        return MEASURES
    return DIFFERENCES if name.endswith("_diff") else TOTALS


@dataclass(frozen=True)
class Reading:
    """How each sheet's blocks are read: `blocks` (UInt8, one a block: FIRST, SECOND, or 0), `confirmed` (Boolean: all
    the sheet's figures agree) and `exact` (Boolean, one a block: without its rounded decimals, which stay open)."""

    blocks: Sequence[pl.Series]
    confirmed: pl.Series
    exact: Sequence[pl.Series]

    def leaves_open(self, name: str, opened: OpenCells, place: int) -> pl.Series:
        """The cells of a column that the reading of the block at `place` does not settle."""
        unconfirmed = opened.needs_figures(name) & ~self.confirmed
        if name not in opened.traits.columns:
            return unconfirmed
        return unconfirmed | (self.exact[place] & opened.trait(name, ROUNDED))


def values_of(opened: OpenCells, blocks: Blocks, reading: Reading) -> pl.DataFrame:
    """The value of every unsure cell in a reading; null where it leaves the cell open."""
    columns = []
    for name in opened.states.columns:
        taken = _reading_of(name, opened, blocks, reading)
        frame = pl.DataFrame([taken.alias("way"), opened.first[name].alias("one"), opened.second[name].alias("two")])
        value = pl.when(pl.col("way") == FIRST).then("one").when(pl.col("way") == SECOND).then("two")
        columns.append(frame.select(value.alias(name)).to_series())
    return pl.DataFrame(columns)


def _reading_of(name: str, opened: OpenCells, blocks: Blocks, reading: Reading) -> pl.Series:
    """How each cell of a column is read (UInt8: FIRST, SECOND, or 0 for a sure or open one)."""
    single = opened.states[name].is_in([DATE, HIDDEN]) & reading.confirmed
    taken = single.cast(pl.UInt8) * FIRST  # both readings of a date are the same
    for place, cells in enumerate(blocks.cells):
        if name in cells:
            settled = cells[name] & ~reading.leaves_open(name, opened, place)
            taken = taken + settled.cast(pl.UInt8) * reading.blocks[place]
    return taken


def in_way(opened: OpenCells, blocks: Blocks, way: Sequence[int]) -> pl.DataFrame:
    """The value of every unsure cell where every sheet reads its blocks in one way."""
    columns = []
    for name in opened.states.columns:
        own = next((way[n] for n, block in enumerate(blocks.names) if block == block_of(name)), FIRST)
        value = opened.first[name] if own == FIRST else opened.second[name]
        if FRACTIONS in blocks.names and name in blocks.cells[-1] and way[-1] != own:
            other = opened.second[name] if own == FIRST else opened.first[name]
            value = where(blocks.cells[-1][name], other, value).alias(name)
        columns.append(value)
    return pl.DataFrame(columns)


def scored_with(sheets: pl.DataFrame, values: pl.DataFrame, flags: pl.DataFrame) -> pl.DataFrame:
    """The sheets with the values of their unsure cells filled in, and the abnormal total that follows from them."""
    lists = [name for name in values.columns if name in ABNORMAL]
    read = sheets.with_columns(where(flags[name], values[name], sheets[name]).alias(name) for name in values.columns)
    if STATED_TOTAL in flags.columns:
        unsure = flags[STATED_TOTAL] & stands_for_points(sheets)
        read = read.with_columns(where(unsure, values[STATED_TOTAL], read["abnormal_total"]).alias("abnormal_total"))
    return read.with_columns(_listed_total(read, values, flags, lists)) if lists else read


def stands_for_points(sheets: pl.DataFrame) -> pl.Series:
    """Sheets that list no abnormal point: their stated total is what is scored."""
    lists = [pl.col(name).fill_null(1) == 0 for name in ABNORMAL if name in sheets.columns]
    stands = pl.Series([True]).new_from_index(0, sheets.height)
    return sheets.select(pl.all_horizontal(lists)).to_series() if lists else stands


def as_measures(flags: pl.DataFrame, sheets: pl.DataFrame) -> pl.DataFrame:
    """Flags under the columns that scoring knows: an unsure list, or total without a list, makes the total unsure."""
    lists = [name for name in flags.columns if name in ABNORMAL]
    unsure = [flags[name] for name in lists]
    if STATED_TOTAL in flags.columns:
        unsure.append(flags[STATED_TOTAL] & stands_for_points(sheets))
    return flags.drop(lists).with_columns(reduce(or_, unsure).alias("abnormal_total")) if unsure else flags


def where(flag: pl.Series, new: pl.Series, old: pl.Series) -> pl.Series:
    """`new` where flagged, else `old`."""
    parts = pl.DataFrame([flag.alias("flag"), new.alias("new"), old.alias("old")])
    return parts.select(pl.when("flag").then("new").otherwise("old")).to_series()


def _listed_total(sheets: pl.DataFrame, values: pl.DataFrame, flags: pl.DataFrame, lists: Sequence[str]) -> pl.Series:
    """Both lists' sums in one reading; a list that is sure has the same sum in either, a blank one nothing."""
    others = [name for name in ABNORMAL if name in sheets.columns and name not in lists]
    frame = pl.DataFrame(
        [sheets["abnormal_total"].alias("old"), *(sheets[name].alias(f"new.{name}") for name in others)]
        + [where(flags[name], values[name], sheets[name]).alias(f"new.{name}") for name in lists]
        + [flags[name].alias(f"flag.{name}") for name in lists]
    )
    total = reduce(lambda left, right: left + right, (pl.col(f"new.{name}") for name in (*lists, *others)))
    unsure = pl.any_horizontal(pl.col(f"flag.{name}") for name in lists)
    return frame.select(pl.when(unsure).then(total).otherwise("old").cast(pl.Int32).alias("abnormal_total")).to_series()
