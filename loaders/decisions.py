"""Decisions that may touch cells: a correction is one, and its undoing puts the cells back, both audited again.

Every other kind is the store's own (`warehouse.book.decisions`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from loaders.corrections import Author, Corrected, Target, accept_explanation, correct_cells
from warehouse.book import corrections, database, decisions
from warehouse.book.decisions import Decided, Decision


@dataclass(frozen=True)
class Correction:
    """The cells to put right (field -> text), or the place of the explanation to accept (None: the likeliest)."""

    cells: Mapping[str, str]
    accept: bool = False
    place: int | None = None


def decide(
    book: Path, decision: Decision, today: date, correction: Correction | None = None,
    wait: float = database.WAIT_SECONDS,
) -> Decided | Corrected:  # fmt: skip
    """Make one decision; a correction for kind "correct", and for an undo that takes one back.

    Raises DecisionRefused or CorrectionRefused; the book is then as it was.
    """
    decisions.check_author(decision.by, decision.why)
    author = Author(decision.by, decision.why)
    if decision.kind == "correct":
        with database.reading(book, wait) as connection:
            decisions.look_at(connection, decision)
        target = Target(book, decision.entry_id, decision.revision_no, wait)
        asked = correction or Correction({})
        if asked.accept:
            return accept_explanation(target, asked.place, author, today)
        return correct_cells(target, asked.cells, author, today)
    if decision.kind == "undo":
        undone = _correction_to_undo(book, decision, wait)
        if undone is not None:
            target, cells = undone
            return correct_cells(target, cells, author, today)
    return decisions.decide(book, decision, wait)


def _correction_to_undo(book: Path, decision: Decision, wait: float) -> tuple[Target, dict[str, str]] | None:
    """The entry with the cells as they stood before its newest correction; None where something else is newest."""
    with database.reading(book, wait) as connection:
        entry = decisions.look_at(connection, decision)
        number, kind, revision = decisions.newest_decision(connection, entry)
        if kind != "correct" or revision is None:
            return None
        before = corrections.cells_before(connection, revision)
    return Target(book, entry.entry_id, entry.revision_no, wait, undoes=number), before
