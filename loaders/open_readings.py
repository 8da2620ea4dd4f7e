"""Cells with two readings, or with one that a spreadsheet hid: decided by figures or by habit, or asked about.

A sheet is scored in every way its blocks of open cells can be read (`warehouse.audit.readings`); its own figures and
the habit of its group decide (`reading_choice`, `habits`); what they do not decide stays unknown, and a person is
asked.
"""

from collections.abc import Sequence

import polars as pl

from loaders.habit_evidence import Evidence, evidence
from loaders.open_cells import (
    STATED_TOTAL,
    Blocks,
    OpenCells,
    Reading,
    as_measures,
    in_way,
    scored_with,
    stands_for_points,
    values_of,
)
from loaders.open_words import Unsure, open_findings
from warehouse.audit.reading_choice import HABIT, Choice, choose
from warehouse.audit.readings import Marks, Tally, tally
from warehouse.categories import Category


def decide(
    frame: pl.DataFrame,
    opened: OpenCells,
    category: Category,
    texts: pl.DataFrame,
    measurers: pl.Series | None = None,
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The frame with decided cells filled in, and the findings: what was read, or what must be asked.

    `measurers`: who measured each sheet of the frame, as written; None where the file does not tell.
    """
    rows = opened.rows()
    cells, sheets = opened.take(rows), frame[rows]
    blocks = Blocks.of(cells)
    choice = choose(_tally(sheets, cells, blocks, category))
    known = Evidence.none(choice.reading.shape)
    if blocks.names:
        known = evidence(opened, rows, blocks, choice, measurers)
        choice = choose(choice.tally, known.habit)
    reading = _reading(choice, known)
    values = values_of(cells, blocks, reading)
    filled = _filled(frame, rows, sheets, scored_with(sheets, values, cells.flags()))
    return filled, open_findings(Unsure(sheets, cells, blocks, choice, known, reading), texts, category)


def _reading(choice: Choice, known: Evidence) -> Reading:
    by_habit = choice.basis == HABIT
    blocks = range(choice.reading.shape[1])
    return Reading(
        [pl.Series(choice.reading[:, place]) for place in blocks],
        pl.Series(choice.confirmed),
        [pl.Series(by_habit[:, place] & known.unusual[:, place]) for place in blocks],
    )


def _tally(sheets: pl.DataFrame, cells: OpenCells, blocks: Blocks, category: Category) -> Tally:
    flags = cells.flags()
    itself = stands_for_points(sheets)
    if STATED_TOTAL not in flags.columns:
        itself = itself & False

    def read(way: Marks) -> pl.DataFrame:
        return scored_with(sheets, in_way(cells, blocks, way.tolist()), flags)

    return tally(read, blocks.has(sheets.height), as_measures(flags, sheets), itself, category)


def _filled(frame: pl.DataFrame, rows: pl.Series, sheets: pl.DataFrame, read: pl.DataFrame) -> pl.DataFrame:
    changed: Sequence[str] = [
        column for column in read.columns if not read[column].equals(sheets[column], null_equal=True)
    ]
    return frame.with_columns(frame[column].clone().scatter(rows, read[column]) for column in changed)
