"""The sheets around the heads: numbers, names, dates and stated figures, still without a fault."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from sample_data import people, region
from sample_data.figures import Bools, Ints, point_counts, work_out
from sample_data.herd import Herd

Texts = npt.NDArray[np.object_]

IDENTITY = ("entry_no", "category", "hunter", "tag_no", "area", "state", "district")
TAKING = ("taken_on", "season", "weapon", "measured_on", "measurer")
ATTRIBUTES = (*IDENTITY, *TAKING)
EPOCH = dt.date(1970, 1, 1).toordinal()


@dataclass
class Sheets:
    """n sheets: heads, attributes as text, stated figures, and cells whose text is written over."""

    herd: Herd
    taken_on: Ints
    measured_on: Ints
    attributes: dict[str, Texts]
    stated: dict[str, Ints] = field(default_factory=dict)
    overwritten: list[tuple[int, str, str]] = field(default_factory=list)

    def state_figures(self) -> None:
        """Write every stated figure and both point counts from the lines, as a careful measurer would."""
        herd = self.herd
        self.stated = work_out(herd.lines, herd.abnormal, herd.nontypical)
        self.stated |= point_counts(herd.lines, herd.abnormal)

    def spread_over_beam(self) -> Bools:
        """The sheets whose inside spread is longer than the longer beam."""
        lines = self.herd.lines
        return np.asarray(lines["inside_spread"] > np.maximum(lines["beam_r"], lines["beam_l"]))


def iso(days: Ints) -> Texts:
    """Days since 1970-01-01 as ISO 8601 text."""
    return np.datetime_as_string(days.astype("datetime64[D]")).astype(object)


def _taken(season: Ints, rng: np.random.Generator) -> Ints:
    """A day of the fall season, 1 October to 31 January, about half of them in November."""
    opening = np.array([dt.date(y, 10, 1).toordinal() - EPOCH for y in range(2006, 2006 + len(region.SEASONS))])
    rut = np.clip(np.rint(rng.normal(46, 9, len(season))), 31, 60)
    any_day = rng.integers(0, 123, len(season))
    return opening[season] + np.where(rng.random(len(season)) < 0.42, rut, any_day).astype(np.int64)


def _area_texts(area: Ints, rng: np.random.Generator) -> Texts:
    names = np.array([a[0] for a in region.AREAS], dtype=object)
    code_of = {a[0]: i for i, a in enumerate(region.AREAS)}
    other = names.copy()
    for alias, name in region.ALIASES:
        other[code_of[name]] = alias
    out = np.where(rng.random(len(area)) < 0.10, other[area], names[area])
    codes = np.array(region.AREA_CODES, dtype=object)[area]
    return np.asarray(np.where(rng.random(len(area)) < 0.03, codes, out), dtype=object)


def _numbers(season: Ints) -> Texts:
    """`2006-0001` and on, counted within each season; the herd is in order of season."""
    first = np.searchsorted(season, np.arange(len(region.SEASONS)))
    count = np.arange(len(season)) - first[season] + 1
    return np.array([f"{2006 + s}-{c:04d}" for s, c in zip(season, count, strict=True)], dtype=object)


def fill_in(herd: Herd, rng: np.random.Generator) -> Sheets:
    """Faultless sheets for a herd in order of season; figures are not stated yet."""
    n = len(herd.season)
    taken = _taken(herd.season, rng)
    measured = taken + 60 + np.rint(140 * rng.beta(1.2, 2.6, n)).astype(np.int64)
    measurer = people.pick_measurers(measured, rng)
    by_number = rng.random(n) < 0.5
    numbers = np.array(people.MEASURER_NOS, dtype=object)[measurer]
    names = np.array(people.MEASURER_NAMES, dtype=object)[measurer]
    district = np.array([region.DISTRICTS[a[2]][0] for a in region.AREAS], dtype=object)[herd.area]
    label = np.array(region.SEASONS, dtype=object)[herd.season]
    year = np.array([s[:4] for s in region.SEASONS], dtype=object)[herd.season]
    how = rng.random(n)
    tags = np.array([f"T{t:06d}" for t in rng.permutation(900_000)[:n]], dtype=object)
    columns = (
        _numbers(herd.season),
        np.array(region.CATEGORIES, dtype=object)[herd.nontypical.astype(np.int64)],
        people.hunters(n, rng),
        np.where(rng.random(n) < 0.2, "", tags),
        _area_texts(herd.area, rng),
        np.full(n, region.STATE, dtype=object),
        np.where(rng.random(n) < 0.35, "", district),
        iso(taken),
        np.where(how < 0.12, "", np.where(how < 0.2, year, label)),
        np.array(region.WEAPONS, dtype=object)[herd.weapon],
        iso(measured),
        np.where(by_number, numbers, names),
    )
    return Sheets(herd, taken, measured, dict(zip(ATTRIBUTES, columns, strict=True)))
