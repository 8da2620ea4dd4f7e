"""Which book the pages show, and the answers they keep of it until the book changes."""

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import streamlit as st

from warehouse.book import reading
from warehouse.book.rankings import RankSettings
from warehouse.book.reading.duplicate_pairs import DuplicatePairs, read_duplicate_pairs
from warehouse.book.reading.stamp import Stamp
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.errors import BookRefused

if TYPE_CHECKING:  # all three import scipy and statsmodels, which the other pages must not wait for
    from warehouse.book.trend_figures.antlers import Antlers
    from warehouse.book.trend_figures.measurers import Measurers
    from warehouse.book.trend_figures.trend import Trend

BOOK_VARIABLE = "BEAMLEDGER_BOOK"


def book_path() -> Path:
    """The book named by `--book PATH` behind `--`, or by the variable BEAMLEDGER_BOOK.

    Raises BookRefused where neither names one.
    """
    parser = argparse.ArgumentParser(add_help=False, allow_abbrev=False)
    parser.add_argument("--book")
    named = parser.parse_known_args(sys.argv[1:])[0].book or os.environ.get(BOOK_VARIABLE)
    if not named:
        raise BookRefused(
            f"no book is named; start the pages with `beamledger serve --book FILE`, or set {BOOK_VARIABLE}"
        )
    return Path(named)


def may_write() -> bool:
    """Whether this process may change the book: its file, and the folder, where its log and its anchor stand."""
    path = book_path()
    return os.access(path, os.W_OK) and os.access(path.absolute().parent, os.W_OK)


def overview() -> reading.Overview:
    """The overview of the book being shown."""
    return _overview(*_now())


def choices() -> reading.Choices:
    """The filter values of the book being shown."""
    return _choices(*_now())


def held_sheets(settings: reading.QueueSettings) -> reading.HeldSheets:
    """The audit queue under `settings`."""
    return _held_sheets(*_now(), settings)


def sheet(entry_id: int) -> reading.Sheet | None:
    """One sheet of the book being shown; None where there is no such entry."""
    return _sheet(*_now(), entry_id)


def ranked(settings: RankSettings) -> reading.Ranked:
    """Ranked entries under `settings`."""
    return _ranked(*_now(), settings)


def news() -> reading.News:
    """What changed since the newest edition."""
    return _news(*_now())


def standings(settings: reading.StandingSettings) -> reading.Standings:
    """How entries stand in one record book, under `settings`."""
    return _standings(*_now(), settings)


def minimum_counts(settings: reading.MinimumSettings) -> reading.MinimumCounts:
    """Counts that meet a minimum, under `settings`."""
    return _minimum_counts(*_now(), settings)


def trend(settings: TrendSettings) -> "Trend":
    """The trend of one place, under `settings`."""
    return _trend(*_now(), settings)


def antlers(settings: TrendSettings) -> "Antlers":
    """What the heads above the cut are like, under `settings`."""
    return _antlers(*_now(), settings)


def measurers(settings: TrendSettings) -> "Measurers":
    """How alike measurers measure, under `settings`."""
    return _measurers(*_now(), settings)


def duplicate_pairs() -> DuplicatePairs:
    """Pairs of entries of the book being shown that may be one head, decided or not."""
    return _duplicate_pairs(*_now())


def _now() -> tuple[str, Stamp]:
    path = book_path()
    return str(path), reading.book_stamp(path)


# The stamp is part of each key: a changed book is another question, and old answers fall out of the bounded cache.


@st.cache_data(max_entries=4, show_spinner=False)
def _overview(path: str, stamp: Stamp) -> reading.Overview:
    return reading.read_overview(Path(path))


@st.cache_data(max_entries=4, show_spinner=False)
def _choices(path: str, stamp: Stamp) -> reading.Choices:
    return reading.read_choices(Path(path))


@st.cache_data(max_entries=24, show_spinner=False)
def _held_sheets(path: str, stamp: Stamp, settings: reading.QueueSettings) -> reading.HeldSheets:
    return reading.read_held_sheets(Path(path), settings)


@st.cache_data(max_entries=64, show_spinner=False)
def _sheet(path: str, stamp: Stamp, entry_id: int) -> reading.Sheet | None:
    return reading.read_sheet(Path(path), entry_id)


@st.cache_data(max_entries=24, show_spinner=False)
def _ranked(path: str, stamp: Stamp, settings: RankSettings) -> reading.Ranked:
    return reading.read_ranked(Path(path), settings)


@st.cache_data(max_entries=4, show_spinner=False)
def _news(path: str, stamp: Stamp) -> reading.News:
    return reading.read_news(Path(path))


@st.cache_data(max_entries=24, show_spinner=False)
def _standings(path: str, stamp: Stamp, settings: reading.StandingSettings) -> reading.Standings:
    return reading.read_standings(Path(path), settings)


@st.cache_data(max_entries=24, show_spinner=False)
def _minimum_counts(path: str, stamp: Stamp, settings: reading.MinimumSettings) -> reading.MinimumCounts:
    return reading.read_minimum_counts(Path(path), settings)


@st.cache_data(max_entries=12, show_spinner=False)
def _trend(path: str, stamp: Stamp, settings: TrendSettings) -> "Trend":
    from warehouse.book.trend_figures.trend import read_trend

    return read_trend(Path(path), settings)


@st.cache_data(max_entries=12, show_spinner=False)
def _antlers(path: str, stamp: Stamp, settings: TrendSettings) -> "Antlers":
    from warehouse.book.trend_figures.antlers import read_antlers

    return read_antlers(Path(path), settings)


@st.cache_data(max_entries=12, show_spinner=False)
def _measurers(path: str, stamp: Stamp, settings: TrendSettings) -> "Measurers":
    from warehouse.book.trend_figures.measurers import read_measurers

    return read_measurers(Path(path), settings)


@st.cache_data(max_entries=2, show_spinner="Holding the entries against each other")
def _duplicate_pairs(path: str, stamp: Stamp) -> DuplicatePairs:
    return read_duplicate_pairs(Path(path), with_decided=True)
