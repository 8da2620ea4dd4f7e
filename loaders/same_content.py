"""Whether a row says what the book's row for it says, field by field, however its file was laid out."""

from collections.abc import Sequence

import polars as pl

from loaders.fields import all_fields
from loaders.tables import Table
from warehouse.book.cells_text import split_cells


def field_texts(cells: pl.DataFrame, fields: Sequence[str | None]) -> pl.DataFrame:
    """Cells under the names of our fields, every field in its order; blanks trimmed, nothing where there is none."""
    present = {field: column for field, column in zip(fields, cells.columns, strict=True) if field}
    return cells.select(
        (pl.col(present[field]).str.strip_chars().fill_null("") if field in present else pl.lit("")).alias(field)
        for field in all_fields()
    )


def changes(table: Table, ids: pl.Series, before: pl.DataFrame) -> pl.Series:
    """What changed in each row, in words ("beam_r: 21 2/8 -> 21 3/8"); an empty text where nothing did.

    `ids` are the rows of the table; `before` has, in the same order, `cells` and `fields` of the book's row for each.
    """
    now = field_texts(table.cells[ids], table.fields)
    old = _old_texts(before)
    both = now.hstack(old.rename({field: f"old.{field}" for field in old.columns}))
    words = [
        both.select(
            pl.when(pl.col(field) != pl.col(f"old.{field}"))
            .then(pl.concat_str(pl.lit(f"{field}: "), _shown(f"old.{field}"), pl.lit(" -> "), _shown(field)))
            .alias(field)
        ).to_series()
        for field in all_fields()
    ]
    return (
        pl.DataFrame(words)
        .select(pl.concat_str(pl.all(), separator="; ", ignore_nulls=True).alias("changes"))
        .to_series()
    )


def _shown(column: str) -> pl.Expr:
    return pl.when(pl.col(column) == "").then(pl.lit("(blank)")).otherwise(column)


def _old_texts(before: pl.DataFrame) -> pl.DataFrame:
    """The book's rows under our fields; each layout of columns is split once."""
    parts = []
    numbered = before.with_row_index("n")
    for _, group in numbered.group_by("fields", maintain_order=True):
        fields = [field or None for field in group["fields"][0]]
        parts.append(field_texts(split_cells(group["cells"], len(fields)), fields).with_columns(group["n"]))
    return pl.concat(parts).sort("n").drop("n")
