"""How measurers round, in sentences: whose last eighths are not like those of the others."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from dashboards.number_words import p_text, share
from dashboards.trends.measurers_frames import MeasurersFrames, who
from dashboards.words import counted
from warehouse.trends.digits import FEWEST, OTHERS

REFUSALS = {
    "few-measurements": f"under {FEWEST} measures",
    "few-others": f"fewer than {OTHERS} others have {FEWEST} measures to compare with",
}
"""Why nothing is told of a measurer's eighths."""
HOW = (
    "Beams, points and spreads have no reason to end on one eighth rather than another. Circumferences hardly vary, and keep to the "
    "eighths about their middle: there each measurer is held against the middle one of the others. The share to be moved is how many "
    "of the measures would have to end on another eighth to be as expected; many measures make even a small share stand out, "
    "so read it first."
)
QUARTERS = (
    "Who reads a tape in quarters has more even eighths than odd ones; an older form, a coarse tape or a club’s habit "
    "does that too."
)
NOBODY = (
    "Nobody’s last eighths differ from what is expected by more than chance, with the number of measurers looked at "
    "allowed for."
)
NONE = "The book holds no accepted measures of a measurer in these seasons."


def sentences(frames: MeasurersFrames) -> list[str]:
    """How it is told, whose eighths stand out, and of whom nothing can be told."""
    if frames.digits.is_empty():
        return [NONE]
    opening = frames.digits.filter("opens")
    told = [row_sentence(row) for row in opening.iter_rows(named=True)] or (
        [NOBODY] if frames.digits["refused"].is_null().any() else []
    )
    return [HOW, *told, QUARTERS, *_refused(frames.digits)]


def row_sentence(row: Mapping[str, Any]) -> str:
    """One measurer on one kind of line."""
    quarters = (
        f"; even eighths {share(row['even_share'])} (adjusted p {p_text(row['even_adjusted'])}), as where quarters "
        "are read"
        if row["reads_quarters"]
        else ""
    )
    return (
        f"{who(row)}, {row['line']}: {share(row['move'])} of {counted(row['measurements'], 'measure')} to be moved "
        "(adjusted p "
        f"{p_text(row['adjusted'])}){quarters}."
    )


def _refused(digits: pl.DataFrame) -> list[str]:
    told = []
    for code, words in REFUSALS.items():
        rows = digits.filter(refused=code)
        if rows.height:
            of = (
                rows.group_by("measurer", "name", maintain_order=True)
                .agg(pl.col("line").str.join(", "))
                .iter_rows(named=True)
            )
            told.append(
                f"Not told, {words}: {'; '.join(f'{who(row)} ({lines})' for row in of if (lines := row['line']))}."
            )
    return told
