"""An edition put together by hand, without a book, with names that would act where they are not made harmless."""

from datetime import date

import polars as pl

from warehouse.book.editions import Edition

BIDI, MARKUP, FORMULA = "\u202eevil", "<img src=x onerror=alert(1)>&\"'", '=HYPERLINK("http://x.invalid","y")'
HOSTILE_BOOK = "Quill</style><script>alert(2)</script>"
HEAD = "ab" * 32
TYPICAL = "whitetail-typical"
_LINE = ("book", "category", "span", "unit", "place", "tied", "net", "gross", "hunter", "area", "district", "season",
         "weapon", "antler_state", "entry_no")  # fmt: skip
_MINIMUM = ("book", "category", "weapon_class", "antler_state", "unit", "minimum_units", "score", "tie_rule", "rules",
            "first_season", "last_season")  # fmt: skip
_CHANGE = ("book", "category", "kind", "entry_no", "hunter", "place_was", "place_is", "what")
LINES = pl.DataFrame(
    [
        ("Bow Register", TYPICAL, "2025-26", 8, 1, False, 1000, 1003, "Ilse Marrowby", None, None, "2025-26", None, "velvet", None),
        ("Bow Register", TYPICAL, "all-time", 8, 1, False, 1000, 1003, "Ilse Marrowby", None, None, "2025-26", None, "velvet", None),
        (HOSTILE_BOOK, TYPICAL, "all-time", 8, 1, True, 1200, 1216, BIDI, "Abberlow", "North", "2024-25", "Rifle", "hard", "4"),
        (HOSTILE_BOOK, TYPICAL, "all-time", 8, 1, True, 1200, 1215, MARKUP, "Abberlow", "North", "2024-25", "Rifle", "hard", "-5"),
        (HOSTILE_BOOK, TYPICAL, "all-time", 16, 3, False, 5, 160, FORMULA, "Abberlow", "North", "2023-24", "Bow", "hard", "6"),
    ],
    schema=_LINE,
    orient="row",
)  # fmt: skip
RULES = "taken with any weapon; by a certified measurer"
MINIMUMS = pl.DataFrame(
    [
        ("Bow Register", TYPICAL, "bow", "any", 8, 1000, "gross", "taken", RULES, "2020-21", None),
        (HOSTILE_BOOK, TYPICAL, "any", "hard", 8, 1105, "net", "shared", RULES, "2018-19", "2022-23"),
        (HOSTILE_BOOK, TYPICAL, "any", "hard", 8, 1121, "net", "gross", RULES, "2023-24", None),
    ],
    schema=_MINIMUM,
    orient="row",
)
CHANGES = pl.DataFrame(
    [
        (HOSTILE_BOOK, TYPICAL, "new", "6", FORMULA, None, 3, "New at place 3, with a net of 5/16, season 2023-24."),
        (HOSTILE_BOOK, TYPICAL, "corrected", "4", BIDI, 2, 1, "Net 140 0/8 is now 150 0/8. Reason: =1+1\n<b>read</b> wrong."),
        (HOSTILE_BOOK, TYPICAL, "withdrawn", None, MARKUP, 3, None, "Withdrawn: the owner asked for it."),
    ],
    schema=_CHANGE,
    orient="row",
)  # fmt: skip


def hand_edition(before: str | None = "2025") -> Edition:
    """The edition 2026, with changes since `before`; the first one, without any, for None."""
    changes = CHANGES if before else CHANGES.clear()
    return Edition(2, "2026", date(2026, 3, 1), "2025-26", 1234, 1500, HEAD, before, LINES, MINIMUMS, changes)
