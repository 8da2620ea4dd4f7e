"""Sheets as the CSV file a club would send: every length written in one of the notations people use."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import polars as pl

from tests.benchmarks.slip_sheets import AT, CELLS, DIFFERENCES, LISTS, MEASURES, POINTS, Ints, Sheets

UNREADABLE = "??"
# Where, when and how is the same for all; only the number and the hunter tell the sheets apart.
ENTRY = {
    "area": "Abberlow", "state": "QM", "taken_on": "2025-11-08", "weapon": "rifle", "measured_on": "2026-02-14",
    "measurer": "M-001",
}  # fmt: skip
NOTATIONS: dict[str, Callable[[int, int], str]] = {
    "blank": lambda inches, part: f"{inches} {part}/8" if inches else f"{part}/8" if part else "0",
    "dash": lambda inches, part: f"{inches}-{part}/8" if inches and part else f"{part}/8" if part else str(inches),
    "eighths": lambda inches, part: f"{inches}.{part}",
    "decimal": lambda inches, part: f"{inches}.{part * 125:03d}".rstrip("0").rstrip("."),
}


def spelled(value: int, notation: str) -> str:
    """One length in eighths as text: 171 is `21 3/8`, `21-3/8`, `21.3`, `21.375`."""
    return NOTATIONS[notation](*divmod(value, 8))


def write_csv(path: Path, sheets: Sheets, notation: str) -> None:
    """Write the sheets, one a row, in their order."""
    texts = pl.Series([spelled(value, notation) for value in range(int(sheets.values.max()) + 1)])
    entry = {"category": sheets.category, **ENTRY}
    columns = {
        "entry_no": pl.int_range(1, len(sheets) + 1, eager=True),
        **{name: pl.Series([text]).new_from_index(0, len(sheets)) for name, text in entry.items()},
        "hunter": "Hunter " + pl.Series(range(1, len(sheets) + 1), dtype=pl.Int64).cast(pl.String),
        **{f"points_{side}": pl.Series(sheets.points[:, place]) for place, side in enumerate("rl")},
        **{cell: _column(sheets, cell, texts) for cell in CELLS if cell not in LISTS},
        **{cell: _listed(sheets.listed[:, place], notation) for place, cell in enumerate(LISTS)},
    }
    pl.DataFrame(columns).write_csv(path)


def _column(sheets: Sheets, cell: str, texts: pl.Series) -> pl.Series:
    values = sheets.of(cell)
    blank = np.zeros(len(sheets), dtype=bool)
    if cell in MEASURES and cell[:2] in POINTS:
        blank = values == 0
    if cell in DIFFERENCES:
        blank = sheets.empty[:, DIFFERENCES.index(cell)] & (values == 0)
    frame = pl.DataFrame({"text": texts.gather(pl.Series(values)), "blank": blank, "lost": sheets.erased[:, AT[cell]]})
    return frame.select(
        pl.when("lost").then(pl.lit(UNREADABLE)).when(~pl.col("blank")).then("text").alias(cell)
    ).to_series()


def _listed(lengths: Ints, notation: str) -> pl.Series:
    rows = ("; ".join(spelled(length, notation) for length in row if length) for row in lengths.tolist())
    return pl.Series([row or None for row in rows], dtype=pl.String)
