"""Why a sheet disagrees with itself, likeliest first, and the form by which a person accepts a correction."""

from collections.abc import Sequence

import streamlit as st

from dashboards import open_book
from dashboards.asked import today
from dashboards.frame_of_page import refusal
from dashboards.words import counted, field_words, plain
from loaders.corrections import Author, Target, accept_explanation
from warehouse.book.reading import Sheet, SheetExplanation
from warehouse.errors import BeamledgerError

OUTCOME = "correction.outcome"  # of the last correction: (entry, what to say or the refusal), told once
BY = "correction.by"  # kept for the session: whoever corrects the next sheet is the same person
CERTAIN = "Every explanation gives the same net score."
CERTAIN_ALONE = "No other slip explains this sheet: the net score is certain."
UNCERTAIN = "The net score is not certain: see the other explanations, or look at the paper sheet."
UNCERTAIN_ALONE = (
    "The net score is not certain, for two slips at once could look like this one: look at the paper sheet."
)
READ_ONLY = "This book cannot be written to from here, so that no correction can be accepted on this page."


def draw(sheet: Sheet) -> None:
    """What the last correction came to, the likeliest explanation, the others folded away, and the form."""
    refused = _outcome(sheet.entry_id)
    if not sheet.explanations:
        return
    best, *others = sheet.explanations
    with st.container(border=True):
        st.markdown(f"**{'One of several as likely' if best.tie else 'Likeliest'}.** {plain(best.why)}")
        st.caption(_how_sure(sheet.score_certain, bool(others)))
        if others:
            _others(others)
        if open_book.may_write():
            _form(sheet, refused)
        else:
            st.caption(READ_ONLY)


def _how_sure(is_certain: bool | None, has_others: bool) -> str:
    if is_certain:
        return CERTAIN if has_others else CERTAIN_ALONE
    return UNCERTAIN if has_others else UNCERTAIN_ALONE


def _others(others: Sequence[SheetExplanation]) -> None:
    with st.expander(counted(len(others), "other explanation")):
        for one in others:
            tie = " (a tie: as likely as another)" if one.tie else ""
            st.markdown(f"{one.place + 1}\\. {plain(one.why)}{tie}")


def _form(sheet: Sheet, is_open: bool) -> None:
    """Nothing is corrected without a name and a reason; the stated values stay in the row as received."""
    key = f"correction.{sheet.entry_id}.{sheet.revision_no}"
    with st.expander("Accept a correction", expanded=is_open), st.form(key, border=False):
        st.selectbox(
            "Explanation",
            [one.place for one in sheet.explanations],
            index=None if sheet.explanations[0].tie else 0,
            placeholder="Several are as likely: choose one",
            format_func=lambda place: f"{place + 1}: {_short(sheet.explanations[place])}",
            key=f"{key}.place",
        )
        st.text_input("Your name", max_chars=80, key=BY, persist_state="session")
        st.text_input("Reason", max_chars=300, placeholder="What you compared it with", key=f"{key}.why")
        # a callback keeps the revision that the person looked at, where a rerun would take the newest
        st.form_submit_button(
            "Accept this correction", type="primary", on_click=_accept, args=(key, sheet.entry_id, sheet.revision_no)
        )


def _short(one: SheetExplanation) -> str:
    cells = "; ".join(f"{field_words(cell)} {text}" for cell, text in zip(one.cells, one.proposed, strict=True))
    return f"{cells}, net {one.net}" if one.net else cells


def _accept(key: str, entry_id: int, revision_no: int) -> None:
    """Accept the chosen explanation of the revision that was looked at, and keep what came of it for the page."""
    state = st.session_state
    author = Author(state.get(BY) or "", state.get(f"{key}.why") or "")
    try:
        target = Target(open_book.book_path(), entry_id, revision_no)
        done = accept_explanation(target, state[f"{key}.place"], author, today())
    except BeamledgerError as refused:
        state[OUTCOME] = (entry_id, refused)
        return
    now = "held, for something else still needs a person" if done.is_held else done.status
    cells = "; ".join(
        f"{field_words(field)} {before or 'blank'} → {text}" for field, (before, text) in done.cells.items()
    )
    state[OUTCOME] = (entry_id, f"Revision {done.revision_no} is written ({cells}); the entry is {now}.")


def _outcome(entry_id: int) -> bool:
    """Tell once what came of the last correction of this entry; whether it was refused."""
    of_entry, told = st.session_state.pop(OUTCOME, (None, None))
    if of_entry != entry_id:
        return False
    if isinstance(told, BeamledgerError):
        refusal(told)
        return True
    st.success(plain(told))
    return False
