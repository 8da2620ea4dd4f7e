"""The entry beside its measures: number, category, area, dates, season, weapon and measurer of each row, resolved."""

from collections.abc import Callable
from datetime import date

import polars as pl

from loaders.ages import read_ages
from loaders.area_history import as_of_date_taken
from loaders.cell_format import without_format
from loaders.dates import read_dates, read_seasons, season_of
from loaders.distinct import distinct
from loaders.fields import ENTRY
from loaders.names import Names, resolve_areas, resolve_measurers
from loaders.tables import Table
from loaders.value_words import UNCLEAR, antler_state_of, category_code_of, weapon_of
from warehouse.audit.entry_rules import EntryContext, entry_rules
from warehouse.audit.rules import apply


def resolve_entries(table: Table, names: Names) -> pl.DataFrame:
    """The frame of `warehouse.audit.entry_rules`, one row for each row of the table, in its order."""
    height = table.cells.height
    number, fractional = _entry_number(table.text("entry_no"))
    weapon = _look_up(table.text("weapon"), weapon_of)
    columns = [
        pl.int_range(height, dtype=pl.UInt32, eager=True).alias("id"),
        *(table.text(field).alias(f"text.{field}") for field in ENTRY),
        number.alias("entry_no"),
        fractional.alias("number.fractional"),
        _trimmed(table.text("hunter")).alias("hunter"),
        _trimmed(table.text("tag_no")).alias("tag_no"),
        _trimmed(table.text("area")).alias("area_written"),
        _look_up(table.text("category"), category_code_of).alias("category"),
        weapon.replace({UNCLEAR: None}).alias("weapon"),
        (weapon == UNCLEAR).fill_null(False).alias("weapon.unclear"),
        _look_up(table.text("antler_state"), antler_state_of).alias("antler_state"),
        resolve_measurers(names, table.text("measurer")).alias("measurer_no"),
        *_ages(table.text("age")),
        *_dates(table, names),
    ]
    entries = pl.DataFrame(columns).hstack(resolve_areas(names, table.text("area"), table.text("state")))
    return entries if names.history is None else as_of_date_taken(names.history, entries)


def _ages(cells: pl.Series) -> list[pl.Series]:
    texts = distinct(cells)
    read = read_ages(texts.texts)
    return [
        texts.spread(read["half_years"]).alias("age_half_years"),
        texts.spread(read["unread"]).fill_null(False).alias("age.unread"),
    ]


def _dates(table: Table, names: Names) -> list[pl.Series]:
    stated = distinct(table.text("season"))
    columns = [stated.spread(read_seasons(stated.texts)).alias("season_stated")]
    for field in ("taken_on", "measured_on"):
        days = distinct(table.text(field))
        read = read_dates(days.texts)
        columns.append(days.spread(read["date"]).alias(field))
        columns.append(days.spread(read["serial"]).fill_null(False).alias(f"{field}.serial"))
        if field == "taken_on":
            columns.append(days.spread(_season(read["date"], names.seasons)).alias("season"))
    return columns


def entry_findings(entries: pl.DataFrame, table: Table, names: Names, today: date) -> pl.DataFrame:
    """Findings of the entry rules over the resolved entries of one table."""
    context = EntryContext(
        today=today,
        present=frozenset(table.present),
        knows_areas=bool(names.areas),
        knows_measurers=bool(names.measurers),
        knows_area_changes=names.history is not None,
    )
    return apply(entry_rules(context), entries)


def _look_up(cells: pl.Series, resolve: Callable[[str | None], str | None]) -> pl.Series:
    words = distinct(cells)
    return words.spread(pl.Series([resolve(text) for text in words.texts], dtype=pl.String))


_ODD_BLANK = r"[\t\n\x0b\x0c\r\x{85}\x{a0}\x{1680}\x{2000}-\x{200b}\x{2028}\x{2029}\x{202f}\x{205f}\x{3000}\x{feff}]|  "


def _trimmed(cells: pl.Series) -> pl.Series:
    """Text with every run of blanks (no-break ones too) as one, none at the ends; null where nothing is left."""
    text = cells.str.strip_chars()
    if text.str.contains(_ODD_BLANK).any():
        text = text.str.replace_all(r"[\s\p{Zs}\x{200b}\x{feff}]+", " ").str.strip_chars(" ")
    if (text == "").any():
        text = text.to_frame("t").select(pl.when(pl.col("t") != "").then("t")).to_series()
    return text


def _entry_number(cells: pl.Series) -> tuple[pl.Series, pl.Series]:
    """The sender's number as text, and whether it is a number that is not whole.

    A spreadsheet's "12345.0" is its whole number; a number format behind it is taken off.
    """
    text = _trimmed(cells)
    if not text.str.contains_any([".", "["]).any():
        return text, pl.Series([False]).new_from_index(0, len(text))
    text = text.to_frame("t").select(without_format(pl.col("t"))).to_series().str.replace(r"^([0-9]+)\.0+$", "$1")
    return text, text.str.contains(r"^[0-9]+\.0*[1-9][0-9]*$").fill_null(False)


def _season(taken: pl.Series, seasons: pl.DataFrame | None) -> pl.Series:
    """The season of each date: from the book's table where it covers the day, else by the 1 July rule."""
    by_rule = season_of(taken)
    if seasons is None or not seasons.height:
        return by_rule
    days = pl.DataFrame({"taken": taken, "by_rule": by_rule}).with_row_index("n")
    known = days.drop_nulls("taken").sort("taken")
    joined = known.join_asof(seasons.sort("starts_on"), left_on="taken", right_on="starts_on")
    found = joined.select("n", found=pl.when(pl.col("taken") <= pl.col("ends_on")).then("season"))
    return (
        days.join(found, on="n", how="left", maintain_order="left")
        .select(pl.coalesce("found", "by_rule").alias("season"))
        .to_series()
    )
