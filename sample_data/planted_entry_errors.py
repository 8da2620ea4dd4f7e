"""Faults around the head: dates, seasons, places, weapons, measurers and numbers."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from sample_data import region
from sample_data.entries import Sheets, Texts, iso
from sample_data.figures import Bools, Ints
from sample_data.findings import Expected
from sample_data.planted_errors import Fault, Plant

SERIAL_OF_1970 = 25569  # the serial number spreadsheets give to 1970-01-01 (1900 date system)
Reword = Callable[[Sheets, Ints, np.random.Generator], Texts]


def reworded(code: str, name: str, word: Reword) -> Plant:
    """An attribute's text is replaced; the code reports it."""

    def plant(sheets: Sheets, rows: Ints, expected: Expected, rng: np.random.Generator) -> None:
        sheets.attributes[name][rows] = word(sheets, rows, rng)
        expected.add(rows, [code])

    return plant


def words(*texts: str) -> Reword:
    """The given texts in turn."""

    def word(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
        return np.resize(np.array(texts, dtype=object), len(rows))

    return word


def _before_taken(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    return iso(sheets.taken_on[rows] - rng.integers(3, 40, len(rows)))


def _too_soon(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    days = np.concatenate([np.array([59, 0]), rng.integers(1, 59, len(rows))])[: len(rows)]
    return iso(sheets.taken_on[rows] + days)


def _next_century(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    text = sheets.attributes["measured_on"][rows]
    return np.array([f"21{t[2:]}" for t in text], dtype=object)


def _no_such_day(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    text = sheets.attributes["taken_on"][rows]
    return np.array([f"{t[:4]}-11-31" for t in text], dtype=object)


def _serial(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    return np.array([str(d + SERIAL_OF_1970) for d in sheets.taken_on[rows].tolist()], dtype=object)


def _next_season(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    return np.array(region.SEASONS, dtype=object)[sheets.herd.season[rows] + 1]


def _near_miss(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    names = [region.AREAS[a][0] for a in sheets.herd.area[rows].tolist()]
    return np.array([f"{n[:-2]}{n[-1]}" for n in names], dtype=object)


def _other_district(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    own = np.array([a[2] for a in region.AREAS])[sheets.herd.area[rows]]
    other = (own + rng.integers(1, len(region.DISTRICTS), len(rows))) % len(region.DISTRICTS)
    return np.array([d[0] for d in region.DISTRICTS], dtype=object)[other]


def _short_code(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    return np.array([str(int(region.AREA_CODES[a])) for a in sheets.herd.area[rows].tolist()], dtype=object)


def _number_and_a_half(sheets: Sheets, rows: Ints, rng: np.random.Generator) -> Texts:
    numbers = sheets.attributes["entry_no"][rows]
    return np.array([f"{t[:4]}{t[5:]}.5" for t in numbers], dtype=object)


def _january_kill(sheets: Sheets) -> Bools:
    january = np.array([t[5:7] == "01" for t in sheets.attributes["taken_on"]])
    return np.asarray(january & (sheets.herd.season < len(region.SEASONS) - 1))


ENTRY_FAULTS = (
    Fault("measured before taken", 5, reworded("measured-before-taken", "measured_on", _before_taken)),
    Fault("dried too short", 6, reworded("dried-short", "measured_on", _too_soon)),
    Fault("date in the future", 4, reworded("date-in-future", "measured_on", _next_century)),
    Fault("date that does not exist", 3, reworded("date-unreadable", "taken_on", _no_such_day)),
    Fault("date as a serial number", 3, reworded("date-serial", "taken_on", _serial)),
    Fault("no date taken", 3, reworded("date-missing", "taken_on", words(""))),
    Fault(
        "January kill in the next season",
        6,
        reworded("season-mismatch", "season", _next_season),
        _january_kill,
    ),
    Fault("unknown area", 5, reworded("area-unknown", "area", _near_miss)),
    Fault("wrong district", 5, reworded("district-mismatch", "district", _other_district)),
    Fault("area code without its zero", 5, reworded("area-code-repaired", "area", _short_code)),
    Fault("unknown weapon", 4, reworded("weapon-unknown", "weapon", words("spear", "vehicle", "atlatl"))),
    Fault("unclear weapon", 4, reworded("weapon-unclear", "weapon", words("gun", "Gun"))),
    Fault("unknown measurer", 5, reworded("measurer-unknown", "measurer", words("M-099", "Obrin Talloway"))),
    Fault("unknown category", 3, reworded("category-unknown", "category", words("fallow", "whitetail-cactus"))),
    Fault("number that is not whole", 3, reworded("number-not-whole", "entry_no", _number_and_a_half)),
)
