"""How alike measurers measure: panel sessions, panels' scores beside the sheets', last digits, entries about a
minimum.

Nothing here accuses anybody. Each figure can have an honest cause (the heads somebody gets to measure, the habit of a club, the
drying of antlers); what stands out is a reason to measure again, by others, and to ask.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import duckdb
import polars as pl

from warehouse.book import database
from warehouse.book.as_of import reading_as_of
from warehouse.book.named_query import Parameter, frame
from warehouse.book.trend_figures.counting import FOLDER, make_counted
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.categories import all_categories
from warehouse.trends.agreement import FEW_HEADS, BlandAltman, TwoWay, biases, bland_altman, two_way
from warehouse.trends.bunching import bunching, expected_first_inch
from warehouse.trends.digits import LONG_LINES, digit_preference, eighths
from warehouse.trends.higher_minimum import REACH, WINDOW, HigherMinimum, higher_minimums
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
    """Entries that qualify, by measurer: `rows` as of `bunching`, in the first inch above the minimum of their own season,
    weapon and antlers.

    What is expected is told for each of the `minimums` by the tail of the entries more than an inch above it (`beyond`: how
    many, in all), going on downwards; of a measurer, and over all (`expected`), it is the mean over the entries. Entries over
    a minimum with too few of them are in `entries` alone; where every minimum is such, `expected` is None and `rows` empty.
    """

    entries: int
    beyond: int
    minimums: int
    expected: float | None
    rows: pl.DataFrame


@dataclass(frozen=True)
class Measurers:
    """`names`: measurer -> name. `panels`: by session and line, net first. `scores`: one row an entry that a panel scored:
    entry_id, entry_no, measurer, season, sheet_net, panel_net, sheet_gross, panel_gross (units); `against_panel`: sheet less panel, in
    inches; None under ten of them. `digits`, `eighths`: as of `digits.digit_preference` and `digits.eighths`, by kind of line. `above`:
    see there. `steps`: at minimums of other books, above those that these entries had to reach.
    """

    names: Mapping[str, str]
    panels: tuple[PanelLine, ...]
    scores: pl.DataFrame
    against_panel: BlandAltman | None
    digits: pl.DataFrame
    eighths: pl.DataFrame
    above: AboveMinimum
    steps: tuple[HigherMinimum, ...]


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
        near = _ask(connection, "higher_minimums", _about(settings, unit))
    return Measurers(
        names=dict(names.rows()), panels=_panels(panels), scores=scores, against_panel=_against_panel(scores, unit),
        digits=digit_preference(digits, LONG_LINES), eighths=eighths(digits, LONG_LINES), above=_above(margins, unit),
        steps=higher_minimums(near, unit),
    )  # fmt: skip


def _ask(
    connection: duckdb.DuckDBPyConnection, name: str, parameters: Mapping[str, Parameter] | None = None
) -> pl.DataFrame:
    return frame(connection, name, parameters, folder=FOLDER)


def _about(settings: TrendSettings, unit: int) -> dict[str, Parameter]:
    """How far about a minimum entries are looked at: the window about the last whole inch within reach, all of it."""
    return {"book": settings.book, "category": settings.category, "reach": round((REACH + WINDOW) * unit)}


def _panels(measures: pl.DataFrame) -> tuple[PanelLine, ...]:
    first = pl.col("line").replace_strict({"net": 0, "gross": 1}, default=2, return_dtype=pl.Int64)
    ordered = measures.sort("session", first, "line", "head", "measurer")
    lines = ordered.rename({"inches": "value"}).partition_by("session", "line", maintain_order=True, as_dict=True)
    return tuple(
        PanelLine(str(session), str(line), two_way(rows), biases(rows)) for (session, line), rows in lines.items()
    )


def _against_panel(scores: pl.DataFrame, unit: int) -> BlandAltman | None:
    if scores.height < FEW_HEADS:
        return None
    return bland_altman(scores["sheet_net"].to_numpy() / unit, scores["panel_net"].to_numpy() / unit)


def _above(margins: pl.DataFrame, unit: int) -> AboveMinimum:
    """A tail is fitted to what lies more than an inch above, so that a crowd in the first inch does not hide itself."""
    tails = {minimum: tail for (minimum,), rows in margins.group_by("minimum_units") if (tail := _tail(rows, unit))}
    shares = pl.DataFrame(
        {"minimum_units": list(tails), "expected": [expected_first_inch(tail) for tail in tails.values()]},
        schema={"minimum_units": margins.schema["minimum_units"], "expected": pl.Float64()},
    )
    told = margins.join(shares, on="minimum_units")
    entries = pl.col("entries")
    near = told.group_by("measurer").agg(
        entries.filter(pl.col("margin") < unit).sum().alias("first_inch"),
        entries.sum().alias("above"),
        (pl.col("expected") * entries).sum() / entries.sum(),
    )
    over_all = told.select((pl.col("expected") * entries).sum() / entries.sum()).item() if told.height else None
    beyond = sum(tail.entries for tail in tails.values())
    return AboveMinimum(int(margins["entries"].sum()), beyond, len(tails), over_all, bunching(near))


def _tail(margins: pl.DataFrame, unit: int) -> ParetoTail | None:
    """Of the margins more than an inch above their minimum, in inches; each stands for half a unit to either side."""
    beyond = margins.filter(pl.col("margin") >= unit)
    excesses = (beyond["margin"].to_numpy() - unit + 0.5) / unit
    return fit_tail(excesses, beyond["entries"].to_numpy())
