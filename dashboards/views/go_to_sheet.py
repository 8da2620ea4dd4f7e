"""From a row of a table to the sheet behind it."""

from typing import Any

import polars as pl
import streamlit as st


def go_to_picked(picked: Any, rows: pl.DataFrame) -> None:
    """Open the sheet of the row that was ticked, if one was. `rows` has the `entry_id` of each row of the table."""
    ticked = picked["selection"]["rows"]
    if ticked and ticked[0] < rows.height:
        st.switch_page("views/audit_queue_page.py", query_params={"entry": str(rows["entry_id"][ticked[0]])})
