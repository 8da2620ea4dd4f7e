"""Invented people: hunters put together from two lists, and the measurers with their certificates."""

from __future__ import annotations

import datetime as dt

import numpy as np
import numpy.typing as npt
import polars as pl

Ints = npt.NDArray[np.int64]
Texts = npt.NDArray[np.object_]

GIVEN_NAMES = """
Tarn Bryl Oswen Marda Jorvi Keth Lunet Pavo Rhosa Sefton Tilda Ulric Venna Wystan Yorrick Zella Ansel
Bettany Corwin Delwyn Eskil Fenna Garrin Hesper Idony Jessamy Kerrin Lorcan Maddox Nerys Orla Perrin
Quenna Rufina
"""
FAMILY_NAMES = """
Volequist Haskamoor Quernlock Brackleby Tindlewick Sorrowen Maplegarth Oxtrell Fennimarsh Drumlock
Hathermoss Pellinquist Rookstone Wembrick Gantlow Thistlewaine Carrowby Ashquill Bellwander Dappleforth
Elverstone Furrowick Grimmoor Holtquarry Inglebrand Jackdawson Kestleigh Larkwhistle Mossbanker
Nightquill Otterlund Plumwether Quillfeather Ravensell Stoatley Tarrowby Underhallow Vixenholm Weaselby
Yewbarrow Zephrane Amberlock Birchquell
"""
GIVEN, SURNAMES = GIVEN_NAMES.split(), FAMILY_NAMES.split()
# certified from, certified to ("" = open)
CERTIFICATES = (
    ("2001-03-10", ""),
    ("2001-03-10", "2014-03-09"),
    ("2002-09-21", "2012-09-20"),
    ("2003-04-12", ""),
    ("2003-04-12", "2018-04-11"),
    ("2004-08-07", "2016-08-06"),
    ("2005-02-19", ""),
    ("2006-05-13", "2021-05-12"),
    ("2006-05-13", ""),
    ("2009-08-15", ""),
    ("2010-03-20", "2020-03-19"),
    ("2012-06-02", ""),
    ("2013-09-14", ""),
    ("2015-04-18", "2024-04-17"),
    ("2017-08-26", ""),
    ("2019-05-04", ""),
    ("2021-06-12", ""),
    ("2022-09-03", ""),
)
MEASURER_NOS = tuple(f"M-{i + 1:03d}" for i in range(len(CERTIFICATES)))
# Strides that share no factor with the lists: every measurer has a name of his own.
MEASURER_NAMES = tuple(
    f"{GIVEN[(5 * i + 3) % len(GIVEN)]} {SURNAMES[(7 * i + 2) % len(SURNAMES)]}" for i in range(len(CERTIFICATES))
)


def measurers() -> pl.DataFrame:
    """The measurers: measurer_no, name, certified_from, certified_to (ISO dates as text, blank when open)."""
    return pl.DataFrame(
        {
            "measurer_no": MEASURER_NOS,
            "name": MEASURER_NAMES,
            "certified_from": [c[0] for c in CERTIFICATES],
            "certified_to": [c[1] or None for c in CERTIFICATES],
        }
    )


def pick_measurers(measured_on: Ints, rng: np.random.Generator) -> Ints:
    """One measurer's index a sheet, certified on the day of measuring (days since 1970-01-01), shape (n,)."""
    epoch = dt.date(1970, 1, 1).toordinal()
    start = np.array([dt.date.fromisoformat(a).toordinal() - epoch for a, _ in CERTIFICATES])
    end = np.array([dt.date.fromisoformat(b or "9999-12-31").toordinal() - epoch for _, b in CERTIFICATES])
    day = measured_on[:, None]
    chance = rng.random((len(measured_on), len(CERTIFICATES)))
    best: Ints = np.argmax(np.where((day >= start) & (day <= end), chance, -1.0), axis=1)
    return best


def hunters(n: int, rng: np.random.Generator) -> Texts:
    """n hunters' names, given name and surname drawn apart."""
    given = np.array(GIVEN, dtype=object)[rng.integers(0, len(GIVEN), n)]
    surname = np.array(SURNAMES, dtype=object)[rng.integers(0, len(SURNAMES), n)]
    return np.asarray(given + " " + surname, dtype=object)
