"""How the antlers page is laid out: the figures behind everything, then every chart with what is to be read in it."""

from collections.abc import Callable, Iterable

import altair as alt
import polars as pl
import streamlit as st

from dashboards.trends import antlers_charts, antlers_tables
from dashboards.trends.antlers_download import NAME, figures_zip
from dashboards.trends.antlers_frames import AntlersFrames, frames_of
from dashboards.trends.antlers_words import AGED, OTHER_HUNTERS, aged, cut_text, reading, sections
from dashboards.trends.measures import MEASURES
from dashboards.trends.page_parts import bullets, download, table
from dashboards.words import plain
from warehouse.book.trend_figures.antlers import Antlers
from warehouse.book.trend_figures.settings import TrendSettings

OF_KINDS = (
    "A dot is the median, its bar the middle half of the entries, the number how many entries have the measure (n)."
)
OF_SEASONS = (
    "A dot is a season’s median (hollow: the season is not complete), its bar and the band are the middle half of the "
    "entries, small "
    "figures at the top how many entries have the measure (n). Beams and H1 are the mean of both sides, points those "
    "of both together."
)


def draw(antlers: Antlers, settings: TrendSettings) -> None:
    """Draw the antlers of the entries and all that stands beside them."""
    frames = frames_of(antlers)
    said = sections(antlers, frames)
    _figures(antlers)
    bullets(said["Antlers"])
    if not antlers.kept:
        st.info("Nothing is counted under these filters. Take one away, or look at another record book or category.")
        return
    _composition(antlers, frames)
    _tail(antlers, frames, said)
    st.subheader("Medians by district and season")
    st.caption("In brackets: how many entries have the measure. Districts as drawn in the newest season, by name.")
    table(antlers_tables.medians(frames.medians, antlers.place), "Medians by district and season")
    download(figures_zip(antlers, frames, settings), NAME)


def _figures(antlers: Antlers) -> None:
    """The cut and how many entries stand behind everything, always in sight."""
    counted = antlers.counted
    complete = antlers.filling.seasons.filter(state="complete")["season"]
    label = "Common minimum, inches" if counted.cut == counted.minimum.units else "Cut, inches"
    with st.grid(columns=4, min_column_width=130, gap="xsmall"):
        st.metric(label, "none" if counted.minimum.units is None else cut_text(antlers))
        st.metric("Entries kept (n)", f"{antlers.kept:,}")
        st.metric(
            "Of complete seasons",
            f"{antlers.scores.filter(pl.col('season').is_in(complete.implode()))['entries'].sum():,}",
        )
        st.metric("With a recorded age", f"{aged(antlers):,}")


def _composition(antlers: Antlers, frames: AntlersFrames) -> None:
    st.subheader("Season by season")
    st.caption(OF_SEASONS)
    _multiples(
        "season", frames.medians, MEASURES, lambda measure: antlers_charts.by_season(antlers, frames.medians, measure)
    )
    st.subheader("By weapon")
    st.caption(f"{OF_KINDS} {OTHER_HUNTERS}")
    _multiples("weapon", frames.weapons, MEASURES, lambda measure: antlers_charts.by_weapon(frames.weapons, measure))
    st.subheader("By age")
    if frames.ages.is_empty():
        st.write("The age is recorded for none of the entries.")
        return
    st.caption(f"{OF_KINDS} {AGED}")
    others = [measure for measure in MEASURES if measure != "age"]
    _multiples("age", frames.ages, others, lambda measure: antlers_charts.by_age(frames.ages, measure))


def _multiples(
    kind: str, frame: pl.DataFrame, measures: Iterable[str], chart: Callable[[str], alt.Chart | alt.LayerChart]
) -> None:
    """A small chart for each measure that is recorded at all, with what is to be read in it below."""
    there = set(frame["measure"])
    with st.grid(columns=3, min_column_width=290, gap="medium"):
        for measure in measures:
            with st.container(gap="xxsmall"):
                if measure in there:
                    st.altair_chart(chart(measure), theme=None, alt=f"{MEASURES[measure].name} by {kind}")
                st.caption(plain(reading(kind, frame, measure)))


def _tail(antlers: Antlers, frames: AntlersFrames, said: dict[str, list[str]]) -> None:
    heading = "Whether the best get better"
    st.subheader(heading)
    st.altair_chart(
        antlers_charts.quantiles(antlers, frames.quantiles),
        theme=None,
        alt="Quantiles of the entries by season, with lines",
    )
    st.caption(
        "Small figures at the top: entries of the season (n). Read it as a trend among entries, never of the herd."
    )
    bullets(said[heading])
    heading = "How large one head in a thousand is"
    st.subheader(heading)
    bullets(said[heading])
    table(antlers_tables.tail(frames.tail), "The tail above rising cuts")
