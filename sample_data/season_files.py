"""The season files: the faults dealt out, the sheets written as text, and the rows the findings stand on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import polars as pl

from sample_data import buck_ages, entries, herd, region
from sample_data.eighths_text import HABITS, tables, texts
from sample_data.entries import ATTRIBUTES, Sheets
from sample_data.figures import DIFFS, FIGURES, GIRTHS, POINTS, Ints
from sample_data.findings import COLUMNS, Expected
from sample_data.planted_entry_errors import ENTRY_FAULTS
from sample_data.planted_errors import FIGURE_FAULTS, Fault
from sample_data.planted_line_errors import AFTER_FIGURES, BEFORE_FIGURES

SEED = 20260701
COLUMN_ORDER = (
    *ATTRIBUTES,
    *("points_r", "points_l", "inside_spread", "tip_to_tip", "greatest_spread"),
    *(f"{row}_{side}" for row in ("beam", *POINTS, *GIRTHS) for side in "rl"),
    *("abnormal_r", "abnormal_l", "abnormal_total", "spread_credit"),
    *DIFFS,
    *("right_total", "left_total", "diff_total", "deductions", "gross", "net"),
)
# seasons whose secretary wrote lengths in a way of his own
OTHER_HABITS = {"2011-12": "decimal", "2015-16": "dash", "2019-20": "unicode"}
REPEATED_ROWS = 5
HEADS_UNDER_ANOTHER_NUMBER = 6
OF_THESE_IN_THE_NEXT_FILE = 2
NUMBERS_USED_AGAIN = 5


def file_name(season: str) -> str:
    """The name of a season's file."""
    return f"sheets_{season}.csv"


def _habits(season: Ints) -> Ints:
    plain = [HABITS[i % 2] for i in range(len(region.SEASONS))]
    names = [OTHER_HABITS.get(label, plain[i]) for i, label in enumerate(region.SEASONS)]
    return np.array([HABITS.index(name) for name in names])[season]


def _plant(faults: Sequence[Fault], sheets: Sheets, free: Ints, expected: Expected, rng: np.random.Generator) -> None:
    """Each fault on its share of sheets that have none yet; `free` (1 or 0 a sheet) is kept up."""
    capped = sheets.spread_over_beam()
    for fault in faults:
        can = (free == 1) & (capped == fault.capped)
        if fault.can_bear is not None:
            can &= fault.can_bear(sheets)
        rows = np.sort(rng.choice(np.flatnonzero(can), fault.count, replace=False))
        free[rows] = 0
        fault.plant(sheets, rng.permutation(rows), expected, rng)


def _frame(sheets: Sheets) -> pl.DataFrame:
    """The sheets as text, columns in file order, with sheet_id, season_no and place (order in the file)."""
    habit, table = _habits(sheets.herd.season), tables()
    columns = {name: texts(v, habit, table) for name, v in sheets.herd.lines.items()}
    columns |= {name: texts(sheets.stated[name], habit, table) for name in FIGURES}
    counts = {f"points_{s}": sheets.stated[f"points_{s}"] for s in "rl"}
    columns |= {k: np.where(v < 0, "", v.astype(str).astype(object)) for k, v in counts.items()}
    columns |= sheets.attributes
    for row, name, written in sheets.overwritten:
        columns[name][row] = written
    frame = pl.DataFrame({k: pl.Series(v.tolist(), dtype=pl.String) for k, v in columns.items()})
    for side, lengths in sheets.herd.abnormal.items():
        parts = [
            pl.Series(f"p{j}", texts(np.where(lengths[:, j] > 0, lengths[:, j], -1), habit, table).tolist())
            for j in range(lengths.shape[1])
        ]
        some = pl.DataFrame(parts).with_columns(pl.all().replace("", None))
        joined = some.select(pl.concat_str(pl.all(), separator=";", ignore_nulls=True)).to_series()
        frame = frame.with_columns(joined.alias(f"abnormal_{side}"))
    text = frame.select(pl.col(COLUMN_ORDER).replace("", None))
    n = len(sheets.herd.season)
    return text.with_columns(
        sheet_id=pl.int_range(n, dtype=pl.Int64),
        season_no=pl.Series(sheets.herd.season),
        place=pl.int_range(n, dtype=pl.Int64).cast(pl.Float64),
    )


