"""A beam tip measured as a point: every figure agrees, but a side has one point more than the sheet counts.

The tip is counted among the points and measured with the beam (common practice, no source). Nothing on the sheet
tells a tip measured twice from a count that is one too small, so this only ever makes a score uncertain.
"""

import polars as pl

from warehouse.audit.sheets import SIDE_NAMES, Sheets, points_found
from warehouse.categories import Category
from warehouse.checks import stated_cells
from warehouse.diagnosis.explanations import EXPLANATIONS
from warehouse.eighths import text_expr
from warehouse.scoring import recompute

KIND = "tip-as-point"


def one_point_too_many(side: str) -> pl.Expr:
    """Sheets that state one point fewer on this side than they measure, the tip counted in."""
    return ((pl.col(f"points_{side}") == points_found(side) - 1) & (pl.col(f"count.{side}") > 0)).fill_null(False)


def tip_explanations(sheets: Sheets) -> pl.DataFrame:
    """An explanation (EXPLANATIONS) for each sheet whose figures all agree and whose last point may be the tip."""
    category = sheets.category
    if not category.of_kind("point"):
        return pl.DataFrame(schema=EXPLANATIONS)
    flags = {side: one_point_too_many(side) for side in SIDE_NAMES}
    frame = sheets.frame.filter(pl.any_horizontal(flags.values()) & pl.col("net").is_not_null() & _agrees(sheets))
    if not frame.height:
        return pl.DataFrame(schema=EXPLANATIONS)
    frame = frame.with_columns(
        pl.when(flag).then(_last_point(category, side)).alias(f"last.{side}") for side, flag in flags.items()
    ).rechunk()
    without = frame.with_columns(
        pl.when(pl.col(f"last.{column[-1]}").ne_missing(column)).then(column).otherwise(0).alias(column)
        for line in category.of_kind("point")
        for column in line.columns
    )
    return _explanations(frame, recompute(without, category), category)


def _agrees(sheets: Sheets) -> pl.Expr:
    stated = [figure for figure in stated_cells(sheets.category) if f"stated.{figure}" in sheets.frame.columns]
    same = [(pl.col(f"stated.{figure}") == pl.col(figure)).fill_null(True) for figure in stated]
    return pl.all_horizontal(same) if same else pl.lit(True)


def _last_point(category: Category, side: str) -> pl.Expr:
    """The name of the last point measured on a side."""
    columns = [f"{line.name}_{side}" for line in category.of_kind("point")]
    return pl.coalesce(pl.when(pl.col(column) > 0).then(pl.lit(column)) for column in reversed(columns))


def _explanations(frame: pl.DataFrame, figures: pl.DataFrame, category: Category) -> pl.DataFrame:
    lasts = [pl.col(f"last.{side}") for side in SIDE_NAMES]
    lengths = [_length_of(category, side) for side in SIDE_NAMES]
    stated = [name for name in stated_cells(category) if f"stated.{name}" in frame.columns]
    joined = frame.hstack([figures[name].alias(f"new.{name}") for name in stated if name != "net"])
    joined = joined.with_columns(figures["net"].alias("new.net"))
    changed = [
        pl.when(pl.col(f"stated.{name}") != pl.col(f"new.{name}"))
        .then(pl.struct(cell=pl.lit(name), value=pl.col(f"new.{name}")))
        for name in stated
    ]  # fmt: skip
    nothing = pl.lit([], dtype=pl.List(pl.Struct({"cell": pl.String, "value": pl.Int32})))
    follow = (pl.concat_list(changed) if changed else nothing).list.drop_nulls()
    told = joined.select(
        pl.col("id").cast(pl.UInt32),
        place=pl.lit(0, dtype=pl.UInt16),
        tie=pl.lit(False),
        kind=pl.lit(KIND),
        cells=pl.concat_list(lasts).list.drop_nulls(),
        stated=pl.concat_list(lengths).list.drop_nulls(),
        follow=follow,
        net=pl.col("new.net"),
        why=_sentence(category),
    )
    return told.select(
        "id", "place", "tie", "kind", "cells", "stated",
        proposed=pl.col("stated").list.eval(pl.element() * 0),
        follows=pl.col("follow").list.eval(pl.element().struct.field("cell")),
        follows_proposed=pl.col("follow").list.eval(pl.element().struct.field("value")),
        net="net", why="why",
    ).cast(EXPLANATIONS)  # fmt: skip


def _length_of(category: Category, side: str) -> pl.Expr:
    """The length of the last point of a side, null where the side has none too many."""
    columns = [f"{line.name}_{side}" for line in category.of_kind("point")]
    return pl.coalesce(pl.when(pl.col(f"last.{side}") == column).then(column) for column in columns)


def _sentence(category: Category) -> pl.Expr:
    sides = [
        pl.when(pl.col(f"last.{side}").is_not_null()).then(
            pl.format(
                f"the {name} side's last point ({{}}, {{}})",
                pl.col(f"last.{side}").str.head(2).str.to_uppercase(),
                text_expr(_length_of(category, side), category.unit),
            )
        )
        for side, name in SIDE_NAMES.items()
    ]
    who = pl.concat_str(sides, separator=" and ", ignore_nulls=True)
    return pl.concat_str(
        who.str.slice(0, 1).str.to_uppercase() + who.str.slice(1),
        pl.format(
            " may be the beam tip, which is measured with the beam: one point fewer is stated; without it the net is {}.",
            text_expr(pl.col("new.net"), category.unit),
        ),
    )
