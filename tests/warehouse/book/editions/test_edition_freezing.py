"""What an edition freezes, worked out by hand (edition_book), and what it refuses."""

from pathlib import Path

import pytest

from tests.book_builder import new_book, query
from tests.warehouse.book.editions.edition_book import BOW, DAY, NOW, QUILLMARK, TYPICAL, edition_book, places, publish
from warehouse.book import contents, database
from warehouse.book.editions import freeze
from warehouse.errors import EditionRefused


def test_the_lists_of_both_books(tmp_path: Path) -> None:
    edition = publish(edition_book(tmp_path), "2026")
    assert places(edition, QUILLMARK, "all-time") == [
        (1, True, "5"), (1, True, "6"), (3, False, "4"), (4, False, "3"), (5, False, "2"),
    ]  # fmt: skip
    assert places(edition, QUILLMARK, "2025-26") == [(1, True, "5"), (1, True, "6"), (3, False, "4")]
    assert places(edition, BOW, "all-time") == places(edition, BOW, "2025-26") == [(1, False, "5")]
    assert edition.lines["book"].unique(maintain_order=True).to_list() == [BOW, QUILLMARK]
    assert edition.lines.rows()[-1] == (
        QUILLMARK, TYPICAL, "all-time", 8, 5, False, 1103, 1166, "Hunter 2", "Abberlow", "North", "2024-25", "Rifle", "hard", "2",
    )  # fmt: skip


def test_the_rules_are_quoted_for_the_seasons_that_both_were_in_force(tmp_path: Path) -> None:
    edition = publish(edition_book(tmp_path), "2026")
    dried = "measured 60 days or more after it was taken; by a certified measurer; from anywhere"
    bows, all_of_them = (
        f"taken by bow; no heads that were found; {dried}",
        f"taken with any weapon; heads that were found are taken; {dried}",
    )
    assert edition.minimums.rows() == [
        (BOW, TYPICAL, "bow", "any", 8, 1000, "gross", "taken", bows, "2020-21", None),
        (QUILLMARK, TYPICAL, "any", "any", 8, 1000, "net", "shared", all_of_them, "2020-21", "2022-23"),
        (QUILLMARK, TYPICAL, "any", "any", 8, 1102, "net", "shared", all_of_them, "2023-24", None),
    ]


def test_the_edition_rests_on_the_log_before_it_and_the_log_on_the_edition(tmp_path: Path) -> None:
    book = edition_book(tmp_path)
    before = query(book, "SELECT event_no, hash FROM event ORDER BY event_no")
    edition = publish(book, "2026")
    assert (edition.number, edition.name, edition.published_on, edition.season) == (1, "2026", DAY, "2025-26")
    assert (edition.entries, edition.before, [(edition.events, edition.head)]) == (6, None, before)
    with database.reading(book) as connection:
        content = contents.of_edition(connection, 1)
    columns = "event_no, kind, author, reason, about, content, previous"
    assert query(book, f"SELECT {columns} FROM event ORDER BY event_no DESC LIMIT 1") == [
        (2, "publish", "Una Reed", "annual rankings", "2026", content, before[0][1])
    ]
    assert edition.changes.height == edition.errata.height == 0


def test_a_book_where_nothing_qualifies_has_nothing_to_print(tmp_path: Path) -> None:
    book = edition_book(tmp_path)
    with database.writing(book) as connection:
        connection.execute("UPDATE minimum SET minimum_units = 2000")
    for nothing in (book, new_book(tmp_path, "empty.duckdb")):
        with pytest.raises(EditionRefused) as refusal, database.writing(nothing) as connection:
            freeze(connection, "2026", "Una Reed", "annual rankings", NOW)
        assert str(refusal.value) == (
            "edition '2026': no accepted entry qualifies for any record book, so there is nothing to print; "
            "`beamledger standing` says why of each entry; nothing was published"
        )
        assert query(nothing, "SELECT count(*) FROM edition") == [(0,)]
        assert query(nothing, "SELECT count(*) FROM event WHERE kind = 'publish'") == [(0,)]


def test_an_edition_is_frozen_only_once(tmp_path: Path) -> None:
    book = edition_book(tmp_path)
    publish(book, "2026")
    publish(book, "2027")
    for name in ("2026", "2027"):
        with pytest.raises(EditionRefused) as refusal:
            publish(book, name)
        assert str(refusal.value) == (
            f"edition '{name}': was published before, and an edition is frozen only once; publish the changes under "
            "another name; nothing was published"
        )
    assert query(book, "SELECT edition_no, edition FROM edition ORDER BY 1") == [(1, "2026"), (2, "2027")]


@pytest.mark.parametrize(
    ("by", "why", "missing"), [(" ", "annual", "name of who publishes it"), ("Una Reed", "", "reason")]
)
def test_who_publishes_and_why_must_be_said(tmp_path: Path, by: str, why: str, missing: str) -> None:
    with pytest.raises(EditionRefused) as refusal, database.writing(edition_book(tmp_path)) as connection:
        freeze(connection, "2026", by, why, NOW)
    assert str(refusal.value) == f"an edition needs a {missing}; nothing was published"
