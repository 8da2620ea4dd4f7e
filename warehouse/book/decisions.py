"""Decisions: what a person says becomes of an entry, each with a name and a reason, as an event of the log.

Nothing is erased: an undo is another event. An acceptance is of the revision that was looked at, and lapses with a new
one; a question, a refusal, a withdrawal, a merger and a panel's score stay with the entry until they are undone or
another decision follows.
"""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import duckdb

from warehouse.book import database, events
from warehouse.book.decision_kinds import OF_THE_STORE
from warehouse.categories import all_categories
from warehouse.eighths import text_of, units_of
from warehouse.errors import DecisionRefused
from warehouse.plain_text import shown

DONE_WORDS = {
    "accept": "accepted", "hold": "held with a question", "refuse": "refused", "panel": "held for a panel measuring",
    "panel-result": "accepted with the panel's score", "withdraw": "withdrawn", "merge": "merged", "distinct": "told apart",
}  # fmt: skip
_UNCHANGED = "nothing was changed"


@dataclass(frozen=True)
class Decision:
    """A decision of one of the kinds `OF_THE_STORE` about one entry.

    `other_entry_id`: merge, the entry it is one head with, and counts as; distinct, the one it is not. `net`, `gross`:
    panel, the score that the panel measured, as "150 3/8"; without them a panel is asked for. `despite_errors`: accept
    although the audit found errors. `revision_no`, `seen_event`: what the person looked at, the entry's revision and
    the newest event about it (0: none; None: whatever there is).
    """

    kind: str
    entry_id: int
    by: str
    why: str
    other_entry_id: int | None = None
    net: str | None = None
    gross: str | None = None
    despite_errors: bool = False
    revision_no: int | None = None
    seen_event: int | None = None


@dataclass(frozen=True)
class Decided:
    """What a decision came to: the event's number, the entry's status since, and both in a sentence."""

    event_no: int
    status: str
    message: str


@dataclass(frozen=True)
class Entry:
    """An entry as a decision finds it; `errors` are the codes of its open errors and of its file's, `merged_here` the
    entries that count as this one.
    """

    entry_id: int
    entry_no: str | None
    revision_id: int
    revision_no: int
    status: str
    category: str | None
    unit: int | None
    net: int | None
    merged_into: int | None
    errors: tuple[str, ...]
    newest_event: int
    merged_here: tuple[int, ...] = ()

    @property
    def name(self) -> str:
        """The entry's number in a sentence."""
        return f"entry {shown(self.entry_no)}" if self.entry_no else f"entry ={self.entry_id}"


def decide(book: Path, decision: Decision, wait: float = database.WAIT_SECONDS) -> Decided:
    """Write one decision into the log of the book.

    Raises DecisionRefused, saying why, and as `database.writing` does; the book is then as it was.
    """
    check_author(decision.by, decision.why)
    with database.writing(book, wait) as connection:
        entry = look_at(connection, decision)
        event = _event(connection, decision, entry)
        number = events.append(connection, event, datetime.now(UTC).replace(tzinfo=None))
        status = read_entry(connection, entry.entry_id).status
    return Decided(number, status, _message(entry, event, status))


def check_author(by: str, why: str) -> None:
    """Raise DecisionRefused where a name or a reason is missing, or is no text."""
    for what, text in (("name", by), ("reason", why)):
        if not text.strip():
            raise DecisionRefused(f"a decision needs a {what}; {_UNCHANGED}")
        try:
            text.encode()
        except UnicodeEncodeError as odd:
            raise DecisionRefused(f"the {what} '{shown(text)}' holds bytes that are no letters; {_UNCHANGED}") from odd


def look_at(connection: duckdb.DuckDBPyConnection, decision: Decision) -> Entry:
    """The entry that is decided about. Raises DecisionRefused where it is not there, or changed since it was looked at."""
    entry = read_entry(connection, decision.entry_id)
    if decision.revision_no is not None and decision.revision_no != entry.revision_no:
        raise DecisionRefused(
            f"{entry.name}: revision {entry.revision_no} was made since you looked at revision {decision.revision_no}; "
            f"{_UNCHANGED}, look at it again"
        )
    if decision.seen_event is not None and decision.seen_event != entry.newest_event:
        raise DecisionRefused(f"{entry.name}: somebody decided about it meanwhile; {_UNCHANGED}, look at it again")
    return entry


