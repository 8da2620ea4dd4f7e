"""The pairs that may be one head, the slow way: every sheet against every other, from the texts that were sent."""

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from tests.plain_scoring import inches

LINES = ("beam", *(f"g{nth}" for nth in range(1, 8)), *(f"h{nth}" for nth in range(1, 5)))
SCORED = [f"{line}_{side}" for line in LINES for side in "rl"]
COMPARED = ["inside_spread", *SCORED]
NEEDED = ("inside_spread", "beam", "h1", "h2", "h3", "h4")
ORDER = ("same-head", "same-tag", "measured-again", "other-category", "near-head")
PRESENT = {"Old Abberlow": "Abberlow"}  # an area that was renamed

Row = Mapping[str, str]


@dataclass(frozen=True)
class Sent:
    """A sheet as sent, and its compared measures in eighths (None: not known)."""

    row: Row
    eighths: dict[str, int | None]

    def same(self, other: "Sent", cell: str) -> bool:
        """Whether both say the same in a cell, and say something."""
        return self.row[cell] == other.row[cell] != ""


def sent(row: Row) -> Sent:
    """A point that is blank was not grown, any other blank is unknown."""
    return Sent(row, {name: _eighths(row[name], name) for name in COMPARED})


def _eighths(text: str, name: str) -> int | None:
    if not text:
        return None if name.startswith(NEEDED) else 0
    return int(inches(text) * 8)


def apart(one: Sent, other: Sent) -> dict[str, int]:
    """How far apart each measure is that both sheets know, in eighths."""
    pairs = {name: (one.eighths[name], other.eighths[name]) for name in COMPARED}
    return {name: abs(a - b) for name, (a, b) in pairs.items() if a is not None and b is not None}


def is_near(one: Sent, other: Sent, each: int, together: int) -> bool:
    """Whether no scored measure is further apart than `each` eighths, and all of them no further than `together`."""
    found = apart(one, other)
    told = sum(bool(one.eighths[name] and other.eighths[name]) for name in COMPARED)
    enough = told >= 6 and len(COMPARED) - len(found) <= 4
    return enough and all(found.get(name, 0) <= each for name in SCORED) and sum(found.values()) <= together


def likeness(one: str, other: str) -> Fraction:
    """100 for names of the same words; less by the signs that must be put in or taken out, of all signs."""
    a, b = (" ".join(sorted(_plain(name).split())) for name in (one, other))
    longest = [0] * (len(b) + 1)  # longest common subsequence
    for sign in a:
        before = 0
        for place, beside in enumerate(b, start=1):
            kept = before + 1 if sign == beside else max(longest[place], longest[place - 1])
            before, longest[place] = longest[place], kept
    return Fraction(200 * longest[-1], len(a) + len(b))


def _plain(name: str) -> str:
    signs = (sign for sign in unicodedata.normalize("NFD", name.upper()) if not unicodedata.combining(sign))
    return "".join(sign if sign.isalnum() else " " for sign in signs)


def kinds(one: Sent, other: Sent) -> list[str]:
    """The kinds of one pair, the strongest first."""
    tags = ["".join(sign for sign in each.row["tag_no"].upper() if sign.isalnum()) for each in (one, other)]
    tag = tags[0] == tags[1] and any(map(str.isdigit, tags[0])) and one.same(other, "season")
    areas = [PRESENT.get(each.row["area"], each.row["area"]) for each in (one, other)]
    here = areas[0] == areas[1] != "" and one.same(other, "taken_on")
    category = one.same(other, "category")
    loose = (here or tag) and is_near(one, other, 4, 32)
    again = loose and here and any(one.row[cell] != other.row[cell] for cell in ("measured_on", "measurer"))
    found = {
        "same-head": None not in one.eighths.values() and one.eighths == other.eighths,
        "same-tag": tag,
        "measured-again": again and category and likeness(one.row["hunter"], other.row["hunter"]) >= 85,
        "other-category": loose and not category,
        "near-head": here and category and is_near(one, other, 2, 16),
    }
    return [kind for kind in ORDER if found[kind]]


def all_pairs(rows: Sequence[Row]) -> dict[tuple[str, str], list[str]]:
    """(number, number) in the order of the rows -> kinds, of each pair that has one."""
    found = {(a.row["entry_no"], b.row["entry_no"]): kinds(a, b) for a, b in combinations(map(sent, rows), 2)}
    return {pair: named for pair, named in found.items() if named}
