"""What is asked of an entry beside its measures: each rule broken once on a clean sheet, whole finding asserted."""

from pathlib import Path

import pytest

from loaders.names import Names
from tests.sheet_builder import TODAY, Finding, SheetAudit, audit_each, audit_rows, clean_sheet

WEAPONS = "rifle, shotgun, handgun, muzzleloader, bow, crossbow or found"
CATEGORIES = "elk-nontypical, elk-typical, whitetail-nontypical, whitetail-typical"
DAYS = ("taken_on", "measured_on")


def _error(code: str, cell: str, stated: str | None, expected: str | None, message: str) -> Finding:
    return Finding(2, code, "error", (cell,), stated, expected, message)


def _question(code: str, cell: str, stated: str | None, expected: str | None, message: str) -> Finding:
    return Finding(2, code, "question", (cell,), stated, expected, message)


WORDS = {
    ("weapon", "spear"): _error("weapon-unknown", "weapon", "spear", WEAPONS, "The weapon 'spear' is not known."),
    ("weapon", ""): _error("weapon-unknown", "weapon", None, WEAPONS, "The weapon (blank) is not known."),
    ("weapon", "gun"): _question(
        "weapon-unclear", "weapon", "gun", "rifle, shotgun or handgun",
        "The weapon 'gun' may be a rifle, a shotgun or a handgun; which was it?",
    ),
    ("antler_state", "polished"): _question(
        "antler-state-unknown", "antler_state", "polished", "hard or velvet",
        "The antlers are called 'polished'; are they hard or in velvet?",
    ),
    ("age", "21"): Finding(
        2, "age-unread", "note", ("age",), "21", "years in halves from 0.5 to 20, like 4.5",
        "The age '21' is not kept; expected years in halves from 0.5 to 20, like 4.5.",
    ),
    ("category", "moose"): _error(
        "category-unknown", "category", "moose", CATEGORIES,
        "The category 'moose' is not known; nothing can be scored without it.",
    ),
    ("measurer", "Nobody"): _error(
        "measurer-unknown", "measurer", "Nobody", "a measurer's number or name",
        "The measurer 'Nobody' is not in the book's table of measurers; only certified measurers count.",
    ),
    ("entry_no", "12345.5"): _question(
        "number-not-whole", "entry_no", "12345.5", "a whole number or a text",
        "The entry number '12345.5' is no whole number; a spreadsheet may have changed it.",
    ),
    ("area", "Nowhere"): _error(
        "area-unknown", "area", "Nowhere", None,
        "The county or parish 'Nowhere' is not in the book's table of areas.",
    ),
    ("area", "Aberlow"): _error(
        "area-unknown", "area", "Aberlow", "Abberlow",
        "The county or parish 'Aberlow' is not in the book's table of areas. Did you mean Abberlow?",
    ),
    ("area", "7001"): Finding(
        2, "area-code-repaired", "note", ("area",), "7001", "07001",
        "The area code 7001 had lost its leading zero; read as 07001.",
    ),
    ("district", "South"): _error(
        "district-mismatch", "district", "South", "North",
        "Abberlow lies in the district North; the sheet says South.",
    ),
    ("taken_on", ""): _question("date-missing", "taken_on", None, None, "The date taken is not on the sheet."),
    ("measured_on", " "): _question("date-missing", "measured_on", None, None, "The date measured is not on the sheet."),
    ("taken_on", "11/8/2025"): _error(
        "date-unreadable", "taken_on", "11/8/2025", "a date like 2025-11-08",
        "The date taken 11/8/2025 cannot be read; write it as year-month-day.",
    ),
    ("taken_on", "45969"): _question(
        "date-serial", "taken_on", "45969", "2025-11-08",
        "The date taken is the bare spreadsheet number 45969, which would be 2025-11-08; is that the date?",
    ),
    ("measured_on", "2026-11-26"): _error(
        "date-in-future", "measured_on", "2026-11-26", "not after 2026-11-25",
        "The date measured 2026-11-26 is after today, 2026-11-25.",
    ),
    ("measured_on", "2025-11-07"): Finding(
        2, "measured-before-taken", "error", DAYS, "2025-11-07", "2026-01-07 or later",
        "Measured on 2025-11-07, before it was taken on 2025-11-08.",
    ),
    ("measured_on", "2026-01-06"): Finding(
        2, "dried-short", "error", DAYS, "59 days", "2026-01-07 or later",
        "Dried 59 days, from 2025-11-08 to 2026-01-06; official measuring waits 60 days.",
    ),
    ("measured_on", "2025-11-08"): Finding(
        2, "dried-short", "error", DAYS, "0 days", "2026-01-07 or later",
        "Dried 0 days, from 2025-11-08 to 2025-11-08; official measuring waits 60 days.",
    ),
    ("season", "2024-25"): Finding(
        2, "season-mismatch", "error", ("season", "taken_on"), "2024-25", "2025-26",
        "A head taken on 2025-11-08 belongs to the season 2025-26; the sheet says 2024-25.",
    ),
}  # fmt: skip


CLEAN = [
    ("weapon", "Archery"), ("weapon", "X-Bow"), ("category", "Typical"), ("category", "WHITETAIL TYPICAL"),
    ("measurer", "Wystan Carrow"), ("measurer", "m 12"), ("area", "Abberlow County"), ("area", "ABBERLOW Parish"),
    ("area", "Old Abberlow"), ("area", "07001"), ("district", "north "), ("district", ""), ("state", ""),
    ("entry_no", "12345.0"), ("entry_no", "A-17"), ("season", "2025"), ("season", "2025/26"), ("season", ""),
    ("taken_on", "10/25/2025"), ("taken_on", "8 Nov 2025"), ("measured_on", TODAY.isoformat()),
    ("measured_on", "2026-01-07"), ("tag_no", ""), ("hunter", ""), ("age", "4 1/2"), ("age", ""),
]  # fmt: skip
SEASONS = {"2024-06-30": "2023-24", "2024-07-01": "2024-25", "2025-01-15": "2024-25"}
Audited = dict[tuple[str, str], SheetAudit]


@pytest.fixture(scope="module")
def audited() -> Audited:
    return audit_each({(field, text): clean_sheet() | {field: text} for field, text in [*WORDS, *CLEAN]})


@pytest.mark.parametrize("case", WORDS)
def test_one_rule_broken_gives_one_finding(audited: Audited, case: tuple[str, str]) -> None:
    assert audited[case].findings == [WORDS[case]]


@pytest.mark.parametrize("case", CLEAN)
def test_what_has_one_meaning_gives_no_finding(audited: Audited, case: tuple[str, str]) -> None:
    assert audited[case].findings == []


def test_without_reference_tables_areas_and_measurers_are_not_judged(tmp_path: Path) -> None:
    row = clean_sheet() | {"area": "Nowhere", "measurer": "Nobody", "district": "South"}
    assert audit_rows(tmp_path, row, names=Names()) == []


def test_a_sheet_without_its_category_is_not_scored() -> None:
    row = clean_sheet() | {"category": "", "net": "junk", "beam_r": ""}
    (alone,) = audit_each({"": row}).values()
    assert [(one.code, one.cells) for one in alone.findings] == [("category-unknown", ("category",))]
    assert alone.figures == {}


def test_a_season_begins_on_the_first_of_july() -> None:
    audited = audit_each({day: clean_sheet(taken_on=day, season=season) for day, season in SEASONS.items()})
    assert [one.findings for one in audited.values()] == [[], [], []]