def read_entry(connection: duckdb.DuckDBPyConnection, entry_id: int) -> Entry:
    """One entry. Raises DecisionRefused where the book has no such entry."""
    row = _one(
        connection,
        "SELECT entry_id, entry_no, revision_id, revision_no, status, category, unit, counted_net, merged_into, "
        "(SELECT list(DISTINCT f.code ORDER BY f.code) FROM finding f JOIN received_row r ON r.row_id = c.row_id "
        " WHERE f.severity = 'error' AND (f.revision_id = c.revision_id OR (f.row_id IS NULL AND f.file_id = r.file_id))), "
        "(SELECT coalesce(max(event_no), 0) FROM event v WHERE v.entry_id = c.entry_id), "
        "(SELECT list(m.entry_id ORDER BY m.entry_id) FROM live_decision m WHERE m.kind = 'merge' AND m.other_entry_id = c.entry_id) "
        "FROM current_entry c WHERE entry_id = ?",
        entry_id,
    )
    if row is None:
        raise DecisionRefused(f"entry ={entry_id}: the book has no such entry; {_UNCHANGED}")
    found, number, revision, revision_no, status, category, unit, net, merged_into, errors, newest, merged_here = row
    return Entry(
        found, number, revision, revision_no, status, category, unit, net, merged_into,
        tuple(errors or ()), int(newest), tuple(merged_here or ()),
    )  # fmt: skip


def newest_decision(connection: duckdb.DuckDBPyConnection, entry: Entry) -> tuple[int, str, int | None]:
    """(event_no, kind, revision_id) of what an undo takes back. Raises DecisionRefused where there is nothing."""
    found = connection.execute(
        # a correction of a row that was sent again since counts no longer: there is nothing in it to take back
        "SELECT v.event_no, v.kind, v.revision_id FROM live_event v LEFT JOIN entry_revision made USING (revision_id) "
        "JOIN entry_revision now ON now.revision_id = ? WHERE v.entry_id = ? AND (v.kind <> 'correct' OR made.row_id = now.row_id) "
        "ORDER BY v.event_no DESC LIMIT 1",
        [entry.revision_id, entry.entry_id],
    ).fetchall()
    if not found:
        raise DecisionRefused(f"{entry.name}: nothing was decided about it that could be undone; {_UNCHANGED}")
    number, kind, revision = found[0]
    return int(number), str(kind), revision


def _one(connection: duckdb.DuckDBPyConnection, query: str, entry_id: int) -> Any:
    rows = connection.execute(query, [entry_id]).fetchall()
    return rows[0] if rows else None


def _event(connection: duckdb.DuckDBPyConnection, decision: Decision, entry: Entry) -> events.Event:
    plain = events.Event(
        decision.kind, decision.by.strip(), decision.why.strip(), entry_id=entry.entry_id, revision_id=entry.revision_id
    )
    if decision.kind == "undo":
        number, kind, _ = newest_decision(connection, entry)
        if kind == "correct":
            raise DecisionRefused(f"{entry.name}: a correction is undone with the loaders; {_UNCHANGED}")
        return replace(plain, undoes=number)
    if decision.kind in ("merge", "distinct"):
        return replace(plain, other_entry_id=_other(connection, decision, entry))
    if entry.status == "merged":
        raise DecisionRefused(
            f"{entry.name}: it is merged into entry ={entry.merged_into}; undo that first, or decide about that entry; {_UNCHANGED}"
        )
    if decision.kind in ("refuse", "withdraw") and entry.merged_here:
        raise DecisionRefused(
            f"{entry.name}: entry {', '.join(f'={one}' for one in entry.merged_here)} counts as this one; undo that merger "
            f"first; {_UNCHANGED}"
        )
    if decision.kind == "panel" and (decision.net or decision.gross):
        net, gross = _panel_score(decision, entry)
        return replace(plain, kind="panel-result", net=net, gross=gross)
    if decision.kind == "accept":
        _check_acceptable(decision, entry)
        return replace(plain, about=f"despite {', '.join(entry.errors)}" if entry.errors else None)
    if decision.kind in ("refuse", "withdraw") and entry.status == DONE_WORDS[decision.kind]:
        raise DecisionRefused(f"{entry.name}: it is {entry.status} already; {_UNCHANGED}")
    if decision.kind not in OF_THE_STORE:
        raise DecisionRefused(f"'{shown(decision.kind)}' is no decision; expected one of: {', '.join(OF_THE_STORE)}")
    return plain


