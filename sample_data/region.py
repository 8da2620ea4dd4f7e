"""The invented region: areas, aliases, seasons, books with their rules and minimums, clubs. Nothing here exists.

Area codes stand under state number 07, which INCITS 31 (formerly FIPS 6-4) leaves unassigned (from memory).
The state letters are those of no state, territory or province (from memory). No row passes for a real one.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import polars as pl

Ints = npt.NDArray[np.int64]

STATE = "QM"
DISTRICTS = (
    ("North Fells", "Highfell"),
    ("Upper Sorrel", "Highfell"),
    ("Lowmarch", "Lowwater"),
    ("Saltwick", "Lowwater"),
    ("Eastmere", "Lowwater"),
)
# name, kind, index of the district
AREAS = (
    ("Abberlow", "county", 0),
    ("Brindmoor", "county", 0),
    ("Corrowick", "county", 0),
    ("Dunvessel", "county", 0),
    ("Elmsgarth", "county", 0),
    ("Fort Tallis", "county", 1),
    ("Gessamine", "county", 1),
    ("Hollenbrae", "county", 1),
    ("Ivarstow", "county", 1),
    ("Jessaveer", "county", 1),
    ("Kelderby", "county", 2),
    ("Lorrimoor", "county", 2),
    ("Mossandale", "county", 2),
    ("Orchentry", "county", 2),
    ("De Cañada", "parish", 3),
    ("Pellamere", "parish", 3),
    ("Quorrisdale", "parish", 3),
    ("Rothmarle", "parish", 3),
    ("Saint Orvane", "parish", 3),
    ("Thornquill", "county", 4),
    ("Umbrasset", "county", 4),
    ("Vannockstead", "county", 4),
    ("Wyncaster", "county", 4),
    ("Yarrowmoot", "county", 4),
)
AREA_CODES = tuple(f"07{2 * i + 1:03d}" for i in range(len(AREAS)))
ALIASES = (
    ("St. Orvane", "Saint Orvane"),
    ("Orvane Parish", "Saint Orvane"),
    ("Ft. Tallis", "Fort Tallis"),
    ("Tallis", "Fort Tallis"),
    ("De Canada", "De Cañada"),
    ("La Cañada", "De Cañada"),
    ("Old Brind", "Brindmoor"),
    ("Kelder", "Kelderby"),
    ("Yarrow Moot", "Yarrowmoot"),
    ("Wyn Caster Shire", "Wyncaster"),
)
FIRST_YEAR = 2006
SEASONS = tuple(f"{y}-{(y + 1) % 100:02d}" for y in range(FIRST_YEAR, FIRST_YEAR + 20))
WEAPONS = ("rifle", "bow", "muzzleloader", "crossbow", "shotgun", "handgun", "found")
CATEGORIES = ("whitetail-typical", "whitetail-nontypical")
# book, category, weapon class, minimum in whole inches, first season, last season ("" = still in force)
MINIMUMS = (
    ("Quillmark Record", 0, "any", 125, "2006-07", "2011-12"),
    ("Quillmark Record", 0, "any", 130, "2012-13", "2018-19"),
    ("Quillmark Record", 0, "any", 135, "2019-20", ""),
    ("Quillmark Record", 1, "any", 150, "2006-07", "2013-14"),
    ("Quillmark Record", 1, "any", 155, "2014-15", ""),
    ("Bowstave Register", 0, "bow", 105, "2006-07", "2014-15"),
    ("Bowstave Register", 0, "bow", 110, "2015-16", ""),
    ("Bowstave Register", 1, "bow", 125, "2006-07", "2014-15"),
    ("Bowstave Register", 1, "bow", 130, "2015-16", ""),
    ("Lantern Hill List", 0, "any", 115, "2006-07", "2016-17"),
    ("Lantern Hill List", 0, "any", 120, "2017-18", ""),
    ("Lantern Hill List", 1, "any", 135, "2006-07", "2016-17"),
    ("Lantern Hill List", 1, "any", 140, "2017-18", ""),
)
# book, rules that are not the usual ones (text as in books.csv)
BOOKS: tuple[tuple[str, dict[str, str]], ...] = (
    ("Quillmark Record", {}),
    ("Bowstave Register", {"tie_rule": "gross", "weapons": "bow", "takes_found": "no"}),
    (
        "Lantern Hill List",
        {"certificates": "official;club", "districts": "North Fells;Upper Sorrel", "measured_within_days": "400"},
    ),
)
USUAL_RULES: dict[str, str] = {"score": "net", "tie_rule": "shared", "takes_found": "yes", "drying_days": "60"}
RULES = (
    "last_season", "score", "tie_rule", "weapons", "takes_found", "drying_days", "certificates", "states", "districts",
    "areas", "measured_within_days", "received_within_days",
)  # fmt: skip
CLUBS = (
    ("C-01", "Lantern Hill Stalkers", "North Fells"),
    ("C-02", "Tallis Antler Society", "Upper Sorrel"),
    ("C-03", "Kelder Vale Club", "Lowmarch"),
    ("C-04", "Orvane Bow Fellows", "Saltwick"),
    ("C-05", "Umbrasset Evening Club", "Eastmere"),
    ("C-06", "Two Rivers Measuring Night", "Lowmarch"),
)


def areas() -> pl.DataFrame:
    """The areas as a table: area_code, name, kind, state, district, region (all text)."""
    return pl.DataFrame(
        {
            "area_code": AREA_CODES,
            "name": [a[0] for a in AREAS],
            "kind": [a[1] for a in AREAS],
            "state": [STATE] * len(AREAS),
            "district": [DISTRICTS[a[2]][0] for a in AREAS],
            "region": [DISTRICTS[a[2]][1] for a in AREAS],
        }
    )


def area_aliases() -> pl.DataFrame:
    """Other names in use: alias, area_code (text)."""
    code = {a[0]: c for a, c in zip(AREAS, AREA_CODES, strict=True)}
    return pl.DataFrame({"alias": [a for a, _ in ALIASES], "area_code": [code[n] for _, n in ALIASES]})


def seasons() -> pl.DataFrame:
    """The seasons: season, starts_on, ends_on (text, ISO 8601 dates)."""
    years = [FIRST_YEAR + i for i in range(len(SEASONS))]
    return pl.DataFrame(
        {
            "season": SEASONS,
            "starts_on": [f"{y}-07-01" for y in years],
            "ends_on": [f"{y + 1}-06-30" for y in years],
        }
    )


def record_books() -> pl.DataFrame:
    """The books' rules, in force from the first season on (text; null: no such limit)."""
    rows = [
        {"book": book, "first_season": SEASONS[0], **{rule: (USUAL_RULES | own).get(rule) for rule in RULES}}
        for book, own in BOOKS
    ]
    return pl.DataFrame(rows, schema=dict.fromkeys(("book", "first_season", *RULES), pl.String()))


def minimums() -> pl.DataFrame:
    """The minimums: book, category, weapon_class, minimum (`125 0/8`), first_season, last_season."""
    rows = [(b, CATEGORIES[c], w, f"{m} 0/8", f, t or None) for b, c, w, m, f, t in MINIMUMS]
    names = ["book", "category", "weapon_class", "minimum", "first_season", "last_season"]
    return pl.DataFrame(rows, schema=names, orient="row")


def clubs() -> pl.DataFrame:
    """The clubs: club_no, name, district (text)."""
    return pl.DataFrame(CLUBS, schema=["club_no", "name", "district"], orient="row")


def lowest_minimums() -> Ints:
    """The lowest minimum in force, in eighths, of shape (season, category, weapon)."""
    lowest = np.full((len(SEASONS), len(CATEGORIES), len(WEAPONS)), 10**6, dtype=np.int64)
    for _, category, weapon_class, inches, first, last in MINIMUMS:
        when = slice(SEASONS.index(first), SEASONS.index(last) + 1 if last else len(SEASONS))
        which = slice(None) if weapon_class == "any" else [WEAPONS.index(weapon_class)]
        lowest[when, category, which] = np.minimum(lowest[when, category, which], inches * 8)
    return lowest
