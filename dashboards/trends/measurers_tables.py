"""The measurers' figures as tables of a page: by name, sessions and lines in their order."""

import polars as pl

from dashboards.number_words import count, p_text, share
from dashboards.tables import Columns, right
from dashboards.trends.digit_words import REFUSALS
from dashboards.trends.measurers_frames import entry_name, who
from dashboards.trends.panel_words import bias_text, eighths, icc_text, line_words, plain_figure


def panels(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row a line of a session. Takes rows of `MeasurersFrames.panels`."""
    rows = frame.rows(named=True)
    shown = pl.DataFrame({
        "Line": [line_words(row["line"]) for row in rows],
        "Heads": frame["heads"],
        "Measurers": frame["measurers"],
        "Technical error, eighths": [plain_figure(row["technical_error"], 1) for row in rows],
        "With biases, eighths": [plain_figure(row["within_error"], 1) for row in rows],
        "ICC(2,1) (95 % interval)": [icc_text(row) for row in rows],
    })  # fmt: skip
    return shown, {name: right(name) for name in shown.columns[3:5]}


def biases(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row a measurer. Takes rows of `MeasurersFrames.biases` of one line and session."""
    rows = frame.rows(named=True)
    shown = pl.DataFrame({
        "Measurer": [who(row) for row in rows],
        "Heads": frame["heads"],
        "Bias, eighths (95 % interval)": [bias_text(row) for row in rows],
        "From the middle one": [eighths(row["from_middle"]) for row in rows],
        "p, adjusted": [p_text(row["adjusted"]) for row in rows],
    })  # fmt: skip
    return shown, {name: right(name) for name in shown.columns[3:]}


def against_panel(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row an entry that a panel measured. Takes `MeasurersFrames.against_panel`."""
    lengths = {
        "sheet_net": "Sheet, net",
        "panel_net": "Panel, net",
        "sheet_gross": "Sheet, gross",
        "panel_gross": "Panel, gross",
    }
    rows = frame.rows(named=True)
    shown = pl.DataFrame({
        "Measurer": [who(row) for row in rows],
        "Entry": [entry_name(row) for row in rows],
        "Season": frame["season"],
        **{heading: frame[name].fill_null("-") for name, heading in lengths.items()},
        "Sheet less panel, eighths": [f"{row['difference']:+.0f}" for row in rows],
    })  # fmt: skip
    return shown, {name: right(name) for name in (*lengths.values(), "Sheet less panel, eighths")}


def digits(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row a measurer and kind of line. Takes `MeasurersFrames.digits`."""
    rows = frame.rows(named=True)
    shown = pl.DataFrame({
        "Measurer": [who(row) for row in rows],
        "Lines": frame["line"],
        "Measures": frame["measurements"],
        "To be moved": [share(row["move"]) for row in rows],
        "p, adjusted": [p_text(row["adjusted"]) for row in rows],
        "Even eighths": [share(row["even_share"]) for row in rows],
        "Even, p adjusted": [p_text(row["even_adjusted"]) for row in rows],
        "Told": [_told(row) for row in rows],
    })  # fmt: skip
    return shown, {name: right(name) for name in ("To be moved", "p, adjusted", "Even eighths", "Even, p adjusted")}


def first_inch(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row a measurer. Takes `MeasurersFrames.first_inch`."""
    rows = frame.rows(named=True)
    shown = pl.DataFrame({
        "Measurer": [who(row) for row in rows],
        "In the first inch": frame["first_inch"],
        "Entries": frame["above"],
        "Share": [share(row["share"]) for row in rows],
        "Expected": [share(row["expected"]) for row in rows],
        "Than expected": frame["sign"].fill_null("-"),
        "p, adjusted": [p_text(row["adjusted"]) for row in rows],
    })  # fmt: skip
    return shown, {name: right(name) for name in ("Share", "Expected", "p, adjusted")}


def higher_minimums(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """One row a minimum of another record book. Takes `MeasurersFrames.higher_minimums`."""
    rows = frame.rows(named=True)
    shown = pl.DataFrame({
        "Record book": frame["book"],
        "Minimum": frame["minimum"],
        "Half an inch under it": [count(row["below"]) for row in rows],
        "Half an inch from it up": [count(row["above"]) for row in rows],
        "Share from it up": [share(row["share"]) for row in rows],
        "Expected": [share(row["expected"]) for row in rows],
        "Than expected": [row["sign"] or ("too few to tell" if row["refused"] else "-") for row in rows],
        "p": [p_text(row["p"]) for row in rows],
    })  # fmt: skip
    return shown, {name: right(name) for name in (*shown.columns[1:6], "p")}


def _told(row: dict[str, object]) -> str:
    if row["refused"] is not None:
        return f"not told: {REFUSALS[str(row['refused'])]}"
    parts = [
        *(["differs by more than chance"] if row["opens"] else []),
        *(["quarters"] if row["reads_quarters"] else []),
    ]
    return ", ".join(parts) or "as expected, within chance"
