"""What stands behind the heads: which measure of effort a rate is per.

The order of preference is what comes nearest to the chance of a head to be taken and sent in: antlered deer harvested,
then licences sold, then square miles. Square miles make a density: they do not tell a busy season from a quiet one.
"""

from dataclasses import dataclass
from typing import Literal, get_args

import polars as pl

Effort = Literal["harvest", "licences", "area"]
EFFORTS: tuple[Effort, ...] = get_args(Effort)
PER: dict[str | None, int] = {"harvest": 1_000, "licences": 1_000, "area": 100, None: 1}
"""Rates are printed for so many of the effort's own units; counts for themselves."""
ENOUGH = 0.5  # of the areas and seasons of a place must have a measure for it to be taken (house rule, no source)


@dataclass(frozen=True)
class ChosenEffort:
    """`kind`: None where no measure is known enough, so that entries are only counted. `known`: the share of areas and
    seasons that have it, 0 to 1.
    """

    kind: Effort | None
    known: float


def choose_effort(effort: pl.DataFrame, cells: int, asked: Effort | None = None) -> ChosenEffort:
    """The measure for a place of so many `cells` (areas times seasons): the one `asked` for, else the first enough known.

    `effort`: one row an area and season of the place: harvest, licences, area (Float; null or 0: not known).
    """
    known = {kind: effort.filter(pl.col(kind) > 0).height / cells if cells else 0.0 for kind in EFFORTS}
    if asked is not None:
        return ChosenEffort(asked if known[asked] > 0 else None, known[asked])
    for kind in EFFORTS:
        if known[kind] >= ENOUGH:
            return ChosenEffort(kind, known[kind])
    return ChosenEffort(None, 0.0)
