"""Diagnose the sheets whose figures do not agree: every explanation of one slip, or of two, likeliest first."""

from dataclasses import dataclass

import numpy as np
import polars as pl

from warehouse.audit.sheets import Sheets, points_found
from warehouse.diagnosis.explanations import nothing_explained
from warehouse.diagnosis.grid import Grid, Ints, grid_of
from warehouse.diagnosis.manners import RECORDED
from warehouse.diagnosis.plausible import Limits, one_of
from warehouse.diagnosis.ranking import MOST_TOLD, Recorded, cost_all, decided, in_order
from warehouse.diagnosis.search import search, with_unread_filled
from warehouse.diagnosis.wording import as_explanations

Readings = tuple[pl.DataFrame, pl.DataFrame]
AT_ONCE = 20_000  # sheets searched together, so that memory does not grow with the file


@dataclass(frozen=True)
class Diagnosis:
    """`explanations` (EXPLANATIONS, by sheet and place) and `certain`: ids of the sheets of which every explanation
    gives the same net."""

    explanations: pl.DataFrame
    certain: pl.Series


def diagnose(sheets: Sheets, rows: pl.Series, readings: Readings | None = None) -> Diagnosis:
    """Diagnose the sheets at `rows` (places in the frame of `sheets`).

    `readings`: two frames as high as that of `sheets`, with the two lengths that an undecided cell may be, null
    elsewhere; such a cell is solved to one of them or not at all.

    A sheet that agrees has no explanation; one that no two slips explain has none either. Nothing is applied: the
    stated values stay as they are.
    """
    parts = [_block(sheets, rows.slice(start, AT_ONCE), readings) for start in range(0, len(rows), AT_ONCE)]
    none = pl.Series(dtype=pl.UInt32)
    return Diagnosis(
        pl.concat([nothing_explained(), *(part.explanations for part in parts)]),
        pl.concat([none, *(part.certain for part in parts)]),
    )


def _block(sheets: Sheets, rows: pl.Series, readings: Readings | None) -> Diagnosis:
    grid, unread = with_unread_filled(grid_of(sheets, rows))
    recorded = _recorded(grid, sheets.frame[rows])
    greatest = recorded.spreads.get("greatest_spread", np.zeros(len(rows), dtype=np.int32))
    found = search(grid, unread, Limits(greatest, one_of(readings, grid, rows, unread)))
    ids = sheets.frame["id"].gather(rows).cast(pl.UInt32)
    costed = cost_all(grid, found, recorded)
    ranked = in_order(grid, found, costed)
    told = ranked.filter(pl.col("place") < MOST_TOLD)
    return Diagnosis(as_explanations(grid, found, costed, told, ids), ids.gather(decided(ranked, found.cut).sort()))


def _recorded(grid: Grid, frame: pl.DataFrame) -> Recorded:
    spreads: dict[str, Ints] = {
        name: frame[name].fill_null(0).to_numpy().astype(np.int32) for name in RECORDED if name in frame.columns
    }
    off, counted = [], []
    for side in "rl":
        found = frame.select(
            off=(pl.col(f"points_{side}") - points_found(side)).cast(pl.Int32),
            several=pl.col(f"abnormal_single_{side}"),
        )
        known = found["off"].is_not_null() & ~found["several"].fill_null(True)
        off.append(found["off"].fill_null(0).to_numpy())
        counted.append(known.to_numpy())
    listed = frame.select(pl.sum_horizontal(f"abnormal_count_{side}" for side in "rl").cast(pl.Int32)).to_series()
    return Recorded(spreads, np.stack(off).astype(np.int32), np.stack(counted), listed.to_numpy())