def _again(frame: pl.DataFrame, free: Ints, expected: Expected, rng: np.random.Generator) -> pl.DataFrame:
    """Rows that stand twice, heads under another number and numbers given out again, as later rows."""
    n, last = frame.height, len(region.SEASONS) - 1
    season = frame["season_no"].to_numpy()
    count = REPEATED_ROWS + HEADS_UNDER_ANOTHER_NUMBER
    able = np.flatnonzero((free == 1) & (season < last))
    rows = rng.choice(able, count, replace=False)
    copy = frame[rows.tolist()].with_columns(
        sheet_id=pl.int_range(n, n + count, dtype=pl.Int64),
        place=pl.col("place") + rng.integers(2, 40, count) + 0.5,
    )
    ids = copy["sheet_id"].to_numpy()
    expected.add(ids[:REPEATED_ROWS], ["row-twice"])
    expected.add(ids[REPEATED_ROWS:], ["head-twice"])
    is_head = pl.col("sheet_id") >= n + REPEATED_ROWS
    goes_on = pl.col("sheet_id") >= n + count - OF_THESE_IN_THE_NEXT_FILE
    numbers = pl.Series([f"{2006 + s}-{9001 + i}" for i, s in enumerate(season[rows].tolist())])
    copy = copy.with_columns(
        entry_no=pl.when(is_head).then(numbers).otherwise(pl.col("entry_no")),
        season_no=pl.col("season_no") + goes_on.cast(pl.Int64),
    )
    frame = _use_numbers_again(frame, np.setdiff1d(able, rows), expected, rng)
    later: pl.DataFrame = pl.concat([frame, copy])
    return later.sort("season_no", "place")


def _use_numbers_again(frame: pl.DataFrame, able: Ints, expected: Expected, rng: np.random.Generator) -> pl.DataFrame:
    """Some sheets take the number of the sheet 20 places before them in the same file."""
    season = frame["season_no"].to_numpy()
    far_in = able[(able >= 20) & (season[able] == season[np.maximum(able - 20, 0)])]
    far_in = far_in[np.isin(far_in - 20, able)]
    rows = rng.choice(far_in[::45], NUMBERS_USED_AGAIN, replace=False)
    expected.add(np.sort(rows), ["number-reused"])
    taken = pl.col("entry_no").shift(20)
    return frame.with_columns(
        entry_no=pl.when(pl.col("sheet_id").is_in(rows.tolist())).then(taken).otherwise(pl.col("entry_no"))
    )


def make() -> tuple[pl.DataFrame, pl.DataFrame]:
    """All season sheets as text (COLUMN_ORDER, age, season_no, row) and their findings (findings.COLUMNS)."""
    rng = np.random.default_rng(SEED)
    expected = Expected()
    sheets = entries.fill_in(herd.grow(rng), rng)
    age = pl.Series("age", buck_ages.ages(sheets.herd).tolist(), dtype=pl.String).replace("", None)
    free = np.ones(len(sheets.taken_on), dtype=np.int64)
    _plant(BEFORE_FIGURES, sheets, free, expected, rng)
    sheets.state_figures()
    expected.add(np.flatnonzero(sheets.spread_over_beam()), ["spread-over-beam"])
    _plant((*FIGURE_FAULTS, *AFTER_FIGURES, *ENTRY_FAULTS), sheets, free, expected, rng)
    free[sheets.spread_over_beam()] = 0
    frame = _again(_frame(sheets).with_columns(age), free, expected, rng)
    frame = frame.with_columns(row=pl.int_range(2, pl.len() + 2).over("season_no"))
    files = pl.Series([file_name(label) for label in region.SEASONS])
    where = frame.select("sheet_id", "row", "entry_no", file=pl.col("season_no").replace_strict(range(20), files))
    found = expected.table().join(where, on="sheet_id").with_columns(sheet=pl.lit(None, pl.String))
    return frame, found.select(pl.col(COLUMNS).exclude("row"), pl.col("row").cast(pl.Int64)).select(COLUMNS)


def write(folder: Path, frame: pl.DataFrame) -> None:
    """One CSV a season into the folder (UTF-8, line feeds); the age is the last column of the seasons that have it."""
    folder.mkdir(parents=True, exist_ok=True)
    for season_no, label in enumerate(region.SEASONS):
        columns = (*COLUMN_ORDER, "age") if buck_ages.is_aged(label) else COLUMN_ORDER
        of_season = frame.filter(pl.col("season_no") == season_no).select(columns)
        of_season.write_csv(folder / file_name(label))
