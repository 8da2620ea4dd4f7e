"""From a row of a table to the sheet behind it."""

import polars as pl
import streamlit as st


def go_to_picked(place: int | None, rows: pl.DataFrame) -> None:
    """Open the sheet of the row at `place`, if there is one. `rows` has the `entry_id` of each row of the table."""
    if place is not None:
        st.switch_page("views/audit_queue_page.py", query_params={"entry": str(rows["entry_id"][place])})
