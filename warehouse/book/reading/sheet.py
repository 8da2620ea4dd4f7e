"""One sheet whole: its lines, its totals stated and recomputed, its findings, and the row as it was received."""

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from warehouse.book.database import reading
from warehouse.book.named_query import frame
from warehouse.book.reading.sheet_decisions import SheetEvent, SheetStanding, events_of, standings_of
from warehouse.book.reading.sheet_layout import SheetLine, SheetTotal, lines_of, received_cells, totals_of
from warehouse.book.reading.sheet_reasons import (
    SheetExplanation,
    SheetRevision,
    corrected_texts,
    explanations_of,
    history_of,
)
from warehouse.book.standing import standing
from warehouse.eighths import EIGHTHS


@dataclass(frozen=True)
class SheetFinding:
    """One open finding of the sheet; `cells` are our field names."""

    code: str
    severity: str
    cells: tuple[str, ...]
    stated: str | None
    expected: str | None
    message: str


@dataclass(frozen=True)
class Sheet:
    """One entry's current state. Texts are as the sender gave them where the field is text; lengths are score sheet
    text. `status` is what the audit and the decisions make of it, `audit_status` what the audit alone says; `events` tell
    what was done about it, newest first. `score_certain` is None for a revision of before explanations were kept. `received` is (heading, text as
    received, our field or '') for each cell of the row, `corrected` what a person put in place of it since (field ->
    text, '' for an emptied cell).
    """

    entry_id: int
    entry_no: str | None
    status: str
    audit_status: str
    merged_into: int | None
    revision_no: int
    category: str | None
    hunter: str | None
    tag_no: str | None
    area: str | None
    district: str | None
    taken_on: date | None
    season: str | None
    weapon: str | None
    antler_state: str
    age_half_years: int | None
    measured_on: date | None
    measurer: str | None
    points: tuple[int | None, int | None]
    lines: tuple[SheetLine, ...]
    totals: tuple[SheetTotal, ...]
    findings: tuple[SheetFinding, ...]
    explanations: tuple[SheetExplanation, ...]
    score_certain: bool | None
    history: tuple[SheetRevision, ...]
    standings: tuple[SheetStanding, ...]
    events: tuple[SheetEvent, ...]
    received: tuple[tuple[str, str, str], ...]
    corrected: dict[str, str]
    file: str | None
    file_sheet: str | None
    row: int | None
    loaded_at: str | None
    loaded_by: str | None

    @property
    def marks(self) -> dict[str, str]:
        """Field -> "error" or "question", the worst that names it; a note marks nothing."""
        questions = {cell: "question" for each in self.findings if each.severity == "question" for cell in each.cells}
        errors = {cell: "error" for each in self.findings if each.severity == "error" for cell in each.cells}
        return questions | errors

    @property
    def seen_event(self) -> int:
        """The newest event about this entry, 0 for none: a decision says what it was made after."""
        return max((one.event_no for one in self.events if one.is_own), default=0)

    @property
    def suspects(self) -> frozenset[str]:
        """The fields that the likeliest explanation calls wrong, or those that are as likely."""
        best = self.explanations[:1] if not self.explanations or not self.explanations[0].tie else self.explanations
        return frozenset(cell for one in best if one is best[0] or one.tie for cell in one.cells)


def read_sheet(path: Path, entry_id: int) -> Sheet | None:
    """The sheet of this entry of the book at `path`, None where the book has no such entry.

    Raises as `warehouse.book.database.reading` does.
    """
    with reading(path) as connection:
        entries = frame(connection, "sheet_entry", {"entry_id": entry_id}).to_dicts()
        if not entries:
            return None
        measured = frame(connection, "sheet_lines", {"entry_id": entry_id}).to_dicts()
        found = frame(connection, "sheet_findings", {"entry_id": entry_id}).to_dicts()
        why = frame(connection, "sheet_explanations", {"entry_id": entry_id}).to_dicts()
        history = frame(connection, "sheet_history", {"entry_id": entry_id}).to_dicts()
        logged = frame(connection, "sheet_events", {"entry_id": entry_id}).to_dicts()
        standings = standings_of(standing(connection, entry_id=entry_id))
    unit = entries[0]["unit"] or EIGHTHS
    sheet = _sheet(entries[0], measured, tuple(map(_finding, found)), explanations_of(why, unit), history_of(history))
    return replace(sheet, standings=standings, events=events_of(logged, unit))


def _finding(row: dict[str, Any]) -> SheetFinding:
    return SheetFinding(**(row | {"cells": tuple(row["cells"])}))


def _sheet(
    entry: dict[str, Any],
    measured: list[dict[str, Any]],
    findings: tuple[SheetFinding, ...],
    explanations: tuple[SheetExplanation, ...],
    history: tuple[SheetRevision, ...],
) -> Sheet:
    received = received_cells(entry)
    corrected = corrected_texts(history, entry["row_id"])
    as_it_reads = {field: text for _, text, field in received if field} | corrected
    return Sheet(
        **{name: entry[name] for name in ("entry_id", "entry_no", "status", "revision_no", "category", "hunter")},
        **{name: entry[name] for name in ("audit_status", "merged_into", "antler_state", "age_half_years")},
        **{name: entry[name] for name in ("tag_no", "district", "taken_on", "season", "measured_on")},
        **{name: entry[name] for name in ("file", "row", "loaded_at", "loaded_by")},
        file_sheet=entry["sheet"],
        area=entry["area"] or entry["area_written"],
        weapon=entry["weapon_label"] or as_it_reads.get("weapon"),
        measurer=_measurer(entry),
        points=(entry["points_r"], entry["points_l"]),
        lines=lines_of(entry, measured, as_it_reads),
        totals=totals_of(entry, as_it_reads),
        findings=findings,
        explanations=explanations,
        score_certain=entry["score_certain"],
        history=history,
        standings=(),
        events=(),
        received=received,
        corrected=corrected,
    )


def _measurer(entry: dict[str, Any]) -> str | None:
    name, number = entry["measurer_name"], entry["measurer"]
    return f"{name} ({number})" if name else number
