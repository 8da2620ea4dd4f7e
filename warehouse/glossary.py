"""Every quantity once: its name, its unit and what it means. Files, tables, pages and documents use these names.

Lines of a category (beam, g1 ... h4, spreads) are described by the category's own file; here stand their patterns.
"""

from dataclasses import dataclass

from warehouse.categories import all_categories

LENGTH = "length"
TEXT = "text"
DATE = "date"
COUNT = "points"
YEARS = "years"


@dataclass(frozen=True)
class Term:
    """One quantity: the fields that carry it, its unit ("length" is whole eighths or sixteenths of an inch), its meaning."""

    fields: tuple[str, ...]
    group: str
    unit: str
    meaning: str


TERMS: tuple[Term, ...] = (
    Term(("entry_no",), "identity", TEXT, "the sender's number of the sheet"),
    Term(("category",), "identity", TEXT, ", ".join(all_categories())),
    Term(("hunter",), "identity", TEXT, "who took the head"),
    Term(("tag_no",), "identity", TEXT, "number of the harvest tag"),
    Term(("area",), "place", TEXT, "county or parish, by name or five-digit code"),
    Term(("state",), "place", TEXT, "two letters"),
    Term(("district",), "place", TEXT, "stated district, held against the area's"),
    Term(("taken_on",), "taking", DATE, "date taken, year-month-day (ISO 8601)"),
    Term(("season",), "taking", TEXT, "stated season, 2025 or 2025-26, held against the date taken"),
    Term(("weapon",), "taking", TEXT, "rifle, shotgun, handgun, muzzleloader, bow, crossbow, found"),
    Term(("antler_state",), "taking", TEXT, "hard or velvet; blank means hard"),
    Term(("age",), "taking", YEARS, "age of the buck in years and half years, as told by a jaw (4.5); blank where nobody aged it"),
    Term(("measured_on",), "measuring", DATE, "date of the official measuring, 60 days or more after the date taken"),
    Term(("measurer",), "measuring", TEXT, "certified measurer, by number or name"),
    Term(("points_r", "points_l"), "points", COUNT, "stated points of a side: normal points, the beam tip, abnormal points"),
    Term(("inside_spread",), "spreads", LENGTH, "inside spread between the beams; credited up to the longer beam"),
    Term(("tip_to_tip", "greatest_spread"), "spreads", LENGTH, "recorded, never scored"),
    Term(("beam_r", "beam_l"), "antler", LENGTH, "main beam"),
    Term(tuple(f"g{n}_{side}" for n in range(1, 8) for side in "rl"), "antler", LENGTH,
         "points G1 (brow) to G7; blank or - where there is none"),
    Term(tuple(f"h{n}_{side}" for n in range(1, 5) for side in "rl"), "antler", LENGTH,
         "four circumferences, always four"),
    Term(("abnormal_r", "abnormal_l"), "abnormal", LENGTH,
         "abnormal points, separated by ; (one number is one point or a stated sum)"),
    Term(("abnormal_total",), "abnormal", LENGTH, "stated sum of the abnormal points"),
    Term(("spread_credit",), "stated figures", LENGTH, "inside spread as credited"),
    Term(("beam_diff", *(f"g{n}_diff" for n in range(1, 8)), *(f"h{n}_diff" for n in range(1, 5))), "stated figures", LENGTH,
         "side-to-side difference of a line"),
    Term(("right_total", "left_total"), "stated figures", LENGTH, "beam + normal points + circumferences of a side"),
    Term(("diff_total",), "stated figures", LENGTH, "sum of the side-to-side differences, without abnormal points"),
    Term(("deductions",), "stated figures", LENGTH, "differences plus, in typical, abnormal points"),
    Term(("gross",), "stated figures", LENGTH, "spread credit + right total + left total"),
    Term(("net",), "stated figures", LENGTH, "gross - deductions (non-typical: plus the abnormal total)"),
)  # fmt: skip


def term_of(field: str) -> Term:
    """The term a field carries. Raises KeyError for a field that the glossary does not know."""
    for term in TERMS:
        if field in term.fields:
            return term
    raise KeyError(field)
