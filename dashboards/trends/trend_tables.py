"""The seasons, districts and areas of a trend as tables of a page."""

import polars as pl
import streamlit as st

from dashboards.number_words import p_text, percent_text, rate, rate_interval, share, signed
from dashboards.tables import Columns, right
from dashboards.trends.trend_season_words import STATES
from dashboards.trends.trend_words import briefly, second_text
from warehouse.book.trend_figures.trend import Trend


def seasons(trend: Trend, frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row a season. Takes `TrendFrames.seasons`."""
    rows = frame.rows(named=True)
    shown = pl.DataFrame(
        {
            "Season": frame["season"],
            "Entries": frame["all_entries"],
            "Rate (95 % interval)": [rate_interval(row["rate"], row["rate_lower"], row["rate_upper"]) for row in rows],
            f"At or above {second_text(trend)}": frame["above_second"],
            "Share": [share(row["share"]) for row in rows],
            "Median entry, inches": frame["median_text"],
            "Minimum, inches": frame["highest_text"],
            "State": frame["state"].replace_strict(STATES),
            "In the trend": [{True: "yes", False: "no"}[used] for used in frame["used"]],
        }
    )
    return shown, {name: right(name) for name in ("Median entry, inches", "Minimum, inches", "Share")}


def places(frame: pl.DataFrame, kind: str) -> tuple[pl.DataFrame, Columns]:
    """One row a district or area, by name. Takes `TrendFrames.districts` or `.areas`; `kind` is "district" or "area"."""
    rows = frame.rows(named=True)
    shrunk = {"Drawn in": [_signed(row["shrunk_percent"]) for row in rows]} if kind == "area" else {}
    shown = pl.DataFrame(
        {
            **({"Area": frame["area"]} if kind == "area" else {}),
            "District": frame["district"],
            "Entries": frame["entries"],
            "% a year (95 %)": [percent_text(row) for row in rows],
            "p, adj.": [p_text(row["p_adjusted"]) for row in rows],
            **shrunk,
            "Rate and share": [briefly(row) for row in rows],
            "Level (95 %)": [rate_interval(row["level"], row["level_lower"], row["level_upper"]) for row in rows],
            "Smoothed": [rate(row["smoothed"]) for row in rows],
            "Funnel": frame["flag"],
        }
    )
    widths = {
        "Area": 95, "District": 90, "% a year (95 %)": 140, "Rate and share": 112, "Level (95 %)": 138, "Funnel": 60,
    }  # fmt: skip
    return shown, {
        **{name: st.column_config.TextColumn(name, width=width) for name, width in widths.items()},
        "Entries": st.column_config.NumberColumn("Entries", width=55, format="localized"),
        **{name: right(name, 70) for name in ("p, adj.", "Smoothed", *shrunk)},
    }


def _signed(percent: float | None) -> str:
    return "-" if percent is None else signed(percent, 1)
