"""What was corrected and is sent again: known by its row as received, in any order and at the same time."""

import threading
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from loaders.corrections import Author, Corrected, Target, accept_explanation, correct_cells
from tests.book_builder import file_of, load, new_book, query
from tests.sheet_builder import TODAY, clean_sheet

UNA = Author("Una Reed", "the paper sheet says so")
# So that a file is another one than that of the corrected row.
OTHER = clean_sheet(entry_no="5", hunter="Marn Osselby", beam_r="21 0/8", taken_on="2025-11-09")
REVISIONS = "SELECT entry_id, revision_no, reason, author, status FROM entry_revision ORDER BY entry_id, revision_no"


def correct(book: Path, cells: Mapping[str, str], entry: int = 1) -> Corrected:
    return correct_cells(Target(book, entry), cells, UNA, TODAY)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return new_book(tmp_path)


def revisions_of(book: Path, entry: int) -> list[tuple[Any, ...]]:
    return [row[1:] for row in query(book, REVISIONS) if row[0] == entry]


@pytest.mark.parametrize(
    ("received", "cells"),
    [
        pytest.param({"net": "99 1/8"}, {"net": "142 1/8"}, id="a figure"),
        pytest.param({"g2_r": "8 1/8"}, {"g2_r": "9 1/8"}, id="a measure"),
        pytest.param({"entry_no": "", "g2_r": "8 1/8"}, {"g2_r": "9 1/8"}, id="a measure, without a number"),
        pytest.param({}, {"entry_no": "71"}, id="the number"),
        pytest.param(
            {"taken_on": "2025-11-07"},
            {"taken_on": "2025-11-08", "hunter": "Una Vale", "area": "Brackwater", "g4_l": "5 6/8"},
            id="all that a row is known by",
        ),
    ],
)
def test_the_row_sent_again_as_it_was_leaves_the_correction(
    book: Path, tmp_path: Path, received: dict[str, str], cells: dict[str, str]
) -> None:
    row = clean_sheet() | received
    load(book, file_of(tmp_path / "a.csv", [row]))
    correct(book, cells)
    before = query(book, "SELECT * FROM current_entry WHERE entry_id = 1")
    again = load(book, file_of(tmp_path / "b.csv", [OTHER, row]))
    assert again.counts() == {"rows": 2, "new": 1, "unchanged": 1, "revised": 0, "held": 0}
    assert query(book, "SELECT * FROM current_entry WHERE entry_id = 1") == before
    assert load(book, tmp_path / "a.csv").counts()["unchanged"] == 1


def test_a_row_sent_with_other_content_is_a_new_revision_and_its_own_text_counts(book: Path, tmp_path: Path) -> None:
    row = clean_sheet() | {"net": "99 1/8"}
    load(book, file_of(tmp_path / "a.csv", [row]))
    correct(book, {"net": "142 1/8", "entry_no": "71"})
    sent = load(book, file_of(tmp_path / "b.csv", [row | {"tag_no": "T-5"}]))
    assert sent.counts() == {"rows": 1, "new": 0, "unchanged": 0, "revised": 0, "held": 1}
    assert revisions_of(book, 1) == [
        (1, "first received", "tester", "held"),
        (2, "the paper sheet says so", "Una Reed", "accepted"),
        (
            3,
            "tag_no: T-4 -> T-5; corrected before and to be corrected again, if that still holds: entry_no, net",
            "tester",
            "held",
        ),
    ]
    assert query(book, "SELECT entry_no, stated_net FROM current_entry") == [("17", 793)]


def test_a_head_as_it_stands_comes_before_one_as_it_was_received(book: Path, tmp_path: Path) -> None:
    """The number 17 was corrected away from one head; the next 17 of the same hunter and day is another head."""
    first, second = clean_sheet(), clean_sheet(g3_r="7 0/8")
    load(book, file_of(tmp_path / "a.csv", [first]))
    correct(book, {"entry_no": "71"})
    load(book, file_of(tmp_path / "b.csv", [first, second | {"hunter": "Una Vale", "taken_on": "2025-11-09"}]))
    assert query(book, "SELECT entry_id, entry_no, hunter FROM current_entry ORDER BY 1") == [
        (1, "71", "Tarn Holtquarry"),
        (2, "17", "Una Vale"),
    ]
    again = load(book, file_of(tmp_path / "c.csv", [second | {"hunter": "Una Vale", "taken_on": "2025-11-09"}, first]))
    assert again.counts()["unchanged"] == 2


def test_a_correction_between_a_loads_reading_and_its_writing_is_noticed(book: Path, tmp_path: Path) -> None:
    row = clean_sheet() | {"net": "99 1/8"}
    load(book, file_of(tmp_path / "a.csv", [row]))
    told: list[str] = []

    def between(doing: str, done: int, of: int) -> None:
        if doing == "writing the book" and not told:
            told.append(doing)
            other = threading.Thread(target=accept_explanation, args=(Target(book, 1), 0, UNA, TODAY))
            other.start()
            other.join()

    load(book, file_of(tmp_path / "b.csv", [row | {"tag_no": "T-9"}]), tell=between)
    assert [number for number, *_ in revisions_of(book, 1)] == [1, 2, 3]
    assert query(book, "SELECT entry_id, revision_no, tag_no FROM current_entry") == [(1, 3, "T-9")]


def test_a_corrected_number_that_comes_again_is_kept(book: Path, tmp_path: Path) -> None:
    load(book, file_of(tmp_path / "a.csv", [clean_sheet(entry_no="1")]))
    correct(book, {"entry_no": "18"})
    load(book, file_of(tmp_path / "b.csv", [clean_sheet(entry_no="18", tag_no="T-9"), OTHER]))
    assert query(book, "SELECT entry_no, tag_no FROM current_entry ORDER BY 1") == [("18", "T-9"), ("5", "T-4")]
