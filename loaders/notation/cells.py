"""Read whole columns of lengths: each distinct text is read once, and every cell looks its reading up."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from loaders.notation.habits import traits_of
from loaders.notation.spellings import BLANK, MEASURED, OPEN, spell


@dataclass(frozen=True)
class Readings:
    """Columns of lengths, read. All frames have the height and order of the cells they came from.

    `values` (Int32 units; null where blank, open or unreadable; absent is 0) has every column. `states`, `first`
    and `second` (see `spellings`) have only the columns in which some cell is neither measured nor blank; in every
    other column a null value is a blank and nothing else. `traits` (see `habits`) has every column where some cell
    is open, else none.
    """

    values: pl.DataFrame
    states: pl.DataFrame
    first: pl.DataFrame
    second: pl.DataFrame
    traits: pl.DataFrame


def read_columns(cells: pl.DataFrame, columns: Sequence[str], unit: int = 8) -> Readings:
    """Read the text columns `columns` of `cells` as lengths in 1/`unit` inch."""
    pool = pl.Categories.random("lengths")
    coded = cells.select(pl.col(columns).cast(pl.Categorical(pool)))
    texts = pool.to_series()  # the pool lives only as long as a column that uses it
    codes = coded.select(pl.all().to_physical())
    table = spell(texts, unit)
    irregular = table.select(~pl.col("state").is_in([MEASURED, BLANK])).to_series()
    odd = _columns_with(irregular, codes) if irregular.any() else []
    return Readings(
        values=_look_up(table["value"], codes, columns),
        states=_look_up(table["state"], codes, odd).with_columns(pl.all().fill_null(BLANK)),
        first=_look_up(table["first"], codes, odd),
        second=_look_up(table["second"], codes, odd),
        traits=_traits(texts, table["state"], codes, columns, unit),
    )


def _traits(
    texts: pl.Series, states: pl.Series, codes: pl.DataFrame, columns: Sequence[str], unit: int
) -> pl.DataFrame:
    if not (states == OPEN).any():
        return pl.DataFrame()
    return _look_up(traits_of(texts, unit), codes, columns).with_columns(pl.all().fill_null(0))


def _columns_with(flags: pl.Series, codes: pl.DataFrame) -> list[str]:
    """The columns in which some cell's text is flagged."""
    places = flags.arg_true().implode()
    found = codes.select(pl.col(column).is_in(places).any() for column in codes.columns)
    return [column for column in codes.columns if found[column][0]]


def _look_up(values: pl.Series, codes: pl.DataFrame, columns: Sequence[str]) -> pl.DataFrame:
    return codes.select(pl.lit(values).gather(pl.col(column)).alias(column) for column in columns)
