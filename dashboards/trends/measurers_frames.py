"""The frames of the measurers' figures as they are drawn and handed out: by name, biases and errors in eighths."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

import polars as pl

from warehouse.book.trend_figures.measurers import Measurers, PanelLine
from warehouse.eighths import EIGHTHS, text_expr, text_of
from warehouse.plain_text import shown
from warehouse.trends import code_book_measurers as code_book
from warehouse.trends.higher_minimum import HigherMinimum
from warehouse.trends.remeasure import biases_that_open, bunching_that_opens, digits_that_open

LINES = ("beams", "circumferences", "points", "spreads")
"""Kinds of lines whose last eighths are told."""


@dataclass(frozen=True)
class MeasurersFrames:
    """The columns of `warehouse.trends.code_book_measurers`; by name, then by number, never by what was measured.

    `higher_minimums`: by book and minimum.
    """

    panels: pl.DataFrame
    biases: pl.DataFrame
    against_panel: pl.DataFrame
    digits: pl.DataFrame
    eighths: pl.DataFrame
    first_inch: pl.DataFrame
    higher_minimums: pl.DataFrame


def frames_of(measurers: Measurers, unit: int) -> MeasurersFrames:
    """The frames of `measurers`; scores are in units of 1/`unit` inch."""
    names = measurers.names
    return MeasurersFrames(
        panels=pl.DataFrame([_panel(panel) for panel in measurers.panels], schema=_PANEL),
        biases=_biases(measurers.panels, names),
        against_panel=_against_panel(measurers.scores, names, unit),
        digits=by_name(digits_that_open(measurers.digits), names, "line").select(*code_book.DIGITS),
        eighths=by_name(measurers.eighths, names, "line", "eighth").select(*code_book.EIGHTHS),
        first_inch=by_name(bunching_that_opens(measurers.above.rows), names).select(*code_book.FIRST_INCH),
        higher_minimums=pl.DataFrame([_higher(found, unit) for found in measurers.steps], schema=_HIGHER),
    )


def by_name(frame: pl.DataFrame, names: Mapping[str, str], *then: str) -> pl.DataFrame:
    """Adds `name` and sorts by it, the number and `then`; who has no name stands by the number."""
    name = pl.col("measurer").replace_strict(names, default=None, return_dtype=pl.String)
    named = frame.with_columns(name=name)
    return named.sort(pl.coalesce("name", "measurer").str.to_lowercase(), "measurer", *then)


def who(row: Mapping[str, object]) -> str:
    """ "Marda Quernlock (M-001)"; the number alone where there is no name."""
    number = shown(str(row["measurer"]), 40)
    return number if row["name"] is None else f"{shown(str(row['name']), 40)} ({number})"


def with_who(frame: pl.DataFrame) -> pl.DataFrame:
    """Adds `who`, in words."""
    return frame.with_columns(
        who=pl.Series([who(row) for row in frame.select("measurer", "name").iter_rows(named=True)], dtype=pl.String)
    )


_PANEL = pl.Schema({"session": pl.String, "line": pl.String, "heads": pl.Int64, "measurers": pl.Int64, "left_out": pl.Int64,
                    "few_heads": pl.Boolean, "technical_error": pl.Float64, "within_error": pl.Float64,
                    "icc_2_1": pl.Float64,
                    "icc_lower": pl.Float64, "icc_upper": pl.Float64})  # fmt: skip


def _panel(panel: PanelLine) -> dict[str, object]:
    found = panel.agreement
    there = {"session": panel.session, "line": panel.line}
    if found is None:
        return there | {"measurers": panel.biases.height}
    return there | {
        "heads": found.heads, "measurers": found.measurers, "left_out": found.left_out, "few_heads": found.few_heads,
        "technical_error": found.technical_error * EIGHTHS, "within_error": found.within_error * EIGHTHS,
        "icc_2_1": found.icc_2_1, "icc_lower": found.lower, "icc_upper": found.upper,
    }  # fmt: skip


_HIGHER = pl.Schema({"book": pl.String, "minimum": pl.String, "minimum_units": pl.Int64, "below": pl.Int64, "above": pl.Int64,
                     "share": pl.Float64, "lower": pl.Float64, "upper": pl.Float64, "expected": pl.Float64,
                     "sign": pl.String, "p": pl.Float64, "refused": pl.String})  # fmt: skip


def _higher(found: HigherMinimum, unit: int) -> dict[str, object]:
    minimum = {
        "book": found.book,
        "minimum": text_of(found.minimum_units, unit),
        "minimum_units": found.minimum_units,
    }
    return minimum | (asdict(found.step) if found.step else {"refused": "few-entries"})


def _biases(panels: tuple[PanelLine, ...], names: Mapping[str, str]) -> pl.DataFrame:
    columns = list(code_book.BIASES)
    if not panels:
        return pl.DataFrame(schema=columns)
    told = [
        by_name(biases_that_open(panel.biases), names).with_columns(
            session=pl.lit(panel.session), line=pl.lit(panel.line)
        )
        for panel in panels
    ]
    return pl.concat(told).with_columns(pl.col("bias", "lower", "upper", "from_middle") * EIGHTHS).select(columns)


def entry_name(row: Mapping[str, Any]) -> str:
    """An entry as a person names it: its number, or its ID as =ID."""
    return shown(row["entry_no"]) if row["entry_no"] else f"={row['entry_id']}"


def _against_panel(scores: pl.DataFrame, names: Mapping[str, str], unit: int) -> pl.DataFrame:
    lengths = [name for name in scores.columns if name.endswith(("_net", "_gross"))]
    off = (pl.col("sheet_net") - pl.col("panel_net")) * (EIGHTHS / unit)
    told = scores.with_columns(
        off.alias("difference"), *(text_expr(pl.col(name), unit).alias(name) for name in lengths)
    )
    return by_name(told, names, "entry_id").select(*code_book.AGAINST_PANEL)
