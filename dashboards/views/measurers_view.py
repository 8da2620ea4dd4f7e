"""How the measurers page is laid out: panels, sheets against panels, last digits, the first inch, amid the caution."""

from collections.abc import Mapping

import polars as pl
import streamlit as st

from dashboards import filters
from dashboards.trends import higher_minimum_words, measurers_charts, measurers_tables, panel_words
from dashboards.trends.measurers_download import NAME, figures_zip
from dashboards.trends.measurers_frames import LINES, MeasurersFrames, frames_of
from dashboards.trends.measurers_words import sections
from dashboards.trends.page_parts import bullets, download, table
from dashboards.words import plain
from warehouse.book.trend_figures.measurers import Measurers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.categories import all_categories

USUAL_LINE = "beams"


def draw(measurers: Measurers, settings: TrendSettings) -> None:
    """Draw what the book tells of its measurers."""
    unit = all_categories()[settings.category].unit
    frames = frames_of(measurers, unit)
    said = sections(measurers, frames)
    bullets(said["How to read this"][1:])  # the first stands above the filters
    _panels(frames, said)
    _against_panel(measurers, frames, said, unit)
    _digits(frames, said)
    _first_inch(frames, said)
    _higher_minimums(frames, said)
    download(figures_zip(measurers, frames, settings), NAME)
    st.subheader("What follows")
    bullets(said["What follows"])


def _panels(frames: MeasurersFrames, said: dict[str, list[str]]) -> None:
    heading = "Panel sessions"
    st.subheader(heading)
    if frames.panels.is_empty():
        bullets(said[heading])
        return
    lines = {line: panel_words.line_words(line) for line in frames.panels["line"].unique(maintain_order=True)}
    chosen = _chosen("Line of the sheet", "line", lines)
    for (session,), rows in frames.panels.group_by("session", maintain_order=True):
        st.markdown(f"#### {plain(str(session))}")
        _session(frames, rows, chosen)
    bullets([panel_words.OWN_MEAN, panel_words.ICC_FALLS])


def _session(frames: MeasurersFrames, rows: pl.DataFrame, line: str) -> None:
    """One session on one line of the sheet, then its agreement on all of them."""
    of_line = rows.filter(line=line)
    if of_line.is_empty():
        st.write("This line was not measured in the session.")
    else:
        biases = frames.biases.filter(session=rows["session"][0], line=line)
        bullets(panel_words.session_sentences(frames, of_line.row(0, named=True)))
        st.altair_chart(
            measurers_charts.biases(biases), theme=None, alt="Bias of each measurer in eighths of an inch, by name"
        )
        st.caption(
            "A dot is the mean of what a measurer read above or below the panel’s own mean, its bar the 95 % "
            "interval; the dashed line is the middle measurer."
        )
        table(measurers_tables.biases(biases), "Biases by name")
    st.caption("How well they agree on every line: the technical error without and with the biases, and ICC(2,1).")
    table(measurers_tables.panels(rows), "Agreement by line")


def _against_panel(measurers: Measurers, frames: MeasurersFrames, said: dict[str, list[str]], unit: int) -> None:
    heading = "Sheets against panels"
    st.subheader(heading)
    found = measurers.against_panel
    if found is not None:
        scores = measurers.scores.select("entry_id", sheet_units="sheet_net", panel_units="panel_net")
        drawn = frames.against_panel.join(scores, on="entry_id", how="left", maintain_order="left")
        st.altair_chart(
            measurers_charts.against_panel(drawn, found, unit),
            theme=None,
            alt="Sheet less panel against the mean of both",
        )
        st.caption(
            "A dot is an entry, the whole line the mean difference; the dashed lines are the limits of agreement, "
            "which hold 95 % of such differences if they scatter normally."
        )
    bullets(said[heading])
    if frames.against_panel.height:
        table(
            measurers_tables.against_panel(frames.against_panel),
            "Entries that a panel measured, by the measurer’s name",
        )


def _digits(frames: MeasurersFrames, said: dict[str, list[str]]) -> None:
    heading = "Last digits"
    st.subheader(heading)
    there = frames.digits["line"].unique().to_list()
    lines = {line: line.capitalize() for line in LINES if line in there}
    if lines:
        line = _chosen("Kind of lines", "lines", lines, USUAL_LINE)
        told = frames.digits.filter(pl.col("line") == line, pl.col("refused").is_null())
        shown = frames.eighths.filter(pl.col("line") == line).join(
            told, on="measurer", how="semi", maintain_order="left"
        )
        if shown.height:
            st.altair_chart(
                measurers_charts.last_eighths(shown), theme=None, alt="Share of each last eighth by measurer, by name"
            )
            st.caption(
                "The figure is the share of the measurer’s measures that end so, in per cent; the shade is how many "
                "percentage points it lies below or above what is expected."
            )
    bullets(said[heading])
    if frames.digits.height:
        table(measurers_tables.digits(frames.digits), "Last digits by name and kind of line")


def _first_inch(frames: MeasurersFrames, said: dict[str, list[str]]) -> None:
    heading = "The first inch above a minimum"
    st.subheader(heading)
    if frames.first_inch.height:
        st.altair_chart(
            measurers_charts.first_inch(frames.first_inch),
            theme=None,
            alt="Share of entries in the first inch by measurer, by name",
        )
        st.caption(
            "A dot is the measurer’s share, the figures at the right the entries it is of; the dashed line is what "
            "the tail above the first inch leads to expect."
        )
    bullets(said[heading])
    if frames.first_inch.height:
        table(measurers_tables.first_inch(frames.first_inch), "Entries in the first inch by name")


def _higher_minimums(frames: MeasurersFrames, said: dict[str, list[str]]) -> None:
    st.subheader(higher_minimum_words.HEADING)
    bullets(said[higher_minimum_words.HEADING])
    if frames.higher_minimums.height:
        table(measurers_tables.higher_minimums(frames.higher_minimums), "Entries about higher minimums, by record book")


def _chosen(label: str, key: str, options: Mapping[str, str], default: str | None = None) -> str:
    """A choice beside the charts it is of, kept in the address as the filters are."""
    filters.complain({key: options})
    return filters.one(label, key, options, default)
