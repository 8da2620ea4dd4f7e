"""What a second edition says of the first, sentence by sentence (the heads of edition_book, a year later)."""

from pathlib import Path

import pytest

from tests.book_builder import file_of, load, query
from tests.sheet_builder import clean_sheet
from tests.warehouse.book.editions.edition_book import (
    BOW,
    LATER,
    QUILLMARK,
    a_year_later,
    add,
    correct,
    decide,
    older,
    places,
    publish,
    published_book,
    sheet,
    shorter,
)  # fmt: skip
from warehouse.book import database, events
from warehouse.book.editions import Edition

BEAM_READ = "the left beam was misread"


def changes(edition: Edition, book: str = QUILLMARK) -> list[tuple[object, ...]]:
    """(kind, entry number, place was, place is, sentence) of a book."""
    rows = edition.changes.filter(edition.changes["book"] == book)
    return rows.select("kind", "entry_no", "place_was", "place_is", "what").rows()


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The book of the six heads with its first edition."""
    return published_book(tmp_path)


def second(book: Path) -> Edition:
    return publish(book, "2027", LATER)


def test_a_year_later(book: Path) -> None:
    a_year_later(book)
    edition = second(book)
    assert edition.before == "2026"
    assert places(edition, QUILLMARK, "all-time") == [
        (1, False, "7"),
        (2, False, "2"),
        (3, False, "5"),
        (4, False, "4"),
    ]
    assert changes(edition) == [
        ("new", "7", None, 1, "New at place 1, with a net of 139 1/8 and a gross of 146 3/8, season 2025-26."),
        ("corrected", "2", 5, 2,
         "Net 137 7/8 is now 138 7/8; gross 145 6/8 is now 146 2/8; place 5 is now place 2. Reason: the left beam was misread."),
        ("corrected", "4", 3, 4,
         "Hunter “Hunter 4” is now “Tarn Oxtrell”; place 3 is now place 4. Reason: the name was written by ear."),
        ("withdrawn", "6", 1, None, "Withdrawn: the owner asked for it."),
        ("withdrawn", "3", 4, None,
         "No longer in this list: net 138 1/8 is now 137 3/8; gross 145 7/8 is now 145 4/8; it is below the minimum of "
         "137 6/8. Reason: the tape was read from its end."),
        ("moved", "5", 1, 3, "Place 1 is now place 3: its score is as it was, and 2 more heads stand above it."),
        ("moved", "4", 3, 4, "Place 3 is now place 4: its score is as it was, and 1 more head stands above it."),
    ]  # fmt: skip
    assert changes(edition, BOW) == [
        ("new", "7", None, 1, "New at place 1, with a net of 139 1/8 and a gross of 146 3/8, season 2025-26."),
        ("moved", "5", 1, 2, "Place 1 is now place 2: its score is as it was, and 1 more head stands above it."),
    ]
    assert edition.errata.select("kind", "entry_no").rows() == [
        ("corrected", "2"), ("corrected", "4"), ("withdrawn", "6"), ("withdrawn", "3"),
    ]  # fmt: skip
    assert edition.changes.filter(edition.changes["entry_no"] == "4")["hunter"].to_list() == ["Tarn Oxtrell"] * 2


def test_an_edition_is_held_against_the_one_just_before_it(book: Path) -> None:
    a_year_later(book)
    second(book)
    third = publish(book, "2028", LATER)
    assert (third.before, third.changes.height) == ("2027", 0)


@pytest.mark.parametrize(
    ("kind", "into", "what"),
    [
        ("withdraw", None, "Withdrawn: is it?"),
        ("refuse", None, "Refused: is it?"),
        ("merge", 5, "One head with entry 5, which stands for both: is it?"),
        ("hold", None, "Held again: is it?"),
        ("panel", None, "Held again, until a panel has measured the head: is it?"),
    ],
)
def test_every_way_out_by_a_decision(book: Path, kind: str, into: int | None, what: str) -> None:
    decide(book, 3, kind, "is it?", into)
    assert changes(second(book)) == [
        ("withdrawn", "3", 4, None, what),
        ("moved", "2", 5, 4, "Place 5 is now place 4: its score is as it was, and 1 fewer head stands above it."),
    ]


def test_held_again_by_the_audit(book: Path) -> None:
    correct(book, 2, older(2), older(2) | {"net": "1 0/8"}, "the sheet says so")
    assert changes(second(book)) == [
        ("withdrawn", "2", 5, None, "Held again by the audit of its newest state: the sheet says so.")
    ]


def test_another_category(book: Path) -> None:
    after = clean_sheet(**older(2) | {"category": "whitetail-nontypical"})
    correct(book, 2, older(2), after, "it is not typical.")
    assert changes(second(book)) == [
        ("withdrawn", "2", 5, None, "Now in the category White-tailed deer, non-typical: it is not typical.")
    ]


def test_a_row_received_again_is_no_reason_that_names_what_is_not_published(book: Path) -> None:
    again = sheet(4, hunter="Ilse Marrowby", tag_no="TAG-CANARY")
    load(book, file_of(book.with_name("again.csv"), [again]))
    day = query(book, "SELECT strftime(max(loaded_at), '%Y-%m-%d') FROM load")[0][0]
    assert query(book, "SELECT reason FROM entry_revision WHERE revision_no = 2") == [
        ("hunter: Hunter 4 -> Ilse Marrowby; tag_no: T-4 -> TAG-CANARY",)
    ]
    assert [line[-1] for line in changes(second(book))] == [
        f"Hunter “Hunter 4” is now “Ilse Marrowby”. Reason: its row was received again, changed, on {day}."
    ]


def test_a_panel_score_and_an_undone_one(book: Path) -> None:
    with database.writing(book) as connection:
        event = events.Event(
            "panel-result", "Una Reed", "three measured it!", entry_id=2, revision_id=2, gross=1170, net=1105
        )
        number = events.append(connection, event, LATER)
    edition = publish(book, "2027", LATER)
    assert changes(edition) == [
        ("corrected", "2", 5, 4,
         "Net 137 7/8 is now 138 1/8; gross 145 6/8 is now 146 2/8; place 5 is now place 4. "
         "Reason: a panel measured the head: three measured it!"),
    ]  # fmt: skip
    with database.writing(book) as connection:
        events.append(connection, events.Event("undo", "Una Reed", "another head", entry_id=2, undoes=number), LATER)
    assert changes(publish(book, "2028", LATER))[-1][-1] == (
        "Net 138 1/8 is now 137 7/8; gross 146 2/8 is now 145 6/8; place 4 is now place 5. "
        "Reason: what was done before was taken back: another head."
    )


def test_a_reference_table_is_a_reason_too(book: Path) -> None:
    with database.writing(book) as connection:
        connection.execute("UPDATE area SET district = 'Northmost'")
        connection.execute("UPDATE minimum SET minimum_units = 1104 WHERE minimum_units = 1102")
        events.append(connection, events.Event("reference", "Una Reed", "districts of 2027", about="area"), LATER)
    told = changes(second(book))
    assert told[0] == (
        "corrected", "5", 1, 1,
        "District “North” is now “Northmost”. Reason: the reference table area was changed: districts of 2027.",
    )  # fmt: skip
    assert told[-1] == (
        "withdrawn", "2", 5, None,
        "No longer in this list: it is below the minimum of 138 0/8. "
        "Reason: the reference table area was changed: districts of 2027.",
    )  # fmt: skip


def test_what_a_person_says_last_of_the_figures_is_the_reason(book: Path) -> None:
    correct(book, 2, older(2), shorter(older(2)) | {"hunter": "Tarn Oxtrell"}, BEAM_READ)
    decide(book, 2, "accept", "looked at the sheet")
    assert changes(second(book)) == [
        ("withdrawn", "2", 5, None,
         "No longer in this list: net 137 7/8 is now 137 3/8; gross 145 6/8 is now 145 4/8; it is below the minimum of "
         f"137 6/8. Reason: {BEAM_READ}."),
    ]  # fmt: skip


def test_changes_are_of_the_lists_of_all_time_alone(book: Path) -> None:
    add(book, sheet(8, taken_on="2026-07-02", season="2026-27", measured_on="2026-10-20"))
    edition = second(book)
    assert edition.season == "2026-27"
    assert places(edition, QUILLMARK, "2026-27") == [(1, False, "8")]
    assert places(edition, QUILLMARK, "2025-26") == places(edition, BOW, "2026-27") == []
    assert [line[:2] for line in changes(edition)] == [
        ("new", "8"), ("moved", "5"), ("moved", "6"), ("moved", "4"), ("moved", "3"), ("moved", "2"),
    ]  # fmt: skip
    assert changes(edition, BOW) == []
