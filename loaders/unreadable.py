"""Cells of a sheet that cannot be read as what they should hold."""

import polars as pl

from loaders.fields import COUNTS
from loaders.notation.spellings import UNREADABLE
from loaders.sheet_frame import Cells, take_rows
from warehouse.audit.rules import FINDINGS, Rule, apply, together
from warehouse.audit.sheets import Sheets
from warehouse.categories import Category


def unreadable_findings(sheets: Sheets, cells: Cells, ids: pl.Series | None) -> pl.DataFrame:
    """An error for each length or count of these sheets that no reading fits."""
    states = take_rows(cells.readings.states, ids)
    category = sheets.category
    names = [column for column in states.columns if (states[column] == UNREADABLE).any()]
    frame = sheets.frame.select("id", *(field for field in COUNTS)).with_columns(
        (states[column] == UNREADABLE).alias(f"bad.{column}") for column in names
    )
    for field, read in cells.lists.items():
        bad = (read["state"] if ids is None else read["state"][ids]) == UNREADABLE
        frame = frame.with_columns(bad.alias(f"bad.{field}"))
        names.append(field)
    parts = [apply([_length(column, category) for column in names], frame, sheets.texts)]
    parts += [_count_findings(frame, sheets, field) for field in COUNTS if field in sheets.present]
    return together(parts) if parts else pl.DataFrame(schema=FINDINGS)


def _length(column: str, category: Category) -> Rule:
    text = pl.col(f"text.{column}")
    expected = f"inches and {'eighths' if category.unit == 8 else 'sixteenths'}, like 21 3/{category.unit}"
    return Rule(
        code="unreadable",
        cells=(column,),
        condition=pl.col(f"bad.{column}"),
        stated=text.str.slice(0, 60),
        expected=pl.lit(expected),
        message=pl.format(f"{column} '{{}}' cannot be read as a length; expected {expected}.", text.str.slice(0, 60)),
    )


def _count_findings(frame: pl.DataFrame, sheets: Sheets, field: str) -> pl.DataFrame:
    unread = frame.filter(pl.col(field).is_null()).select("id")
    text = pl.col(f"text.{field}")
    texts = sheets.texts[f"text.{field}"].gather(unread["id"])
    suspects = unread.with_columns(texts.alias(f"text.{field}"))
    rule = Rule(
        code="unreadable",
        cells=(field,),
        condition=text.str.strip_chars().fill_null("") != "",
        stated=text,
        expected=pl.lit("a whole number of points"),
        message=pl.format(f"{field} '{{}}' cannot be read; expected a whole number of points.", text),
    )
    return apply([rule], suspects)
