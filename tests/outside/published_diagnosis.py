"""Puts a published sheet, with figures as it states them, through the diagnosis."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import polars as pl

from tests.outside.worked_sheets import category
from tests.plain_scoring import inches, sheet_text
from tests.warehouse.scoring_frames import frame_of
from warehouse.audit.sheets import Sheets
from warehouse.diagnosis.diagnose import diagnose
from warehouse.scoring import recompute


@dataclass(frozen=True)
class Explained:
    """One explanation: kinds, wrong cells with what they should be, figures that follow, and the net (None: not stated)."""

    kind: str
    wrong: dict[str, str]
    follows: dict[str, str]
    net: str


def explained(code: str, measures: Mapping[str, Fraction], stated: Mapping[str, str]) -> tuple[list[Explained], bool]:
    """Every explanation of a sheet that states these figures, likeliest first, and whether its score is certain."""
    chosen = category(code)
    frame = frame_of([measures], chosen)
    frame = frame.hstack(recompute(frame, chosen).drop("abnormal_total")).with_columns(
        *(
            pl.lit(int(inches(text) * chosen.unit), dtype=pl.Int32).alias(f"stated.{name}")
            for name, text in stated.items()
        ),
        *(pl.lit(None, dtype=pl.Int16).alias(f"{name}{side}") for name in ("points_", "count.") for side in "rl"),
        *(pl.lit(0, dtype=pl.Int16).alias(f"abnormal_count_{side}") for side in "rl"),
        *(pl.lit(True).alias(f"abnormal_single_{side}") for side in "rl"),
        id=pl.lit(0, dtype=pl.UInt32),
    )
    found = diagnose(Sheets(chosen, frame, frozenset(stated), pl.DataFrame()), pl.Series([0]))

    def texts(cells: list[str], values: list[int]) -> dict[str, str]:
        pairs = zip(cells, values, strict=True)
        return {cell: sheet_text(Fraction(value, chosen.unit), chosen.unit) for cell, value in pairs}

    return [
        Explained(
            one["kind"],
            texts(one["cells"], one["proposed"]),
            texts(one["follows"], one["follows_proposed"]),
            *texts(["net"], [one["net"]]).values(),
        )
        for one in found.explanations.to_dicts()
    ], found.certain.to_list() == [0]
