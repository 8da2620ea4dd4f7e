"""The form by which a person says whether two entries are one head."""

from dataclasses import dataclass

import streamlit as st

from dashboards import open_book
from dashboards.frame_of_page import refusal
from dashboards.views.duplicates_sheets import name
from dashboards.words import plain
from warehouse.book.decisions import Decision, decide
from warehouse.book.reading import Sheet
from warehouse.errors import BeamledgerError, DecisionRefused

OUTCOME = "duplicates.outcome"  # of the last decision: what to say, or the refusal; told once
BY = "duplicates.by"  # kept for the session: whoever decides about the next pair is the same person
KEEP_FIRST, KEEP_SECOND, TWO_HEADS = "first", "second", "two"
READ_ONLY = "This book cannot be written to from here, so that nothing can be decided on this page."
HELP = (
    "One head: the other entry is merged into the one that is kept, and counts no longer by itself. Nothing is erased: "
    "each decision stands in the log with its name and reason, and can be undone."
)


@dataclass(frozen=True)
class Seen:
    """What a person looked at of one entry: its revision, and the newest event about it (None: not known)."""

    entry_id: int
    entry_no: str | None
    revision_no: int
    newest_event: int | None

    @classmethod
    def of(cls, sheet: Sheet, newest_event: int | None) -> "Seen":
        """What the page shows of an entry."""
        return cls(sheet.entry_id, sheet.entry_no, sheet.revision_no, newest_event)


def told() -> None:
    """Say once what came of the last decision."""
    outcome = st.session_state.pop(OUTCOME, None)
    if isinstance(outcome, BeamledgerError):
        refusal(outcome)
    elif outcome is not None:
        st.success(plain(outcome))


def draw(first: Seen, second: Seen, address: str, then: str | None) -> None:
    """The form. `address` is the query parameter that names the pair, `then` its value once this pair is decided."""
    if not open_book.may_write():
        st.caption(READ_ONLY)
        return
    names = [name(seen.entry_id, seen.entry_no) for seen in (first, second)]
    labels = {
        KEEP_FIRST: f"One head: keep {names[0]}, the other is merged into it",
        KEEP_SECOND: f"One head: keep {names[1]}, the other is merged into it",
        TWO_HEADS: "Two heads",
    }
    key = f"duplicates.{first.entry_id}.{first.revision_no}.{second.entry_id}.{second.revision_no}"
    with st.form(key):
        st.radio(
            "Decision", list(labels), index=None, format_func=lambda choice: plain(labels[choice]), key=f"{key}.what"
        )
        st.text_input("Your name", max_chars=80, key=BY, persist_state="session")
        st.text_input("Reason", max_chars=300, placeholder="What you compared", key=f"{key}.why")
        # a callback keeps the revisions that the person looked at, where a rerun would take the newest
        st.form_submit_button(
            "Decide", type="primary", on_click=_decide, args=(key, first, second, address, then)
        )  # fmt: skip
    st.caption(HELP)


def _decide(key: str, first: Seen, second: Seen, address: str, then: str | None) -> None:
    """Decide as the form says, keep what came of it for the page, and go on to the next pair."""
    state = st.session_state
    by, why = state.get(BY) or "", state.get(f"{key}.why") or ""
    try:
        decision = _decision(state.get(f"{key}.what"), first, second, by, why)
        state[OUTCOME] = decide(open_book.book_path(), decision).message
    except BeamledgerError as refused:
        state[OUTCOME] = refused
        return
    if then is None:
        st.query_params.pop(address, None)
    else:
        st.query_params[address] = then


def _decision(choice: str | None, first: Seen, second: Seen, by: str, why: str) -> Decision:
    if choice is None:
        raise DecisionRefused("choose whether it is one head or two; nothing was changed")
    about, other = (first, second) if choice == KEEP_SECOND else (second, first)
    return Decision(
        "distinct" if choice == TWO_HEADS else "merge", about.entry_id, by, why, other.entry_id,
        revision_no=about.revision_no, seen_event=about.newest_event,
    )  # fmt: skip
