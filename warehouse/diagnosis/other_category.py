"""A sheet worked out by the rule of its sister category: abnormal points taken off instead of added, or the reverse.

Every figure then agrees with the other rule. Either the rule was mistaken or the category was, and the two give
different scores: so such a score is never certain.
"""

import polars as pl

from warehouse.audit.sheets import Sheets
from warehouse.diagnosis.explanations import EXPLANATIONS
from warehouse.eighths import text_expr

KIND = "other-category"
FIGURES = ("deductions", "net")
RULES = {
    "subtracted": "The abnormal points were added, as on a non-typical sheet: by this category",
    "added": "The abnormal points were taken off, as on a typical sheet: by this category",
}


def other_category_explanations(sheets: Sheets) -> pl.DataFrame:
    """An explanation (EXPLANATIONS) for each sheet that agrees throughout with the other rule, and not with its own."""
    rule, stated = sheets.category.abnormal, [name for name in FIGURES if name in sheets.present]
    if rule not in RULES or "net" not in stated:
        return pl.DataFrame(schema=EXPLANATIONS)
    abnormal, lost = pl.col("abnormal_total"), pl.col("deductions")
    less = lost - abnormal if rule == "subtracted" else lost + abnormal
    by_other = {"deductions": less, "net": pl.col("gross") - less + (abnormal if rule == "subtracted" else 0)}
    others = [name for name in sheets.frame.columns if name.startswith("stated.")]
    agree = [
        (pl.col(name) == by_other.get(name.removeprefix("stated."), pl.col(name.removeprefix("stated.")))).fill_null(
            True
        )
        for name in others
    ]
    wrong = (pl.col("stated.net") != pl.col("net")) & (abnormal > 0)
    frame = sheets.frame.filter(wrong & pl.all_horizontal(agree)).rechunk()
    if not frame.height:
        return pl.DataFrame(schema=EXPLANATIONS)
    off = [pl.when(pl.col(f"stated.{name}") != pl.col(name)).then(pl.struct(
        cell=pl.lit(name), stated=pl.col(f"stated.{name}"), right=pl.col(name))) for name in stated]  # fmt: skip
    told = frame.select("id", "net", "deductions", off=pl.concat_list(off).list.drop_nulls())
    parts = {"cells": "cell", "stated": "stated", "proposed": "right"}
    unit = sheets.category.unit
    why = pl.format(
        f"{RULES[rule]} the deductions come to {{}} and the net to {{}}; or else the category is not the right one.",
        text_expr(pl.col("deductions"), unit), text_expr(pl.col("net"), unit),
    )  # fmt: skip
    nothing = {"follows": pl.List(pl.String()), "follows_proposed": pl.List(pl.Int32())}
    return told.with_columns(
        *(pl.col("off").list.eval(pl.element().struct.field(field)).alias(name) for name, field in parts.items()),
        *(pl.lit([], dtype=dtype).alias(name) for name, dtype in nothing.items()),
        place=0, tie=False, kind=pl.lit(KIND), why=why,
    ).select(EXPLANATIONS.names()).cast(EXPLANATIONS)  # fmt: skip
