"""How the trends page is laid out: figures, then every chart with what is to be read in it, then the tables."""

import streamlit as st

from dashboards.trends import trend_area_charts, trend_charts, trend_tables
from dashboards.trends.page_parts import bullets, download, table
from dashboards.trends.trend_download import NAME, figures_zip
from dashboards.trends.trend_frames import TrendFrames, frames_of
from dashboards.trends.trend_minimum_words import cut_text, window_words
from dashboards.trends.trend_words import second_text, sections, subject
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend
from warehouse.trends.common_minimum import shorter_windows

SAID_FIRST = 2  # the trend and what rate and share say together stand above the charts
LEGEND = (
    "Small figures at the top: entries counted. A full dot is a season that the trend rests on, a hollow one is not; upright lines are 95 % "
    "intervals, the band that of the fitted line, which is dashed beyond the seasons it rests on. A season without a dot is "
    "missing in the book, or has no effort to make a rate of."
)


def draw(trend: Trend, settings: TrendSettings) -> None:
    """Draw the trend and all that stands beside it."""
    said = sections(trend, settings)
    st.subheader("The trend")
    st.text(subject(trend, settings))
    st.caption(" ".join(said["As of"]))
    _figures(trend)
    bullets(said["Trend"][:SAID_FIRST])
    if not trend.kept:
        st.info("Nothing is counted under these filters. Take one away, or look at another record book or category.")
        return
    frames = frames_of(trend)
    _by_season(trend, settings, frames, said)
    _by_place(trend, frames, said)
    st.subheader("The figures")
    table(trend_tables.seasons(trend, frames.seasons), "Seasons")
    download(figures_zip(trend, settings), NAME)


def _figures(trend: Trend) -> None:
    """The cut and how many entries stand behind everything, always in sight."""
    counted = trend.counted
    label = "Common minimum, inches" if counted.minimum.units in (counted.cut, None) else "Cut, inches"
    with st.grid(columns=5, min_column_width=130, gap="xsmall"):
        st.metric(label, "none" if counted.minimum.units is None else cut_text(trend))
        st.metric("Entries (n)", f"{trend.kept:,}")
        st.metric(f"Of them {second_text(trend)} or more", f"{trend.seasons['above_second'].sum():,}")
        st.metric("Set aside below it", f"{trend.dropped:,}")
        st.metric("Seasons in the trend", f"{trend.seasons['used'].sum():,}")


def _by_season(trend: Trend, settings: TrendSettings, frames: TrendFrames, said: dict[str, list[str]]) -> None:
    st.altair_chart(
        trend_charts.rate_by_season(trend, frames.seasons),
        theme=None,
        alt="Rate of entries by season, with the fitted line",
    )
    st.caption(LEGEND)
    bullets([*said["Trend"][SAID_FIRST:], *said["Seasons"]])
    st.subheader("The common minimum")
    bullets(said["Common minimum"])
    _shorter_windows(trend, settings)
    st.subheader(f"The share of entries at or above {second_text(trend)}")
    st.altair_chart(
        trend_charts.share_by_season(trend, frames.seasons), theme=None, alt="Share of larger entries by season"
    )
    bullets(said["Share of larger entries"])
    st.subheader("The median entry")
    st.altair_chart(
        trend_charts.median_by_season(trend, frames.seasons), theme=None, alt="Median entry above the cut by season"
    )
    bullets(said["Median entry"])


def _shorter_windows(trend: Trend, settings: TrendSettings) -> None:
    """A link to each shorter window, as a view of its own."""
    if settings.cut is not None:
        return
    kept = {key: value for key, value in st.query_params.to_dict().items() if key not in ("from", "to")}
    for window in shorter_windows(trend.counted.minimum):
        asked = kept | {"from": window.first_season, "to": window.last_season}
        st.page_link("views/trend_page.py", label=f"Look at {window_words(trend, window)}", query_params=asked)


def _by_place(trend: Trend, frames: TrendFrames, said: dict[str, list[str]]) -> None:
    if frames.areas.height < 2:
        return
    st.subheader("Districts and areas")
    bullets(said["Districts and areas"])
    if frames.districts.height > 1:
        table(trend_tables.places(frames.districts, "district"), "Districts by name")
    table(trend_tables.places(frames.areas, "area"), "Areas by district and name")
    if frames.areas["level"].drop_nulls().is_empty():
        return
    st.subheader("The level of each area")
    st.altair_chart(
        trend_area_charts.levels_by_area(trend, frames.areas),
        theme=None,
        alt="Level of each area, by district and name",
    )
    st.caption("A tick is the area’s own level with its 95 % interval. " + _of_smoothing(trend))
    if trend.effort.kind is not None and frames.areas["expected"].max() != 0:
        st.subheader("Which areas differ by more than chance")
        st.altair_chart(trend_area_charts.funnel(trend, frames.areas), theme=None, alt="Funnel of the areas’ levels")
        st.caption(
            "Whole lines: 99.8 % limits of chance about the level of all areas together; dashed: 95 %. A small area swings widely by chance "
            "alone, so the limits are widest there."
        )


def _of_smoothing(trend: Trend) -> str:
    if trend.effort.kind is None:
        return "Counts of unequal areas are not drawn to one mean."
    return "A dot is the level drawn in towards that of all areas together (the dashed line). Areas stand in order of district and name."
