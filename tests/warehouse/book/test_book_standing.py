"""Each thing that can stand against an entry in a record book, alone, with its whole sentence."""

from typing import Any

import pytest

from tests.record_books import BOOK, MINIMUM, book_of, decided, head, insert, standing_of
from warehouse.book import standing

MEASURER: dict[str, Any] = {"measurer_no": "M-12", "name": "Wystan Carrow", "certified_from": "2020-01-01", "certified_to": None, "certificate": "official"}  # fmt: skip
SEASON: dict[str, Any] = {"season": "2025-26", "starts_on": "2025-07-01", "ends_on": "2026-06-30"}
FINDING: dict[str, Any] = {"file_id": 1, "row_id": 1, "revision_id": 1, "cells": [], "message": "x"}
NO_MINIMUM = "the book has no minimum for whitetail-typical, taken by rifle in 2025-26, hard antlers"
UNCERTIFIED = "the measurer M-12 held no certificate that the book accepts on 2026-01-20"
OUTSIDE = "Abberlow lies outside the area that the book covers"
Rows = tuple[tuple[str, dict[str, Any]], ...]


def reasons(
    changes: dict[str, Any], book: dict[str, Any], minimum: dict[str, Any], *rows: tuple[str, dict[str, Any]]
) -> list[str]:
    """Why a head of these changes does not qualify."""
    with book_of(("record_book", BOOK | book), ("minimum", MINIMUM | minimum), *rows) as connection:
        head(connection, **changes)
        return list(standing_of(connection)["reasons"])


@pytest.mark.parametrize(("least", "margin"), [(1137, "0"), (1136, "1/8"), (1098, "4 7/8")])
def test_an_accepted_head_at_or_over_the_minimum_qualifies(least: int, margin: str) -> None:
    with book_of(("record_book", BOOK), ("minimum", MINIMUM | {"minimum_units": least})) as connection:
        head(connection)
        told = standing_of(connection)
    assert (told["qualifies"], told["would_qualify"], told["reasons"], told["margin_text"]) == (True, False, [], margin)
    assert (told["score"], told["score_units_text"], told["margin"]) == ("net", "142 1/8", 1137 - least)


@pytest.mark.parametrize(
    ("changes", "book", "minimum", "expected"),
    [
        ({}, {}, {"minimum_units": 1176}, "the net of 142 1/8 is below the minimum of 147 0/8 by 4 7/8"),
        ({}, {"score": "gross"}, {"minimum_units": 1184}, "the gross of 147 7/8 is below the minimum of 148 0/8 by 1/8"),
        ({"net": None, "gross": None}, {}, {}, "its net is not known"),
        ({"measured_on": "2025-12-30"}, {}, {}, "dried 52 days; the book asks for 60"),
        ({"measured_on": "2026-01-06"}, {}, {}, "dried 59 days; the book asks for 60"),
        ({"measured_on": "2025-11-07"}, {}, {}, "measured before it was taken"),
        ({"area_code": None, "area_written": None}, {"districts": ["North"]}, {}, "its area is not known, and the book does not cover every area"),
        ({"measured_on": None}, {}, {}, "how long it dried is not known, for a date is missing"),
        ({}, {"weapons": ["bow", "crossbow"]}, {}, "taken by rifle, which the book does not take"),
        ({"weapon": None}, {}, {}, "its weapon is not known"),
        ({"weapon": "found"}, {"takes_found": False}, {}, "found dead; the book takes no found heads"),
        ({}, {}, {"category": "elk-typical"}, NO_MINIMUM),
        ({}, {}, {"weapon_class": "bow"}, NO_MINIMUM),
        ({"antler_state": "velvet"}, {}, {"antler_state": "hard"}, NO_MINIMUM.replace("hard", "velvet")),
        ({}, {}, {"last_season": "2024-25"}, NO_MINIMUM),
        ({"category": None}, {}, {}, "its category is not known"),
        ({}, {"last_season": "2024-25"}, {}, "the book has no rules for the season 2025-26"),
        ({}, {"first_season": "2026-27"}, {}, "the book has no rules for the season 2025-26"),
        ({"season": None}, {}, {}, "its season is not known"),
    ],
)  # fmt: skip
def test_one_thing_against_it(
    changes: dict[str, Any], book: dict[str, Any], minimum: dict[str, Any], expected: str
) -> None:
    assert reasons(changes, book, minimum) == [expected]


