"""From the readings of a file's cells to the frame the sheet rules look at (`warehouse.audit.sheets`)."""

from dataclasses import dataclass

import polars as pl

from loaders.fields import ABNORMAL, COUNTS, measure_fields, stated_fields
from loaders.notation import Readings, read_columns, read_lists
from loaders.notation.spellings import ABSENT, BLANK, MEASURED, UNREADABLE
from loaders.open_readings import OpenCells, decide
from loaders.tables import Table
from warehouse.audit.rules import FINDINGS
from warehouse.audit.sheets import Sheets
from warehouse.categories import Category
from warehouse.scoring import recompute

SIDES = ("r", "l")


@dataclass(frozen=True)
class Cells:
    """Every length of a file, read in one unit: measures, stated figures, and the lists of abnormal points."""

    readings: Readings
    lists: dict[str, pl.DataFrame]
    present: frozenset[str]


def read_cells(table: Table, unit: int) -> Cells:
    """Read each length column of the table, each distinct text once."""
    lengths = [field for field in (*measure_fields(), *stated_fields()) if field in table.present]
    cells = table.cells.select(pl.col(table.present[field]).alias(field) for field in lengths)
    lists = {field: read_lists(table.text(field), unit) for field in ABNORMAL if field in table.present}
    return Cells(read_columns(cells, lengths, unit), lists, frozenset(table.present))


@dataclass(frozen=True)
class ReadSheets:
    """Sheets ready for the rules, with what was found while reading them."""

    sheets: Sheets
    findings: pl.DataFrame


def sheets_of(table: Table, cells: Cells, category: Category, ids: pl.Series | None) -> ReadSheets:
    """The sheets of one category: `ids` are their places in the table (None: all of them)."""
    texts = table.cells.select(pl.col(column).alias(f"text.{field}") for field, column in table.present.items())
    measures, opened = _measures(cells, category, ids)
    findings = pl.DataFrame(schema=FINDINGS)
    if opened is not None:
        measures, findings = decide(measures, opened, category, texts)
    frame = _with_blanks(measures, cells, category, ids)
    frame = frame.hstack(recompute(frame, category).drop("abnormal_total"))
    frame = frame.with_columns(*_counts(table, cells, category, ids))
    return ReadSheets(Sheets(category, frame, cells.present, texts), findings)


def take_rows(frame: pl.DataFrame, ids: pl.Series | None) -> pl.DataFrame:
    """The rows at `ids`; all of them where it is None. A frame without columns has no rows to take."""
    return frame if ids is None or not frame.width else frame[ids]


def _measures(cells: Cells, category: Category, ids: pl.Series | None) -> tuple[pl.DataFrame, OpenCells | None]:
    """Measures, abnormal total and stated figures of the category, blanks of points filled with nothing; open cells apart."""
    values, states = take_rows(cells.readings.values, ids), take_rows(cells.readings.states, ids)
    height = values.height if values.width else (len(ids) if ids is not None else 0)
    place = pl.int_range(height, dtype=pl.UInt32, eager=True) if ids is None else ids.cast(pl.UInt32)
    frame = pl.DataFrame({"id": place})
    needed = {column for line in category.lines for column in line.columns if line.kind != "point"}
    for column in category.measures:
        frame = frame.with_columns(_measure(column, values, states, column in needed, height))
    stated = [figure for figure in stated_fields() if figure in values.columns]
    frame = frame.with_columns(_stated(figure, values, states) for figure in stated)
    lists = {side: take_rows(frames, ids) for side, frames in cells.lists.items()}
    frame = frame.with_columns(_abnormal(frame, lists, states), *(read["value"].alias(field) for field, read in lists.items()))
    return frame, OpenCells.of(cells.readings, lists, ids, category, stated)


def _measure(column: str, values: pl.DataFrame, states: pl.DataFrame, needed: bool, height: int) -> pl.Series:
    if column not in values.columns:
        return pl.Series(column, [None if needed else 0], dtype=pl.Int32).new_from_index(0, height)
    series = values[column]
    blank = states[column] == BLANK if column in states.columns else series.is_null()
    if needed:
        return series
    return pl.DataFrame({"v": series, "b": blank}).select(pl.when("b").then(0).otherwise("v").alias(column)).to_series()


