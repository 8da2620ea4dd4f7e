"""Stated figures that cannot be read, on sheets that agree otherwise: the measures say what each should be."""

import polars as pl

from warehouse.audit.sheets import Sheets
from warehouse.checks import stated_cells
from warehouse.diagnosis.explanations import EXPLANATIONS
from warehouse.diagnosis.wording import cell_words
from warehouse.eighths import text_expr


def figure_explanations(sheets: Sheets, unread: pl.DataFrame) -> pl.DataFrame:
    """An explanation (EXPLANATIONS) for each sheet with unread figures. `unread`: "id" and "cell", one row a cell.

    The caller leaves out sheets whose other figures disagree: there the diagnosis speaks.
    """
    figures = list(stated_cells(sheets.category))
    asked = unread.filter(pl.col("cell").is_in(figures))
    frame = sheets.frame.filter(pl.col("id").is_in(asked["id"].unique().implode()) & pl.col("net").is_not_null())
    if not frame.height:
        return pl.DataFrame(schema=EXPLANATIONS)
    values = frame.unpivot(on=figures, index="id", variable_name="cell", value_name="value")
    cells = asked.join(values, on=["id", "cell"], maintain_order="left").rechunk()
    words = cell_words(sheets.category)
    said = cells.with_columns(
        part=pl.format(
            "{} cannot be read, and the measures make it {}",
            pl.col("cell").replace_strict(words, default=pl.col("cell")),
            text_expr(pl.col("value"), sheets.category.unit),
        )
    )
    told = said.group_by("id", maintain_order=True).agg("cell", "value", pl.col("part").str.join("; and "))
    told = told.join(frame.select("id", "net"), on="id", maintain_order="left").rechunk()
    nothing = {"follows": pl.List(pl.String()), "follows_proposed": pl.List(pl.Int32())}
    return told.select(
        "id", place=0, tie=False, kind=pl.lit("unread"), cells="cell",
        stated=pl.col("value").list.eval(pl.when(pl.element().is_null()).then(pl.element())),  # none can be read
        proposed="value",
        **{name: pl.lit([], dtype=dtype) for name, dtype in nothing.items()},
        net="net",
        why=pl.col("part").str.slice(0, 1).str.to_uppercase() + pl.col("part").str.slice(1) + ".",
    ).cast(EXPLANATIONS)  # fmt: skip