@pytest.mark.parametrize(("day", "book"), [("2026-01-07", {}), ("2025-11-08", {"drying_days": 0})])
def test_the_days_of_drying_are_reached(day: str, book: dict[str, Any]) -> None:
    assert reasons({"measured_on": day}, book, {}) == []


def test_several_things_are_all_told() -> None:
    errors = [("finding", FINDING | {"code": code, "severity": severity}) for code, severity in
              (("net", "error"), ("gross", "error"), ("date-cell", "question"), ("rows-blank", "note"))]  # fmt: skip
    file = (
        "received_file",
        {"file_id": 1, "load_id": 1, "name": "a", "sha256": "a" * 64, "headings": [], "fields": [], "row_count": 1},
    )
    told = reasons({"status": "held"}, {"weapons": ["bow"], "drying_days": 100}, {"minimum_units": 1140}, *errors, file)
    assert told == [
        "held for its findings: 2 errors, 1 question",
        "taken by rifle, which the book does not take",
        "the net of 142 1/8 is below the minimum of 142 4/8 by 3/8",
        "dried 73 days; the book asks for 100",
    ]


def test_an_error_of_the_whole_file_holds_it() -> None:
    assert reasons({"status": "held"}, {}, {}) == ["held for an error of its file"]


@pytest.mark.parametrize(
    ("certificate", "accepted", "expected"),
    [
        ({}, [], []),
        ({}, ["official"], []),
        ({"certificate": "club"}, ["official", "club"], []),
        ({"certificate": "club"}, ["official"], [UNCERTIFIED]),
        ({"certified_from": "2026-01-21"}, [], [UNCERTIFIED]),
        ({"certified_to": "2026-01-19"}, [], [UNCERTIFIED]),
        ({"certified_from": "2026-01-20", "certified_to": "2026-01-20"}, [], []),
        ({"measurer_no": "M-13", "name": "Somebody"}, [], [UNCERTIFIED]),
    ],
)
def test_only_a_measurer_who_was_certified_that_day_counts(
    certificate: dict[str, Any], accepted: list[str], expected: list[str]
) -> None:
    assert reasons({}, {"certificates": accepted}, {}, ("measurer", MEASURER | certificate)) == expected


def test_an_unknown_measurer_is_no_certified_one() -> None:
    assert reasons({"measurer": None}, {}, {}, ("measurer", MEASURER)) == ["its measurer is not known"]


@pytest.mark.parametrize(
    ("covered", "expected"),
    [
        ({"states": ["ZZ"]}, []),
        ({"districts": ["North"]}, []),
        ({"areas": ["07001"]}, []),
        ({"districts": ["South"], "areas": ["07001"]}, []),
        ({"states": ["QM"]}, [OUTSIDE]),
        ({"districts": ["South"]}, [OUTSIDE]),
        ({"areas": ["07003"]}, [OUTSIDE]),
    ],
)
def test_the_area_that_a_book_covers(covered: dict[str, Any], expected: list[str]) -> None:
    assert reasons({}, covered, {}) == expected


@pytest.mark.parametrize(("season", "expected"), [("2025-26", []), ("2024-25", [OUTSIDE])])
def test_the_district_is_that_of_the_season(season: str, expected: list[str]) -> None:
    moved = {"area_code": "07001", "district": "South", "region": "Low", "first_season": "2025-26", "last_season": None}
    assert reasons({"season": season}, {"districts": ["South"]}, {}, ("area_district", moved)) == expected


@pytest.mark.parametrize(
    ("cut_off", "made_at", "expected"),
    [
        ({"measured_within_days": 0}, "2026-11-25", []),
        ({"received_within_days": 148}, "2026-11-25", []),
        ({"received_within_days": 147}, "2026-11-25",
         ["received on 2026-11-25, more than 147 days after the season's end on 2026-06-30"]),
    ],
)  # fmt: skip
def test_the_cut_off_for_a_late_entry(cut_off: dict[str, Any], made_at: str, expected: list[str]) -> None:
    assert reasons({"made_at": made_at}, cut_off, {}, ("season", SEASON)) == expected


