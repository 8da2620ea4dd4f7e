"""Whether scores step up at the minimum of a higher record book, among the entries of a lower one.

The lower book holds heads on both sides of the higher one's minimum, so that a step there can be seen at all. Scores thin
out upwards and heap on whole inches, where minimums stand: both are told by the same window about the whole inches nearby,
at which no minimum stands. A step is a reason to measure again, and accuses nobody.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl

from warehouse.trends.bunching import Caliper, caliper, placebo_share, placebos

WINDOW = 0.5  # inches to either side (house rule, no source)
REACH = 8  # inches to either side in which other whole inches are looked at (house rule, no source)
ENOUGH = 30  # entries in the window (house rule, no source)


@dataclass(frozen=True)
class HigherMinimum:
    """A minimum of `book`, in units, and the entries about it; `step` is None where they, or those nearby, are too few."""

    book: str
    minimum_units: int
    step: Caliper | None


def higher_minimums(near: pl.DataFrame, unit: int) -> tuple[HigherMinimum, ...]:
    """Every higher minimum with its step, by book and minimum.

    `near`: book, minimum_units, off (units from it, up to `REACH` inches and half a window), gap (units down to the highest
    minimum that the entries themselves had to reach), entries (Int).
    """
    groups = near.sort("book", "minimum_units", "off").partition_by(
        "book", "minimum_units", maintain_order=True, as_dict=True
    )
    return tuple(HigherMinimum(str(book), int(minimum), _step(rows, unit)) for (book, minimum), rows in groups.items())


def _step(rows: pl.DataFrame, unit: int) -> Caliper | None:
    gap = float(rows["gap"].min()) / unit  # type: ignore[arg-type]
    if gap < WINDOW:  # the lower book's own minimum cuts into the half inch below
        return None
    off = np.repeat(rows["off"].to_numpy() / unit, rows["entries"].to_numpy())
    below, above = int(((off >= -WINDOW) & (off < 0)).sum()), int(((off >= 0) & (off < WINDOW)).sum())
    least = -min(REACH, int(gap - WINDOW))  # lower down the book's own minimum cuts
    elsewhere = placebo_share(placebos(off, [inch for inch in range(least, REACH + 1) if inch], WINDOW))
    if below + above < ENOUGH or elsewhere is None:
        return None
    return caliper(below, above, expected=elsewhere)
