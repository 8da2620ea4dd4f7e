"""The day as of which the pages of figures look at the book, kept in the address."""

from datetime import date

import streamlit as st

from dashboards.asked import today
from dashboards.words import plain

EARLIEST = date(1900, 1, 1)  # without it the calendar goes back ten years only, and an earlier day would be dropped


def day_filter() -> date | None:
    """The day; None: today. What the address asks for and is none is said, not dropped."""
    written = st.query_params.get("as-of")
    if written and not _is_day(written):
        st.warning(
            plain(
                f"The address asks for as-of “{written}”, which is no day like 2026-03-14 up to today; it was left out."
            )
        )
    day = st.date_input(
        "As it was known on", value=None, key="as-of", min_value=EARLIEST, max_value=today(), format="YYYY-MM-DD",
        bind="query-params",
    )  # fmt: skip
    return day if isinstance(day, date) else None


def _is_day(written: str) -> bool:
    """Whether it is a day that can be chosen, written as the address writes it (20260314 is not)."""
    try:
        day = date.fromisoformat(written)
    except ValueError:
        return False
    return day.isoformat() == written and EARLIEST <= day <= today()
