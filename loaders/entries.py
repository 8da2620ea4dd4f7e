"""The entry beside its measures: number, category, area, dates, season, weapon and measurer of each row, resolved."""

from collections.abc import Callable
from datetime import date

import polars as pl

from loaders.dates import read_dates, read_seasons, season_of
from loaders.fields import ENTRY
from loaders.names import Names, resolve_areas, resolve_measurers
from loaders.tables import Table
from loaders.value_words import UNCLEAR, category_code_of, weapon_of
from warehouse.audit.entry_rules import EntryContext, entry_rules
from warehouse.audit.rules import apply


def resolve_entries(table: Table, names: Names) -> pl.DataFrame:
    """The frame of `warehouse.audit.entry_rules`, one row for each row of the table, in its order."""
    height = table.cells.height
    frame = pl.DataFrame({"id": pl.int_range(height, dtype=pl.UInt32, eager=True)})
    frame = frame.with_columns(table.text(field).alias(f"text.{field}") for field in ENTRY)
    weapons = _look_up(table.text("weapon"), weapon_of)
    frame = frame.with_columns(
        _entry_number(table.text("entry_no")),
        _trimmed(table.text("hunter")).alias("hunter"),
        _trimmed(table.text("tag_no")).alias("tag_no"),
        _trimmed(table.text("area")).alias("area_written"),
        _look_up(table.text("category"), category_code_of).alias("category"),
        weapons.replace({UNCLEAR: None}).alias("weapon"),
        (weapons == UNCLEAR).fill_null(False).alias("weapon.unclear"),
        resolve_measurers(names, table.text("measurer")).alias("measurer_no"),
        read_seasons(table.text("season")).alias("season_stated"),
        _fractional(table.text("entry_no")).alias("number.fractional"),
    )
    frame = frame.hstack(resolve_areas(names, table.text("area"), table.text("state")))
    for field in ("taken_on", "measured_on"):
        read = read_dates(table.text(field))
        frame = frame.with_columns(read["date"].alias(field), read["serial"].fill_null(False).alias(f"{field}.serial"))
    return frame.with_columns(_season(frame["taken_on"], names.seasons).alias("season"))


def entry_findings(entries: pl.DataFrame, table: Table, names: Names, today: date) -> pl.DataFrame:
    """Findings of the entry rules over the resolved entries of one table."""
    context = EntryContext(
        today=today,
        present=frozenset(table.present),
        knows_areas=bool(names.areas),
        knows_measurers=bool(names.measurers),
    )
    return apply(entry_rules(context), entries)


def _look_up(cells: pl.Series, resolve: Callable[[str | None], str | None]) -> pl.Series:
    texts = cells.unique()
    found = pl.Series([resolve(text) for text in texts], dtype=pl.String)
    return cells.replace_strict(texts, found, return_dtype=pl.String)


def _trimmed(cells: pl.Series) -> pl.Series:
    """Text with every run of blanks (no-break ones too) as one, none at the ends; null where nothing is left."""
    text = cells.str.replace_all(r"[\s\p{Zs}\u200b\ufeff]+", " ").str.strip_chars(" ")
    return text.to_frame("t").select(pl.when(pl.col("t") != "").then("t")).to_series()


def _entry_number(cells: pl.Series) -> pl.Series:
    """The sender's number as text; a spreadsheet's "12345.0" is its whole number, a number format is taken off."""
    text = _trimmed(cells).str.replace(r"^(.*\S) \[[^\[\]]*\]$", "$1")
    return text.str.replace(r"^(\d+)\.0+$", "$1").alias("entry_no")


def _fractional(cells: pl.Series) -> pl.Series:
    return cells.str.contains(r"^\s*\d+\.0*[1-9]\d*\s*$").fill_null(False)


def _season(taken: pl.Series, seasons: pl.DataFrame | None) -> pl.Series:
    """The season of each date: from the book's table where it covers the day, else by the 1 July rule."""
    by_rule = season_of(taken)
    if seasons is None or not seasons.height:
        return by_rule
    days = pl.DataFrame({"taken": taken, "by_rule": by_rule}).with_row_index("n")
    known = days.drop_nulls("taken").sort("taken")
    joined = known.join_asof(seasons.sort("starts_on"), left_on="taken", right_on="starts_on")
    found = joined.select("n", found=pl.when(pl.col("taken") <= pl.col("ends_on")).then("season"))
    return days.join(found, on="n", how="left", maintain_order="left").select(
        pl.coalesce("found", "by_rule").alias("season")
    ).to_series()