def _check_acceptable(decision: Decision, entry: Entry) -> None:
    if entry.status == "accepted":
        raise DecisionRefused(f"{entry.name}: it is accepted already; {_UNCHANGED}")
    if entry.net is None or entry.category is None:
        raise DecisionRefused(
            f"{entry.name}: its score is not known, so that it cannot be accepted; correct the sheet, or record a panel's "
            f"score with `panel --net ... --gross ...`; {_UNCHANGED}"
        )
    if entry.errors and not decision.despite_errors:
        raise DecisionRefused(
            f"{entry.name}: its errors stop acceptance ({', '.join(entry.errors)}); correct them, or say that it is "
            f"accepted despite them (--despite-errors); {_UNCHANGED}"
        )


def _other(connection: duckdb.DuckDBPyConnection, decision: Decision, entry: Entry) -> int:
    if decision.other_entry_id is None:
        raise DecisionRefused(f"{entry.name}: {decision.kind} needs the other entry (--with); {_UNCHANGED}")
    if decision.other_entry_id == entry.entry_id:
        raise DecisionRefused(f"{entry.name}: an entry cannot be held against itself; {_UNCHANGED}")
    other = read_entry(connection, decision.other_entry_id)
    if decision.kind == "merge":
        _check_mergeable(entry, other)
    for one, two in ((entry, other), (other, entry)):
        if decision.kind == "distinct" and one.merged_into == two.entry_id:
            raise DecisionRefused(f"{one.name}: it is merged into entry ={two.entry_id}; undo that first; {_UNCHANGED}")
    return other.entry_id


def _check_mergeable(entry: Entry, other: Entry) -> None:
    """A head must count where it is merged into: there it must stand, and not be on its way elsewhere."""
    for one in (entry, other):
        if one.status == "merged":
            raise DecisionRefused(f"{one.name}: it is merged into entry ={one.merged_into} already; {_UNCHANGED}")
    if other.status not in ("accepted", "held"):
        raise DecisionRefused(
            f"{other.name}: it is {other.status}, so that a head merged into it would not count; {_UNCHANGED}"
        )
    if entry.merged_here:
        raise DecisionRefused(
            f"{entry.name}: entry {', '.join(f'={one}' for one in entry.merged_here)} counts as this one; merge that "
            f"one into entry ={other.entry_id} first, or merge entry ={other.entry_id} into this one; {_UNCHANGED}"
        )


def _panel_score(decision: Decision, entry: Entry) -> tuple[int, int]:
    if not (decision.net and decision.gross):
        raise DecisionRefused(f"{entry.name}: a panel's score needs both --net and --gross; {_UNCHANGED}")
    if entry.category is None or entry.unit is None:
        raise DecisionRefused(f"{entry.name}: its category is not known; correct it first; {_UNCHANGED}")
    try:
        net, gross = (units_of(text.strip(), entry.unit) for text in (decision.net, decision.gross))
    except ValueError as odd:
        raise DecisionRefused(f"{entry.name}: {odd}; {_UNCHANGED}") from odd
    if all_categories()[entry.category].abnormal != "added" and net > gross:
        raise DecisionRefused(
            f"{entry.name}: the net {text_of(net, entry.unit)} is more than the gross {text_of(gross, entry.unit)}; {_UNCHANGED}"
        )
    return net, gross


def _message(entry: Entry, event: events.Event, status: str) -> str:
    if event.kind == "undo":
        return f"{entry.name}: event {event.undoes} is undone; the entry is {status}"
    words = DONE_WORDS[event.kind]
    if event.kind in ("merge", "distinct"):
        joint = "into" if event.kind == "merge" else "from"
        more = ", until it is accepted" if event.kind == "distinct" and status == "held" else ""
        return f"{entry.name}: {words} {joint} entry ={event.other_entry_id}; it is {status}{more}"
    return f"{entry.name}: {words}{f' {event.about}' if event.about else ''}"