def _stated(figure: str, values: pl.DataFrame, states: pl.DataFrame) -> pl.Series:
    """A stated figure; a dash means that none is stated."""
    series = values[figure]
    if figure in states.columns:
        series = pl.DataFrame({"v": series, "s": states[figure]}).select(pl.when(pl.col("s") != ABSENT).then("v")).to_series()
    return series.alias(f"stated.{figure}")


def _abnormal(frame: pl.DataFrame, lists: dict[str, pl.DataFrame], states: pl.DataFrame) -> pl.Series:
    """The sum of both lists; where nothing is listed, the stated total; where that is blank, too, nothing."""
    stated = "stated.abnormal_total"
    total = frame[stated].fill_null(0) if stated in frame.columns else pl.zeros(frame.height, pl.Int32, eager=True)
    if "abnormal_total" in states.columns:  # a total that cannot be read, or may be two lengths, is not nothing
        known = states["abnormal_total"].is_in([MEASURED, BLANK, ABSENT])
        total = pl.DataFrame({"t": total, "k": known}).select(pl.when("k").then("t")).to_series()
    if not lists:
        return total.alias("abnormal_total")
    sides = list(lists.values())
    listed = pl.Series([False]).new_from_index(0, frame.height)
    summed = pl.zeros(frame.height, pl.Int32, eager=True)
    for side in sides:
        listed |= side["state"] != BLANK
        summed = summed + side["value"]
    parts = pl.DataFrame({"listed": listed, "summed": summed, "total": total})
    return parts.select(pl.when("listed").then("summed").otherwise("total").alias("abnormal_total")).to_series()


def _with_blanks(frame: pl.DataFrame, cells: Cells, category: Category, ids: pl.Series | None) -> pl.DataFrame:
    values, states = take_rows(cells.readings.values, ids), take_rows(cells.readings.states, ids)
    flags = []
    for line in category.lines:
        for column in line.columns:
            if column in values.columns and (line.needed or line.kind == "point"):
                blank = states[column] == BLANK if column in states.columns else values[column].is_null()
                flags.append(blank.alias(f"blank.{column}"))
    return frame.with_columns(flags)


def _counts(table: Table, cells: Cells, category: Category, ids: pl.Series | None) -> list[pl.Expr | pl.Series]:
    """Stated and recorded point counts of each side."""
    columns: list[pl.Expr | pl.Series] = []
    for side, field in zip(SIDES, COUNTS, strict=True):
        points = [pl.col(f"{line.name}_{side}") for line in category.of_kind("point")]
        known = pl.all_horizontal(point.is_not_null() for point in points) if points else pl.lit(True)
        count = pl.sum_horizontal((point > 0).cast(pl.Int16) for point in points) if points else pl.lit(0)
        columns.append(pl.when(known).then(count).cast(pl.Int16).alias(f"count.{side}"))
        columns.append(read_counts(table.text(field) if ids is None else table.text(field).gather(ids)).alias(field))
        columns += _abnormal_counts(cells, side, ids)
    return columns


def read_counts(cells: pl.Series) -> pl.Series:
    """Whole numbers of points (Int16); null where blank or no whole number."""
    texts = cells.unique()
    read = texts.str.extract(r"^\s*([0-9]{1,3})(?:\.0+)?\s*$", 1).cast(pl.Int16)
    return cells.replace_strict(texts, read, return_dtype=pl.Int16)


def _abnormal_counts(cells: Cells, side: str, ids: pl.Series | None) -> list[pl.Expr | pl.Series]:
    count, single = f"abnormal_count_{side}", f"abnormal_single_{side}"
    field = f"abnormal_{side}"
    if field not in cells.lists:
        # not listed at all: the abnormal points may be any number, so a count can only be too small
        return [pl.lit(0, dtype=pl.Int16).alias(count), pl.lit("abnormal_total" in cells.present).alias(single)]
    listed = take_rows(cells.lists[field], ids)
    known = listed["state"].is_in([MEASURED, BLANK, ABSENT])
    counted = listed.select(pl.when(pl.col("state") != UNREADABLE).then("count").alias(count)).to_series()
    return [counted, ((listed["count"] == 1) | ~known).alias(single)]
