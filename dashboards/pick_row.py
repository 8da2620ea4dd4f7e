"""A list of which the visitor picks one row, by a tick or by name; a pick is answered once.

Who goes back while the picked sheet still draws interrupts that run, and the values of the widgets outlive a run that
was interrupted: the list would find its row still picked, and open the sheet again. So the keys of the widgets count
the picks of the session: once a row was picked, the list is drawn with widgets that nobody has touched.
"""

from collections.abc import Mapping
from typing import TypeVar

import polars as pl
import streamlit as st

from dashboards.tables import Columns, height

PICKS = "pick_row.picks"  # how many rows this session has picked
Value = TypeVar("Value", int, str)


def ticked(name: str, shown: pl.DataFrame, columns: Columns, alt: str, most: int = 560) -> int | None:
    """Draw a table, and answer the place of the row that was just ticked, from 0; None where none was.

    `name` tells the tables of a page apart; `alt` describes the table to those who do not see it; `most` is the
    greatest height, in pixels.
    """
    state = st.dataframe(
        shown, column_config=columns, hide_index=True, height=height(shown.height, most), alt=alt,
        key=_key(name), on_select="rerun", selection_mode="single-row",
    )  # fmt: skip
    rows = [row for row in state["selection"]["rows"] if row < shown.height]  # the table may have become shorter
    return _counted(rows[0]) if rows else None


def named(label: str, names: Mapping[Value, str]) -> Value | None:
    """Draw a choice of `names` (value -> words), and answer the value that was just chosen; None where none was.

    It goes with a table, which is drawn, not written: whoever works by keys or by ear picks a row here.
    """
    chosen: Value | None = st.selectbox(
        label, list(names), index=None, format_func=lambda value: names[value], key=_key(label),
        placeholder="Type an entry number or a name, or tick a row of the table",
    )  # fmt: skip
    return None if chosen is None else _counted(chosen)


def _key(name: str) -> str:
    return f"{name}.{st.session_state.get(PICKS, 0)}"


def _counted(picked: Value) -> Value:
    st.session_state[PICKS] = st.session_state.get(PICKS, 0) + 1
    return picked
