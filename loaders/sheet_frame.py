"""From the readings of a file's cells to the frame the sheet rules look at (`warehouse.audit.sheets`)."""

from dataclasses import dataclass
from functools import reduce
from operator import add

import polars as pl

from loaders.fields import ABNORMAL, COUNTS, measure_fields, stated_fields
from loaders.notation import Readings, read_columns, read_lists
from loaders.notation.spellings import ABSENT, BLANK, MEASURED, UNREADABLE
from loaders.open_cells import OpenCells
from loaders.open_readings import decide
from loaders.tables import Table
from warehouse.audit.rules import FINDINGS
from warehouse.audit.sheets import Sheets
from warehouse.categories import Category, Line
from warehouse.scoring import recompute

SIDES = ("r", "l")


@dataclass(frozen=True)
class Cells:
    """Every length of a file, read in one unit: measures, stated figures, and the lists of abnormal points."""

    readings: Readings
    lists: dict[str, pl.DataFrame]
    present: frozenset[str]
    height: int


def read_cells(table: Table, unit: int) -> Cells:
    """Read each length column of the table, each distinct text once."""
    lengths = [field for field in (*measure_fields(), *stated_fields()) if field in table.present]
    cells = table.cells.select(pl.col(table.present[field]).alias(field) for field in lengths)
    lists = {field: read_lists(table.text(field), unit) for field in ABNORMAL if field in table.present}
    return Cells(read_columns(cells, lengths, unit), lists, frozenset(table.present), table.cells.height)


@dataclass(frozen=True)
class ReadSheets:
    """Sheets ready for the rules, with what was found while reading them."""

    sheets: Sheets
    findings: pl.DataFrame
    opened: OpenCells | None


def sheets_of(table: Table, cells: Cells, category: Category, ids: pl.Series | None) -> ReadSheets:
    """The sheets of one category: `ids` are their places in the table (None: all of them)."""
    texts = table.cells.select(pl.col(column).alias(f"text.{field}") for field, column in table.present.items())
    measures, opened = _measures(cells, category, ids)
    findings = pl.DataFrame(schema=FINDINGS)
    if opened is not None:
        measures, findings = decide(measures, opened, category, texts, _measurers(table, ids))
    frame = measures.hstack(recompute(measures, category).drop("abnormal_total"))
    frame = frame.with_columns(*_counts(table, cells, category, ids))
    return ReadSheets(Sheets(category, frame, cells.present, texts), findings, opened)


def _measurers(table: Table, ids: pl.Series | None) -> pl.Series | None:
    """Who measured each sheet, as written; None where the file has no such column."""
    if "measurer" not in table.present:
        return None
    text = table.text("measurer")
    return text if ids is None else text.gather(ids)


def take_rows(frame: pl.DataFrame, ids: pl.Series | None) -> pl.DataFrame:
    """The rows at `ids`; all of them where it is None. A frame without columns has no rows to take."""
    return frame if ids is None or not frame.width else frame[ids]


def _wide(cells: Cells, ids: pl.Series | None) -> pl.DataFrame:
    """Everything read of these rows side by side: "id", values by field, `state.<field>` where one is irregular,
    and of the lists of abnormal points `<field>` (their sum) and `state.<field>`."""
    place = pl.int_range(cells.height, dtype=pl.UInt32, eager=True).alias("id")
    columns = [place, *cells.readings.values.get_columns()]
    columns += [state.alias(f"state.{state.name}") for state in cells.readings.states.get_columns()]
    for field, read in cells.lists.items():
        columns += [read["value"].alias(field), read["state"].alias(f"state.{field}")]
        columns.append(read["least"].alias(f"least.{field}"))
    return take_rows(pl.DataFrame(columns), ids)


def _measures(cells: Cells, category: Category, ids: pl.Series | None) -> tuple[pl.DataFrame, OpenCells | None]:
    """Measures, abnormal total, stated figures and blank cells of the category; open cells apart.

    A point's blank is nothing (0); any other blank stays unknown, and so does a dash or a 0 for a measure that every
    head has. A dash for a stated figure states none.
    """
    wide = _wide(cells, ids)
    read = set(wide.columns)
    stated = [figure for figure in stated_fields() if figure in read]
    frame = wide.select(
        "id",
        *(_measure(column, line, read) for line in category.lines for column in line.columns),
        *(_unless_absent(figure, read).alias(f"stated.{figure}") for figure in stated),
        *(
            (_is_blank(column, read) | _is_nothing(column, line)).alias(f"blank.{column}")
            for line in category.lines
            for column in line.columns
            if column in read and (line.needed or line.kind == "point")
        ),
        *cells.lists,
        *(f"least.{field}" for field in cells.lists),
        abnormal_total=_abnormal(read, tuple(cells.lists)),
    )
    lists = {side: take_rows(frames, ids) for side, frames in cells.lists.items()}
    return frame, OpenCells.of(cells.readings, lists, ids, category, stated)


def _is_blank(column: str, read: set[str]) -> pl.Expr:
    state = f"state.{column}"
    return pl.col(state) == BLANK if state in read else pl.col(column).is_null()


def _is_nothing(column: str, line: Line) -> pl.Expr:
    """A measure that every head has, written as absent or as 0."""
    return (pl.col(column) == 0).fill_null(False) if line.needed else pl.lit(False)


def _measure(column: str, line: Line, read: set[str]) -> pl.Expr:
    is_point = line.kind == "point"
    if column not in read:
        return pl.lit(0 if is_point else None, dtype=pl.Int32).alias(column)
    if line.needed:
        return pl.when(pl.col(column) != 0).then(column).alias(column)
    return pl.when(_is_blank(column, read)).then(0).otherwise(column).alias(column) if is_point else pl.col(column)


def _unless_absent(figure: str, read: set[str]) -> pl.Expr:
    state = f"state.{figure}"
    return pl.when(pl.col(state) != ABSENT).then(figure) if state in read else pl.col(figure)


def _abnormal(read: set[str], lists: tuple[str, ...]) -> pl.Expr:
    """The sum of both lists; where nothing is listed, the stated total; where that is blank, too, nothing."""
    total: pl.Expr = pl.lit(0, dtype=pl.Int32)
    if "abnormal_total" in read:
        total = pl.col("abnormal_total").fill_null(0)
        if "state.abnormal_total" in read:  # a total that cannot be read, or may be two lengths, is not nothing
            total = pl.when(pl.col("state.abnormal_total").is_in([MEASURED, BLANK, ABSENT])).then(total)
    if not lists:
        return total
    listed = pl.any_horizontal(pl.col(f"state.{field}") != BLANK for field in lists)
    return pl.when(listed).then(reduce(add, (pl.col(field) for field in lists))).otherwise(total)


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
