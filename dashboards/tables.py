"""How frames become tables: the headings, the order and the alignment of columns, one way everywhere.

Tables with other people's text go through `st.dataframe`, which draws text and reads no Markdown in it.
"""

from typing import Any

import polars as pl
import streamlit as st

from dashboards.words import CHANGES, SEVERITIES, SIGNS, STATUSES, category_words, code_words

Columns = dict[str, Any]
_HEADING, _LINE = 38, 35  # heights in pixels


def right(label: str, width: int | None = None) -> Any:
    """A column of figures that are text, aligned as figures are; `width` in pixels."""
    return st.column_config.TextColumn(label, width=width, alignment="right")


def height(rows: int, most: int = 560) -> int:
    """Pixels for a table of so many rows, no higher than it needs; above `most` it scrolls."""
    return min(_HEADING + _LINE * rows, most)


def loads(last_loads: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """The newest loads. Takes `Overview.last_loads`."""
    headings = {
        "loaded_at": "Loaded (UTC)", "loaded_by": "By", "files": "Files", "rows_received": "Rows",
        "new": "New", "revised": "Revised", "unchanged": "Unchanged", "held": "Held",
    }  # fmt: skip
    return _renamed(last_loads, headings), {name: _count(name) for name in list(headings.values())[2:]}


def queue(rows: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """The audit queue. Takes `HeldSheets.rows`."""
    severity = pl.col("severity")
    worded = rows.with_columns(
        worst=pl.format("{} {}", severity.replace_strict(SIGNS), severity.replace_strict(SEVERITIES)),
        what=pl.col("code").map_elements(code_words, return_dtype=pl.String),
    )
    headings = {
        "entry_no": "Entry", "worst": "Worst", "what": "What is wrong", "hunter": "Hunter", "area": "Area",
        "season": "Season", "findings": "Findings", "measurer": "Measurer", "message": "In a sentence",
    }  # fmt: skip
    return _renamed(worded, headings), {
        "Entry": st.column_config.TextColumn("Entry", width=95),
        "Worst": st.column_config.TextColumn("Worst", width=90),
        "What is wrong": st.column_config.TextColumn("What is wrong", width=230),
        "Hunter": st.column_config.TextColumn("Hunter", width=140),
        "Area": st.column_config.TextColumn("Area", width=110),
        "Season": st.column_config.TextColumn("Season", width=75),
        "Findings": _count("Findings"),
        "Measurer": st.column_config.TextColumn("Measurer", width=90),
        "In a sentence": st.column_config.TextColumn("In a sentence", width=600),
    }


def ranking(rows: pl.DataFrame, list_by: str) -> tuple[pl.DataFrame, Columns]:
    """Ranked entries. Takes `Ranked.rows`; `list_by` is the place that leads each line."""
    worded = rows.with_columns(
        weapon=pl.col("weapon").fill_null("not known").str.to_titlecase(),
        taken_on=pl.col("taken_on").dt.strftime("%Y-%m-%d"),
        tied=pl.when("tied").then(pl.lit("=")).otherwise(pl.lit("")),
    )
    headings = {
        "place": "Place", "tied": "Tie", "net_text": "Net, inches", "gross_text": "Gross, inches", "area": "Area",
        "district": "District", "hunter": "Hunter", "weapon": "Weapon", "season": "Season", "taken_on": "Taken",
        "entry_no": "Entry",
    }  # fmt: skip
    lead = {"area": ["area"], "district": ["district"], "region": []}[list_by]
    ordered = {name: headings[name] for name in (*lead, *(name for name in headings if name not in lead))}
    return _renamed(worded, ordered), {
        "Place": st.column_config.NumberColumn("Place", width=60, format="%d"),
        "Tie": st.column_config.TextColumn("Tie", width=45),
        "Net, inches": right("Net, inches", 95),
        "Weapon": st.column_config.TextColumn("Weapon", width=105),
        "Gross, inches": right("Gross, inches", 105),
    }


def news(changes: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """What changed since an edition. Takes `News.changes`."""
    worded = changes.with_columns(pl.col("kind").replace_strict(CHANGES))
    headings = {"kind": "Change", "entry_no": "Entry", "hunter": "Hunter", "what": "What", "book": "Record book"}
    return _renamed(worded, headings), {"What": st.column_config.TextColumn("What", width=520)}


def standings(rows: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """How entries stand in one record book. Takes `Standings.rows`."""
    worded = rows.with_columns(
        pl.col("status").replace_strict(STATUSES),
        reasons=pl.col("reasons").list.join("; "),
        margin=pl.when(pl.col("margin") > 0).then(pl.format("+{}", "margin_text")).otherwise("margin_text"),
    )
    headings = {
        "entry_no": "Entry", "hunter": "Hunter", "status": "Status", "score_units_text": "Score, inches", "margin": "To the minimum",
        "area": "Area", "season": "Season", "reasons": "What stands against it",
    }  # fmt: skip
    return _renamed(worded, headings), {
        "Score, inches": right("Score, inches", 100),
        "To the minimum": right("To the minimum", 115),
        "What stands against it": st.column_config.TextColumn("What stands against it", width=560),
    }


def minimum_counts(counts: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """Counts by season. Takes `MinimumCounts.counts`."""
    worded = counts.with_columns(category=pl.col("category").map_elements(category_words, return_dtype=pl.String))
    headings = {
        "season": "Season", "meeting": "Meet it", "accepted": "Accepted", "minimum_units_text": "Minimum net, inches",
        "category": "Category", "book": "Book",
    }  # fmt: skip
    return _renamed(worded, headings), {
        "Minimum net, inches": right("Minimum net, inches"),
        "Meet it": _count("Meet it"),
        "Accepted": _count("Accepted"),
    }


def download(shown: pl.DataFrame, name: str) -> None:
    """A button that gives the table as a CSV file for spreadsheets, called `name`.csv."""
    st.download_button(
        "Download this table (CSV)", csv_for_spreadsheets(shown), f"{name}.csv", "text/csv", on_click="ignore"
    )


def csv_for_spreadsheets(shown: pl.DataFrame) -> str:
    """The table as RFC 4180 CSV; a text that a spreadsheet would run as a formula gets an apostrophe before it."""
    texts = [pl.col(name) for name, dtype in shown.schema.items() if dtype == pl.String]
    guarded = [
        pl.when(text.str.contains(r"^[=+\-@\t\r\x00]")).then(pl.lit("'") + text).otherwise(text).name.keep()
        for text in texts
    ]
    return shown.with_columns(guarded).write_csv()


def _renamed(frame: pl.DataFrame, headings: dict[str, str]) -> pl.DataFrame:
    return frame.select(pl.col(name).alias(heading) for name, heading in headings.items())


def _count(label: str) -> Any:
    return st.column_config.NumberColumn(label, format="localized", width=90)
