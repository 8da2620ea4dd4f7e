"""A plain reading of one sheet at a time, sharing no code with the maker of the samples nor with the product.

Slow and simple on purpose: `Fraction` for lengths, one `if` for each rule, the net by the shorter-side law.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from fractions import Fraction

Row = dict[str, str]
VULGAR = {"⅛": "1/8", "¼": "2/8", "⅜": "3/8", "½": "4/8", "⅝": "5/8", "¾": "6/8", "⅞": "7/8"}
LENGTH = re.compile(r"(\d+)?(?:[ -]?([1-7])/8)?|(\d+)\.(000|125|250|375|500|625|750|875)")
POINTS = [f"g{i}" for i in range(1, 8)]
PAIRED = ["beam", *POINTS, "h1", "h2", "h3", "h4"]
WEAPONS = {"rifle", "bow", "muzzleloader", "crossbow", "shotgun", "handgun", "found"}
BOUNDS = {"beam": (12, 32), "inside_spread": (8, 33), "g": (1, 16), "h": (2, 8)}
TODAY = dt.date(2026, 11, 25)
BASE_1900 = dt.date(1899, 12, 30)


class Unreadable(ValueError):
    """A text that means no length."""


@dataclass(frozen=True)
class Region:
    """What the reference tables say: area text to district, every measurer's number and name."""

    district_of: dict[str, str]
    codes: set[str]
    measurers: set[str]


def length(text: str) -> Fraction | None:
    """The length in inches, None for a blank or a dash."""
    if text in ("", "-"):
        return None
    for sign, plain in VULGAR.items():
        text = text.replace(sign, f" {plain}").strip()
    found = LENGTH.fullmatch(re.sub(r" 0/8$", "", text))
    if not found:
        raise Unreadable(text)
    if found[3]:
        return Fraction(f"{found[3]}.{found[4]}")
    return Fraction(int(found[1] or 0)) + Fraction(int(found[2] or 0), 8)


def _lengths(row: Row) -> tuple[dict[str, Fraction | None], set[str], set[tuple[str, str]]]:
    names = [n for n in row if re.fullmatch(r"(beam|g\d|h\d)_[rl]|.*spread|tip_to_tip|.*_(diff|total|credit)", n)]
    names += ["deductions", "gross", "net"]
    out: dict[str, Fraction | None] = {}
    unknown: set[str] = set()
    found: set[tuple[str, str]] = set()
    for name in names:
        try:
            out[name] = length(row[name])
        except Unreadable:
            out[name] = None
            unknown.add(name)
            found.add(("unreadable", name))
    for name in ("inside_spread", "beam_r", "beam_l", *(f"h{i}_{s}" for i in range(1, 5) for s in "rl")):
        if out[name] is None and name not in unknown:
            unknown.add(name)
            found.add(("circumference-missing" if name[0] == "h" else "missing-measure", name))
    return out, unknown, found


def _abnormal(row: Row, side: str) -> list[Fraction]:
    return [length(t) or Fraction(0) for t in row[f"abnormal_{side}"].split(";") if t]


def figures(row: Row, inches: dict[str, Fraction | None], unknown: set[str]) -> dict[str, Fraction]:
    """Every figure that can be worked out, the net by the shorter-side law."""
    zero = Fraction(0)
    got = {n: v or zero for n, v in inches.items()}
    abnormal = sum((*_abnormal(row, "r"), *_abnormal(row, "l")), zero)
    out = {"abnormal_total": abnormal}
    sides = {s: [f"{p}_{s}" for p in PAIRED] for s in "rl"}
    for s, name in (("r", "right_total"), ("l", "left_total")):
        if not unknown & set(sides[s]):
            out[name] = sum((got[n] for n in sides[s]), zero)
    for p in PAIRED:
        if not unknown & {f"{p}_r", f"{p}_l"}:
            out[f"{p}_diff"] = abs(got[f"{p}_r"] - got[f"{p}_l"])
    if not unknown & {"inside_spread", "beam_r", "beam_l"}:
        out["spread_credit"] = min(got["inside_spread"], max(got["beam_r"], got["beam_l"]))
    if not unknown & {*sides["r"], *sides["l"]}:
        typical = row["category"] == "whitetail-typical"
        out["diff_total"] = sum((out[f"{p}_diff"] for p in PAIRED), zero)
        out["deductions"] = out["diff_total"] + (abnormal if typical else 0)
        if "spread_credit" in out:
            out["gross"] = out["spread_credit"] + out["right_total"] + out["left_total"]
            shorter = sum((min(got[f"{p}_r"], got[f"{p}_l"]) for p in PAIRED), zero)
            out["net"] = out["spread_credit"] + 2 * shorter + (-abnormal if typical else abnormal)
    return out


