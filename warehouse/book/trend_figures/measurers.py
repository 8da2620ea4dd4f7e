"""How alike measurers measure: panel sessions, panels' scores beside the sheets', last digits, entries just above a minimum.

Nothing here accuses anybody. Each figure can have an honest cause (the heads somebody gets to measure, the habit of a club, the
drying of antlers); what stands out is a reason to measure again, by others, and to ask.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import duckdb
import numpy as np
import polars as pl

from warehouse.book import database
from warehouse.book.as_of import reading_as_of
from warehouse.book.named_query import Parameter, frame
from warehouse.book.trend_figures.counting import FOLDER, make_counted
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.categories import all_categories
from warehouse.trends.agreement import BlandAltman, TwoWay, biases, bland_altman, two_way
from warehouse.trends.bunching import bunching, expected_first_inch
from warehouse.trends.digits import digit_preference
from warehouse.trends.pareto_tail import ParetoTail, fit_tail


@dataclass(frozen=True)
class PanelLine:
    """One line of the sheet in one session: how well the measurers agree on it, in inches.

    `agreement`: None where no two heads were measured by all. `biases`: as of `agreement.biases`, of measurers.
    """

    session: str
    line: str
    agreement: TwoWay | None
    biases: pl.DataFrame


@dataclass(frozen=True)
class AboveMinimum:
    """Entries that qualify, by measurer: `rows` as of `bunching`, in the first inch above their own season's minimum.

    `expected`: the share in that inch if the tail above it goes on downwards (`tail`: of what is more than an inch above);
    None where the entries are too few to tell, and `rows` is empty then.
    """

    entries: int
    tail: ParetoTail | None
    expected: float | None
    rows: pl.DataFrame


@dataclass(frozen=True)
class Measurers:
    """`names`: measurer -> name. `panels`: by session and line, net first. `scores`: one row an entry that a panel scored:
    entry_id, measurer, season, sheet_net, panel_net, sheet_gross, panel_gross (units); `against_panel`: sheet less panel, in
    inches; None under two of them. `digits`: as of `digit_preference`, by kind of line. `above`: see there.
    """

    names: Mapping[str, str]
    panels: tuple[PanelLine, ...]
    scores: pl.DataFrame
    against_panel: BlandAltman | None
    digits: pl.DataFrame
    above: AboveMinimum


def read_measurers(path: Path, settings: TrendSettings, wait: float = database.WAIT_SECONDS) -> Measurers:
    """What the book at `path` tells of its measurers. Weapons, places and cuts of `settings` are not looked at: a measurer
    measures them all. Raises as `trend.read_trend` does.
    """
    unit = all_categories()[settings.category].unit
    among: dict[str, Parameter] = {
        "category": settings.category, "first_season": settings.first_season, "last_season": settings.last_season,
    }  # fmt: skip
    with reading_as_of(path, settings.as_of, wait) as connection:
        names = _ask(connection, "measurer_names")
        panels = _ask(connection, "panel_measures")
        scores = _ask(connection, "panel_scores", among)
        digits = _ask(connection, "digits", among)
        make_counted(connection, settings)
        margins = _ask(connection, "margins")
    return Measurers(
        names=dict(names.rows()), panels=_panels(panels), scores=scores, against_panel=_against_panel(scores, unit),
        digits=digit_preference(digits, long_lines=()), above=_above(margins, unit),
    )  # fmt: skip


def _ask(
    connection: duckdb.DuckDBPyConnection, name: str, parameters: Mapping[str, Parameter] | None = None
) -> pl.DataFrame:
    return frame(connection, name, parameters, folder=FOLDER)


def _panels(measures: pl.DataFrame) -> tuple[PanelLine, ...]:
    first = pl.col("line").replace_strict({"net": 0, "gross": 1}, default=2, return_dtype=pl.Int64)
    ordered = measures.sort("session", first, "line", "head", "measurer")
    lines = ordered.rename({"inches": "value"}).partition_by("session", "line", maintain_order=True, as_dict=True)
    return tuple(
        PanelLine(str(session), str(line), two_way(rows), biases(rows)) for (session, line), rows in lines.items()
    )


def _against_panel(scores: pl.DataFrame, unit: int) -> BlandAltman | None:
    if scores.height < 2:
        return None
    return bland_altman(scores["sheet_net"].to_numpy() / unit, scores["panel_net"].to_numpy() / unit)


def _above(margins: pl.DataFrame, unit: int) -> AboveMinimum:
    """The tail is fitted to what lies more than an inch above, so that a crowd in the first inch does not hide itself."""
    beyond = margins.filter(pl.col("margin") >= unit)
    half = 0.5 / unit
    excesses = np.repeat((beyond["margin"].to_numpy() - unit) / unit + half, beyond["entries"].to_numpy())
    tail = fit_tail(excesses)
    expected = expected_first_inch(tail) if tail else None
    near = margins.group_by("measurer", maintain_order=True).agg(
        pl.col("entries").filter(pl.col("margin") < unit).sum().alias("first_inch"),
        pl.col("entries").sum().alias("above"),
    )
    rows = bunching(near if expected is not None else near.clear(), expected or 0.0)
    return AboveMinimum(int(margins["entries"].sum()), tail, expected, rows)
