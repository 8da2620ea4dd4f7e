"""What the program makes of sheets whose faults are known, counted."""

import time
from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date
from pathlib import Path

import polars as pl

from loaders.audit_table import AuditedTable
from loaders.check import Settings, check_files
from tests.benchmarks.slip_kinds import Faulty
from tests.benchmarks.slip_sheets import Sheets
from tests.benchmarks.slip_text import write_csv

TODAY = date(2026, 11, 25)
# A benchmark makes many sheets of one head: that they are alike says nothing of their figures.
OF_REPEATS = ("row-twice", "head-twice", "entry-twice", "number-reused")
FIRST_FEW = 3


@dataclass(frozen=True)
class Marks:
    """Numbers of sheets, but for `told` (explanations in all) and `seconds` (of the whole audit, file to findings)."""

    sheets: int = 0
    detected: int = 0
    listed: int = 0
    told: int = 0
    first: int = 0
    first_or_tied: int = 0
    in_first_few: int = 0
    restored: int = 0
    certain: int = 0
    certain_wrong: int = 0
    harmless: int = 0
    seconds: float = 0.0

    def __add__(self, other: "Marks") -> "Marks":
        """Both together."""
        return Marks(*(getattr(self, one.name) + getattr(other, one.name) for one in fields(Marks)))


def audited(sheets: Sheets, notation: str, folder: Path) -> tuple[AuditedTable, float]:
    """The sheets written to a file of `folder` and through the whole audit, and the seconds that took."""
    path = folder / "sheets.csv"
    write_csv(path, sheets, notation)
    start = time.perf_counter()
    (table,) = check_files([path], Settings(TODAY)).tables
    return table, time.perf_counter() - start


def found_on(table: AuditedTable, repeats: bool = False) -> pl.Series:
    """Ids of the rows with an error or a question; with `repeats` also of those said to repeat another."""
    holds = pl.col("severity").is_in(["error", "question"])
    if not repeats:
        holds &= ~pl.col("code").is_in(OF_REPEATS)
    return table.findings.filter(holds)["id"].drop_nulls().unique()


def recomputed_nets(table: AuditedTable) -> pl.Series:
    """The net of each row as the program works it out from the measures, in row order."""
    return pl.concat([sheets.frame.select("id", "net") for sheets in table.sheets]).sort("id")["net"]


def verdicts(faulty: Faulty, table: AuditedTable) -> pl.DataFrame:
    """One row a wrong sheet: id, truth (its cells at fault, sorted and joined), net, a Boolean or count of each mark.

    The wrong sheets stand first in the table; right ones after them are not looked at.
    Costs are not told, so a tie with the first explanation is one of those marked `tie` without a break from the first.
    """
    ids = pl.int_range(len(faulty.net), dtype=pl.UInt32, eager=True)
    truth = pl.DataFrame({"id": ids, "truth": _keys(faulty.names()), "true_net": faulty.net})
    told = _held_against(truth, table.explanations)
    recomputed = pl.concat([sheets.frame.select("id", recomputed="net") for sheets in table.sheets])
    frame = truth.join(told, on="id", how="left", maintain_order="left").join(
        recomputed, on="id", how="left", maintain_order="left"
    )
    frame = frame.with_columns(
        pl.col("told", "listed", "first", "first_or_tied", "in_first_few").fill_null(0),
        detected=ids.is_in(found_on(table).implode()) | (pl.col("told") > 0).fill_null(False),
        certain=table.certain.head(len(ids)),
        given=pl.coalesce("first_net", "recomputed"),
    )
    right = (pl.col("given") == pl.col("true_net")).fill_null(False)
    return frame.with_columns(restored=right, certain_wrong=pl.col("certain") & ~right)


def _held_against(truth: pl.DataFrame, explanations: pl.DataFrame) -> pl.DataFrame:
    told = explanations.select("id", "place", "tie", "net", cells=pl.col("cells").list.sort().list.join(" "))
    told = told.join(truth, on="id", maintain_order="left").sort("id", "place")  # right sheets have no truth
    hit = (pl.col("cells") == pl.col("truth")).alias("hit")
    told = told.with_columns(hit, good=hit & (pl.col("net") == pl.col("true_net")).fill_null(False))
    told = told.with_columns(
        leads=(pl.col("place") == 0) | pl.col("tie").cast(pl.Int8).cum_min().over("id").cast(pl.Boolean)
    )
    at_first = pl.col("place") == 0
    return told.group_by("id").agg(
        told=pl.len(),
        listed=pl.col("hit").any(),
        first=(pl.col("good") & at_first & ~pl.col("tie")).any(),
        first_or_tied=(pl.col("good") & pl.col("leads")).any(),
        in_first_few=(pl.col("hit") & (pl.col("place") < FIRST_FEW)).any(),
        first_net=pl.col("net").filter(at_first).first(),
    )


def _keys(names: Sequence[Sequence[str]]) -> pl.Series:
    return pl.Series([" ".join(sorted(cells)) for cells in names], dtype=pl.String)


def marks_of(frame: pl.DataFrame, seconds: float, harmless: int = 0) -> Marks:
    """The sums of `verdicts`; `harmless`: sheets left out of them, for their figures agree all the same."""
    counted = {one.name: int(frame[one.name].sum()) for one in fields(Marks) if one.name in frame.columns}
    return Marks(sheets=frame.height, seconds=seconds, harmless=harmless, **counted)
