"""Turns measures in inches into the frames that scoring takes, and its figures back into inches."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

import polars as pl

from warehouse.categories import Category
from warehouse.scoring import recompute

Sheet = Mapping[str, Fraction]


def frame_of(sheets: Sequence[Sheet], category: Category) -> pl.DataFrame:
    """One Int32 column a measure, in the category's unit; a measure a sheet does not name is 0."""
    columns = (*category.measures, "abnormal_total")
    rows = {name: [_units(sheet.get(name, Fraction(0)), category.unit) for sheet in sheets] for name in columns}
    return pl.DataFrame(rows, schema=dict.fromkeys(columns, pl.Int32))


def _units(length: Fraction, unit: int) -> int:
    units = length * unit
    assert units.denominator == 1
    return int(units)


def figures_in_inches(sheets: Sequence[Sheet], category: Category) -> list[dict[str, Fraction]]:
    """The product's figures of every sheet, as exact inches."""
    rows = recompute(frame_of(sheets, category), category).to_dicts()
    return [{name: Fraction(value, category.unit) for name, value in row.items()} for row in rows]
