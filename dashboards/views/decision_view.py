"""The form by which a person decides about a sheet, with a name and a reason, and the log of what was decided before."""

import streamlit as st

from dashboards import open_book
from dashboards.asked import today
from dashboards.frame_of_page import refusal
from dashboards.words import EVENTS, STATUSES, plain
from loaders.corrections import Corrected
from loaders.decisions import decide
from warehouse.book.decisions import Decision
from warehouse.book.reading import Sheet, SheetEvent
from warehouse.errors import BeamledgerError

OUTCOME = "decision.outcome"  # of the last decision: (entry, what to say or the refusal), told once
BY = "decision.by"  # kept for the session: whoever decides about the next sheet is the same person
CHOICES = {
    "accept": "Accept it",
    "hold": "Hold it with a question",
    "refuse": "Refuse it",
    "panel": "Ask for a panel measuring, or record its score",
    "withdraw": "Withdraw it, for its sender asks so",
    "undo": "Undo the newest decision or correction",
}
READ_ONLY = "This book cannot be written to from here, so that nothing can be decided on this page."


def draw_outcome(sheet: Sheet) -> None:
    """Tell once what came of the last decision about this entry; a refusal is told beside the form."""
    of_entry, told = st.session_state.get(OUTCOME, (None, None))
    if of_entry == sheet.entry_id and isinstance(told, str):
        del st.session_state[OUTCOME]
        st.success(plain(told))


def _refused(sheet: Sheet) -> bool:
    """Tell once why the last decision about this entry was refused; whether it was."""
    of_entry, told = st.session_state.pop(OUTCOME, (None, None))
    if of_entry != sheet.entry_id or not isinstance(told, BeamledgerError):
        return False
    refusal(told)
    return True


def draw(sheet: Sheet) -> None:
    """What was decided, newest first, and the form."""
    with st.container(border=True):
        st.markdown(f"**Decide.** The entry is {STATUSES[sheet.status].lower()}{_where(sheet)}.")
        for event in sheet.events:
            st.markdown(_line(event))
        refused = _refused(sheet)
        if open_book.may_write():
            _form(sheet, refused)
        else:
            st.caption(READ_ONLY)


def _where(sheet: Sheet) -> str:
    return f" into entry ={sheet.merged_into}" if sheet.merged_into else ""


def _line(event: SheetEvent) -> str:
    what = EVENTS[event.kind]
    if event.undoes is not None:
        what += f" (event {event.undoes})"
    if event.other is not None:
        what += f" (with entry ={event.other})"
    if event.about is not None:
        what += f" {event.about}"
    if event.net is not None:
        what += f" (net {event.net})"
    words = f"{what}, {event.happened_at} UTC by {event.author}: {event.reason}"
    return f":small[{event.event_no}. {f'~~{plain(words)}~~ (undone)' if event.is_undone else plain(words)}]"


def _form(sheet: Sheet, is_open: bool) -> None:
    """Nothing is decided without a name and a reason; the log keeps both, and is never altered."""
    key = f"decision.{sheet.entry_id}.{sheet.revision_no}.{sheet.seen_event}"
    has_errors = any(found.severity == "error" for found in sheet.findings)
    with st.expander("Make a decision", expanded=is_open), st.form(key, border=False):
        st.selectbox("Decision", list(CHOICES), index=None, placeholder="Choose one",
                     format_func=lambda kind: CHOICES[kind], key=f"{key}.kind")  # fmt: skip
        if has_errors and sheet.status == "held":
            st.checkbox("Accept it although the audit found errors", key=f"{key}.despite")
        left, right = st.columns(2)
        left.text_input("The panel’s net", placeholder="Only for a panel’s score, like 150 3/8", key=f"{key}.net")
        right.text_input("The panel’s gross", placeholder="like 158 0/8", key=f"{key}.gross")
        st.text_input("Your name", max_chars=80, key=BY, persist_state="session")
        st.text_input(
            "Reason, or the question", max_chars=300, key=f"{key}.why",
            placeholder="Kept in the log, and printed where an edition tells of it",
        )  # fmt: skip
        # a callback keeps what the person looked at, where a rerun would take the newest
        st.form_submit_button(
            "Decide", type="primary", on_click=_decide,
            args=(key, sheet.entry_id, sheet.revision_no, sheet.seen_event),
        )  # fmt: skip


def _decide(key: str, entry_id: int, revision_no: int, seen_event: int) -> None:
    """Make the decision about what was looked at, and keep what came of it for the page."""
    state = st.session_state
    decision = Decision(
        state.get(f"{key}.kind") or "", entry_id, state.get(BY) or "", state.get(f"{key}.why") or "",
        net=state.get(f"{key}.net") or None, gross=state.get(f"{key}.gross") or None,
        despite_errors=bool(state.get(f"{key}.despite")), revision_no=revision_no, seen_event=seen_event,
    )  # fmt: skip
    try:
        done = decide(open_book.book_path(), decision, today())
    except BeamledgerError as refused:
        state[OUTCOME] = (entry_id, refused)
        return
    if isinstance(done, Corrected):
        state[OUTCOME] = (
            entry_id,
            f"The correction is undone in revision {done.revision_no}; the entry is {done.status}.",
        )
    else:
        state[OUTCOME] = (entry_id, f"Event {done.event_no}: {done.message}.")
