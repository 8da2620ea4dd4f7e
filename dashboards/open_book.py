"""Which book the pages show, and the answers they keep of it until the book changes."""

import argparse
import os
import sys
from pathlib import Path

import streamlit as st

from warehouse.book import reading
from warehouse.book.reading.stamp import Stamp
from warehouse.errors import BookRefused

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


def top_entries(settings: reading.TopSettings) -> reading.TopEntries:
    """Ranked entries under `settings`."""
    return _top_entries(*_now(), settings)


def minimum_counts(settings: reading.MinimumSettings) -> reading.MinimumCounts:
    """Counts that meet a minimum, under `settings`."""
    return _minimum_counts(*_now(), settings)


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
def _top_entries(path: str, stamp: Stamp, settings: reading.TopSettings) -> reading.TopEntries:
    return reading.read_top_entries(Path(path), settings)


@st.cache_data(max_entries=24, show_spinner=False)
def _minimum_counts(path: str, stamp: Stamp, settings: reading.MinimumSettings) -> reading.MinimumCounts:
    return reading.read_minimum_counts(Path(path), settings)