@pytest.mark.parametrize(
    ("changes", "cut_off"),
    [({}, {"measured_within_days": 90}), ({}, {"received_within_days": 90}), ({"measured_on": None}, {"measured_within_days": 90, "drying_days": 0})],
)  # fmt: skip
def test_a_cut_off_that_cannot_be_told_is_told(changes: dict[str, Any], cut_off: dict[str, Any]) -> None:
    unknown = "whether it is late is not known: its day of measuring or the last day of its season is not"
    assert reasons(changes, cut_off, {}) == [unknown]


def test_an_area_that_became_one_of_the_books_is_covered() -> None:
    renamed = {"old_code": "07001", "new_code": "07003", "changed_on": "2026-06-01", "kind": "renamed"}
    assert reasons({}, {"areas": ["07003"]}, {}, ("area_change", renamed)) == []


def test_a_late_measuring_is_told_with_its_days() -> None:
    told = reasons({"measured_on": "2026-09-29"}, {"measured_within_days": 90}, {}, ("season", SEASON))
    assert told == ["measured on 2026-09-29, more than 90 days after the season's end on 2026-06-30"]


def test_the_nearest_minimum_goes_first() -> None:
    minimums: list[dict[str, Any]] = [
        {"minimum_units": 800}, {"antler_state": "velvet", "minimum_units": 810}, {"weapon_class": "firearm", "minimum_units": 820},
        {"weapon_class": "firearm", "antler_state": "velvet", "minimum_units": 830},
    ]  # fmt: skip
    kinds = [("rifle", "hard"), ("rifle", "velvet"), ("bow", None), ("bow", "velvet")]
    with book_of(("record_book", BOOK), *(("minimum", MINIMUM | one) for one in minimums)) as connection:
        for number, (weapon, state) in enumerate(kinds, start=1):
            head(connection, number, weapon=weapon, antler_state=state)
        assert [standing_of(connection, n)["minimum_units"] for n in range(1, 5)] == [820, 830, 800, 810]


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("refuse", "refused by Una Reed: high fence"),
        ("withdraw", "withdrawn by Una Reed: high fence"),
        ("hold", "held by Una Reed: high fence"),
        ("panel", "held for a panel measuring, asked for by Una Reed: high fence"),
    ],
)
def test_a_decision_stands_against_it(kind: str, expected: str) -> None:
    with book_of(("record_book", BOOK), ("minimum", MINIMUM)) as connection:
        head(connection)
        decided(connection, kind)
        told = standing_of(connection)
    assert (told["reasons"], told["qualifies"], told["would_qualify"]) == ([expected], False, kind in ("hold", "panel"))


def test_a_merged_entry_counts_as_the_other() -> None:
    with book_of(("record_book", BOOK), ("minimum", MINIMUM)) as connection:
        head(connection, 1)
        head(connection, 2)
        decided(connection, "merge", 1, other_entry_id=2, why="one tag")
        told = [standing_of(connection, entry)["reasons"] for entry in (1, 2)]
    assert told == [["one head with entry 2, where it counts: one tag"], []]


def test_a_panels_score_is_what_counts_until_it_is_undone() -> None:
    with book_of(("record_book", BOOK), ("minimum", MINIMUM | {"minimum_units": 1160})) as connection:
        head(connection, status="held")
        number = decided(connection, "panel-result", net=1161, gross=1200)
        told = standing_of(connection)
        decided(connection, "undo", undoes=number)
        after = standing_of(connection)
    assert (told["score_units_text"], told["reasons"]) == ("145 1/8", [])
    assert (after["score_units_text"], after["status"]) == ("142 1/8", "held")


def test_every_entry_stands_once_in_every_book() -> None:
    books = [("record_book", BOOK | {"book": name}) for name in ("Second", "State Book")]
    odd: list[dict[str, Any]] = [
        {},
        {"category": None, "season": None},
        {"weapon": None, "taken_on": None},
        {"area_code": None},
    ]
    with book_of(*books, ("minimum", MINIMUM)) as connection:
        for number, changes in enumerate(odd, start=1):
            head(connection, number, **changes)
        found = standing.standing(connection)
        assert standing.books(connection) == ["Second", "State Book"]
    assert found.select("entry_id", "book").rows() == [
        (n, book) for n in range(1, 5) for book in ("Second", "State Book")
    ]


def test_a_book_without_record_books_has_no_standings() -> None:
    with book_of() as connection:
        head(connection)
        assert standing.standing(connection).height == 0
        insert(connection, "record_book", BOOK)
        assert standing.standing(connection).height == 1