def _miscounted(row: Row, side: str, normal: int) -> bool:
    """One abnormal number may be the sum of several points: then the count may be larger, never smaller."""
    abnormal, stated = len(_abnormal(row, side)), int(row[f"points_{side}"])
    least = normal + 1 + abnormal
    return stated < least or (stated > least and abnormal != 1)


def _points(row: Row, inches: dict[str, Fraction | None], unknown: set[str]) -> set[tuple[str, str]]:
    found: set[tuple[str, str]] = set()
    for s in "rl":
        there = [inches[f"{p}_{s}"] is not None or f"{p}_{s}" in unknown for p in POINTS]
        if row[f"points_{s}"] and _miscounted(row, s, sum(there)):
            found.add(("point-count", f"points_{s}"))
        if there != sorted(there, reverse=True):
            found.add(("point-gap", f"g{there.index(False) + 1}_r;g{there.index(False) + 1}_l"))
    for p in POINTS:
        right, left, apart = inches[f"{p}_r"], inches[f"{p}_l"], inches[f"{p}_diff"]
        one_sided = (right is None) != (left is None) and not unknown & {f"{p}_r", f"{p}_l"}
        if one_sided and apart != (right or left):
            found.add(("blank-point", f"{p}_{'r' if right is None else 'l'}"))
    return found


def _measures(row: Row, inches: dict[str, Fraction | None], unknown: set[str]) -> set[tuple[str, str]]:
    found = _points(row, inches, unknown)
    for name, inch in inches.items():
        if inch is None or name.split("_")[-1] in ("diff", "total", "credit"):
            continue
        kind = name if name in BOUNDS else name.split("_")[0].rstrip("1234567")
        low, high = BOUNDS.get(kind, (0, 999))
        if kind == "g" and inch < 1:
            found.add(("point-under-inch", name))
        elif not low <= inch <= high:
            found.add(("out-of-bounds", name))
    inside, greatest = inches["inside_spread"], inches["greatest_spread"]
    beams = [inches["beam_r"] or Fraction(0), inches["beam_l"] or Fraction(0)]
    if inside is not None and greatest is not None and greatest < inside:
        found.add(("greatest-under-inside", "greatest_spread;inside_spread"))
    if inside is not None and not unknown & {"beam_r", "beam_l"} and inside > max(beams):
        found.add(("spread-over-beam", "inside_spread"))
    return found


def _dates(row: Row) -> set[tuple[str, str]]:
    found: set[tuple[str, str]] = set()
    measured = dt.date.fromisoformat(row["measured_on"])
    if measured > TODAY:
        found.add(("date-in-future", "measured_on"))
    taken: dt.date | None = None
    if not row["taken_on"]:
        found.add(("date-missing", "taken_on"))
    elif row["taken_on"].isdigit():
        found.add(("date-serial", "taken_on"))
        taken = BASE_1900 + dt.timedelta(days=int(row["taken_on"]))
    else:
        try:
            taken = dt.date.fromisoformat(row["taken_on"])
        except ValueError:
            found.add(("date-unreadable", "taken_on"))
    if taken is None:
        return found
    if measured < taken:
        found.add(("measured-before-taken", "taken_on;measured_on"))
    elif (measured - taken).days < 60:
        found.add(("dried-short", "taken_on;measured_on"))
    first = taken.year - (taken.month < 7)
    if row["season"] not in ("", str(first), f"{first}-{(first + 1) % 100:02d}"):
        found.add(("season-mismatch", "season;taken_on"))
    return found


def _place_and_people(row: Row, region: Region) -> set[tuple[str, str]]:
    found: set[tuple[str, str]] = set()
    area = row["area"]
    if area not in region.district_of and area.zfill(5) in region.codes:
        found.add(("area-code-repaired", "area"))
        area = area.zfill(5)
    if area not in region.district_of:
        found.add(("area-unknown", "area"))
    elif row["district"] not in ("", region.district_of[area]):
        found.add(("district-mismatch", "district"))
    if row["weapon"].lower() not in WEAPONS:
        found.add(("weapon-unclear" if row["weapon"].lower() == "gun" else "weapon-unknown", "weapon"))
    if row["measurer"] not in region.measurers:
        found.add(("measurer-unknown", "measurer"))
    if re.fullmatch(r"\d+\.5", row["entry_no"]):
        found.add(("number-not-whole", "entry_no"))
    return found


def audit(row: Row, region: Region) -> set[tuple[str, str]]:
    """The findings of one sheet as (code, cells), without those that need other sheets."""
    inches, unknown, found = _lengths(row)
    found |= _measures(row, inches, unknown) | _dates(row) | _place_and_people(row, region)
    if row["category"] not in ("whitetail-typical", "whitetail-nontypical"):
        return found | {("category-unknown", "category")}
    if any(code == "blank-point" for code, _ in found):
        return found
    for name, inch in figures(row, inches, unknown).items():
        if inches[name] is not None and inches[name] != inch:
            found.add((name, name))
    return found
