"""The revisions of an entry: when, by whom, why, and which cells a person put right."""

from collections.abc import Sequence

import streamlit as st

from dashboards.words import STATUSES, field_words, plain
from warehouse.book.reading import SheetRevision


def draw(history: Sequence[SheetRevision]) -> None:
    """One line a revision, newest first; an entry with one revision has no history to tell."""
    if len(history) < 2:
        return
    st.markdown("**History**")
    for one in history:
        st.markdown(
            f"Revision {one.revision_no}, {one.made_at} UTC by {plain(one.author)}, "
            f"{STATUSES[one.status].lower()}: {plain(one.reason)}{_cells(one)}"
        )


def _cells(one: SheetRevision) -> str:
    changes = [
        f"{plain(field_words(field))} {plain(before or 'blank')} → {plain(after or 'blank')}"
        for field, before, after in one.corrected
    ]
    return f"  \n:small[{'; '.join(changes)}]" if changes else ""
