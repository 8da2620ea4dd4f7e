"""The command `decide`: one decision about one entry, and how it then stands."""

import argparse
import json

from dashboards.arguments import NOTICE
from dashboards.asked import today
from dashboards.correct_command import cells_named
from dashboards.correct_command import report as correction_report
from dashboards.printing import print_lines
from dashboards.which_entry import entry_id
from loaders.corrections import Corrected
from loaders.decisions import Correction, decide
from warehouse.book.decisions import Decided, Decision
from warehouse.errors import DecisionRefused

# option -> the decisions that take it; any other option beside a decision would be forgotten in silence
TAKES = {
    "despite_errors": ("accept",), "net": ("panel",), "gross": ("panel",), "other": ("merge", "distinct"),
    "cell": ("correct",), "accept": ("correct",),
}  # fmt: skip


def run(asked: argparse.Namespace) -> int:
    """Decide; 1 where the entry is held afterwards."""
    _check_options(asked)
    other = entry_id(asked.book, asked.other, asked.wait) if asked.other else None
    entry = entry_id(asked.book, asked.entry, asked.wait)
    decision = Decision(asked.decision, entry, asked.by, asked.why, other, asked.net, asked.gross, asked.despite_errors)
    correction = Correction(
        cells_named(asked.cell), asked.accept is not None, asked.accept - 1 if asked.accept else None
    )
    done = decide(asked.book, decision, today(), correction, asked.wait)
    print_lines(_json_line(asked, entry, done) if asked.json else _report(asked, done))
    return int(done.status == "held")


def _check_options(asked: argparse.Namespace) -> None:
    for option, decisions in TAKES.items():
        if getattr(asked, option) not in (None, False, []) and asked.decision not in decisions:
            name = {"other": "with"}.get(option, option).replace("_", "-")
            raise DecisionRefused(
                f"--{name} goes with {' or '.join(decisions)}, not with {asked.decision}; nothing was changed"
            )
    if asked.decision == "correct" and bool(asked.cell) == (asked.accept is not None):
        raise DecisionRefused("correct needs either --cell FIELD=TEXT or --accept; nothing was changed")


def _report(asked: argparse.Namespace, done: Decided | Corrected) -> list[str]:
    if isinstance(done, Corrected):
        return correction_report(asked.entry, done)
    return [f"event {done.event_no}: {done.message}", NOTICE]


def _json_line(asked: argparse.Namespace, entry: int, done: Decided | Corrected) -> list[str]:
    said = {"entry": asked.entry, "entry_id": entry, "decision": asked.decision, "by": asked.by, "why": asked.why}
    if isinstance(done, Corrected):
        told = said | {"revision_no": done.revision_no, "status": done.status, "net": done.net}
    else:
        told = said | {"event_no": done.event_no, "status": done.status, "message": done.message}
    return [json.dumps(told, ensure_ascii=False)]
