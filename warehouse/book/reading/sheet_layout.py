"""How a sheet's lines and totals are laid out as text: what was written, and beside it what was recomputed."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from warehouse.book.cells_text import AS_JSON, SEPARATOR
from warehouse.categories import Category, Line, all_categories
from warehouse.eighths import EIGHTHS, text_of
from warehouse.scoring import TOTALS, recompute

ABNORMAL = "abnormal"


@dataclass(frozen=True)
class SheetLine:
    """One line of the sheet as text. `name` is the line's, `sides` tells a pair from a single measure (in `right`).

    None: nothing there. A cell that could not be read holds the text as received in quotation marks.
    """

    name: str
    label: str
    kind: str
    sides: str
    right: str | None
    left: str | None
    stated_difference: str | None
    recomputed_difference: str | None


@dataclass(frozen=True)
class SheetTotal:
    """One total: as stated on the sheet (None: not stated) and recomputed (None: rests on an unknown)."""

    name: str
    stated: str | None
    recomputed: str | None


def received_cells(entry: Mapping[str, Any]) -> tuple[tuple[str, str, str], ...]:
    """(heading, text as received, our field or '') for every cell of the row the entry came from."""
    if entry["cells"] is None:
        return ()
    texts = _texts(entry["cells"])
    beyond = len(texts) - len(entry["headings"])
    headings = [*entry["headings"], *[""] * beyond]
    fields = [*entry["fields"], *[""] * beyond]
    return tuple(zip(headings, texts, fields, strict=False))


def _texts(cells: str) -> list[str]:
    """All cells of the row, those beyond the last heading too."""
    if cells.startswith(AS_JSON):
        kept: list[str] = json.loads(cells[len(AS_JSON) :])
        return kept
    return cells.split(SEPARATOR)


def lines_of(
    entry: Mapping[str, Any], measured: Sequence[Mapping[str, Any]], as_received: Mapping[str, str]
) -> tuple[SheetLine, ...]:
    """The lines of the sheet in sheet order: those measured, those that must be, and those somebody wrote on."""
    unit = entry["unit"] or EIGHTHS
    there = {row["line"]: row for row in measured}
    category = all_categories().get(entry["category"])
    differences = _differences(category, there, entry) if category else {}
    lines = category.lines if category else _known_lines(there)
    laid_out = [
        _line(line, there.get(line.name, {}), differences, as_received, unit)
        for line in lines
        if line.needed or _has_something(line, there.get(line.name, {}), as_received)
    ]
    if ABNORMAL in there:
        laid_out.append(_abnormal(there[ABNORMAL], as_received, unit))
    return tuple(laid_out)


def _has_something(line: Line, row: Mapping[str, Any], as_received: Mapping[str, str]) -> bool:
    """Whether a line is worth laying out: a G7 that nobody grew and nobody wrote about is not."""
    figures = [row.get(name) for name in ("right_units", "left_units", "single_units")]
    cells = (*line.columns, line.difference)
    return (
        any(figures)
        or row.get("stated_difference") is not None
        or any(as_received.get(cell, "").strip() for cell in cells)
    )


def totals_of(entry: Mapping[str, Any], as_received: Mapping[str, str]) -> tuple[SheetTotal, ...]:
    """The eight totals in the order a sheet adds them up."""
    unit = entry["unit"] or EIGHTHS
    return tuple(
        SheetTotal(name, _written(entry[f"stated_{name}"], as_received.get(name), unit), _text(entry[name], unit))
        for name in TOTALS
    )


def _differences(
    category: Category, there: Mapping[str, Mapping[str, Any]], entry: Mapping[str, Any]
) -> dict[str, int | None]:
    """Each pair's difference by the one rule there is; a line that is not on the sheet at all counts as 0."""
    measures: dict[str, int | None] = {}
    for line in category.lines:
        row = there.get(line.name)
        absent = None if line.needed else 0
        keys = ("right_units", "left_units") if line.sides == "pair" else ("single_units",)
        for column, key in zip(line.columns, keys, strict=True):
            measures[column] = row[key] if row else absent
    schema = dict.fromkeys((*category.measures, "abnormal_total"), pl.Int32)
    one = pl.DataFrame([measures | {"abnormal_total": entry["abnormal_total"]}], schema=schema)
    figures: dict[str, int | None] = recompute(one, category).row(0, named=True)
    return figures


def _known_lines(there: Mapping[str, Any]) -> list[Line]:
    known = {line.name: line for category in all_categories().values() for line in category.lines}
    return [line for name, line in known.items() if name in there]


def _line(
    line: Line,
    row: Mapping[str, Any],
    differences: Mapping[str, int | None],
    as_received: Mapping[str, str],
    unit: int,
) -> SheetLine:
    pair = line.sides == "pair"
    right, left = ("right_units", "left_units") if pair else ("single_units", None)
    return SheetLine(
        name=line.name,
        label=line.label,
        kind=line.kind,
        sides=line.sides,
        right=_written(row.get(right), as_received.get(line.columns[0]), unit),
        left=_written(row.get(left), as_received.get(line.columns[1]), unit) if left else None,
        stated_difference=_written(row.get("stated_difference"), as_received.get(line.difference), unit)
        if pair
        else None,
        recomputed_difference=_text(differences.get(line.difference), unit) if pair else None,
    )


def _abnormal(row: Mapping[str, Any], as_received: Mapping[str, str], unit: int) -> SheetLine:
    right = _written(row["right_units"], as_received.get("abnormal_r"), unit)
    left = _written(row["left_units"], as_received.get("abnormal_l"), unit)
    return SheetLine(ABNORMAL, "Abnormal points", "abnormal", "pair", right, left, None, None)


def _written(units: int | None, received: str | None, unit: int) -> str | None:
    if units is not None:
        return text_of(units, unit)
    return f"“{received.strip()}”" if received and received.strip() else None


def _text(units: int | None, unit: int) -> str | None:
    return None if units is None else text_of(units, unit)
