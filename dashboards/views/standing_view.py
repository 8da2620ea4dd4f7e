"""Where one sheet stands in each record book."""

import streamlit as st

from dashboards.words import plain
from warehouse.book.reading import Sheet, SheetStanding


def draw(sheet: Sheet) -> None:
    """One line a record book, in words."""
    if not sheet.standings:
        return
    st.markdown("**Standing in the record books**")
    st.markdown("\n".join(f"- {_line(one)}" for one in sheet.standings))


def _line(one: SheetStanding) -> str:
    book = f"**{plain(one.book)}**"
    if one.qualifies:
        at = "exactly at" if one.over == "0" else f"{one.over} over"
        return f"{book}: qualifies, {one.ranked_by} {one.score}, {at} the minimum of {one.minimum}"
    why = plain("; ".join(one.reasons))
    return (
        f"{book}: would qualify if it were accepted; {why}" if one.would_qualify else f"{book}: does not qualify; {why}"
    )
