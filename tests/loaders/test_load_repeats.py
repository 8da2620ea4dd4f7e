"""Heads and numbers that the book has already, of another sheet: asked about, never merged."""

from pathlib import Path

import pytest

from tests.book_builder import file_of, load, new_book, query
from tests.sheet_builder import clean_sheet

FIRST = clean_sheet(entry_no="17", hunter="Tarn Holtquarry")
OTHER = clean_sheet(
    entry_no="17", hunter="Bettany Inglebrand", area="Brackwater", taken_on="2025-11-20", inside_spread="15 1/8"
)
OPEN = "SELECT row, entry_no, code, severity, stated, message FROM open_finding WHERE row IS NOT NULL ORDER BY ALL"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [FIRST]))
    return book


def test_two_clubs_that_use_17_for_two_heads_make_two_entries(book: Path, tmp_path: Path) -> None:
    loaded = load(book, file_of(tmp_path / "b.csv", [OTHER]))
    assert query(book, "SELECT entry_no, hunter FROM current_entry ORDER BY entry_id") == [
        ("17", "Tarn Holtquarry"), ("17", "Bettany Inglebrand"),
    ]  # fmt: skip
    (found,) = query(book, OPEN)
    assert found[:5] == (2, "17", "number-reused", found[3], "17")
    assert found[5] == "The number 17 is also that of another head in the book."
    assert loaded.counts()["held" if found[3] in ("error", "question") else "new"] == 1


def test_one_head_under_two_numbers_is_asked_about_and_not_merged(book: Path, tmp_path: Path) -> None:
    again = FIRST | {"entry_no": "A-3", "hunter": "T. Holtquarry"}
    loaded = load(book, file_of(tmp_path / "b.csv", [again]))
    assert loaded.counts() == {"rows": 1, "new": 0, "unchanged": 0, "revised": 0, "held": 1}
    assert query(book, "SELECT entry_no, status FROM current_entry ORDER BY entry_id") == [
        ("17", "accepted"),
        ("A-3", "held"),
    ]
    assert query(book, OPEN) == [
        (2, "A-3", "head-twice", "question", "A-3",
         "Every measure of this head is also that of entry 17 in the book; is it one head entered twice?"),
    ]  # fmt: skip


def test_a_row_that_stands_twice_in_a_file(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    loaded = load(book, file_of(tmp_path / "a.csv", [FIRST, OTHER | {"entry_no": "18"}, FIRST]))
    assert loaded.counts()["rows"] == 3
    found = query(book, OPEN)
    assert [(row, code) for row, _, code, *_ in found] == [(4, "row-twice")]
    assert query(book, "SELECT row, verdict FROM received_row ORDER BY row")[:2] == [(2, "new"), (3, "new")]


def test_rows_without_a_number_are_known_by_hunter_date_and_measures(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    unnumbered = [FIRST | {"entry_no": ""}, OTHER | {"entry_no": ""}]
    load(book, file_of(tmp_path / "a.csv", unnumbered))
    loaded = load(book, file_of(tmp_path / "b.csv", unnumbered[::-1]))
    assert loaded.counts()["unchanged"] == 2
    assert query(book, "SELECT count(*) FROM entry") == [(2,)]


def test_two_rows_never_claim_one_entry(book: Path, tmp_path: Path) -> None:
    alike = [FIRST | {"tag_no": "T-8"}, FIRST | {"tag_no": "T-9"}]
    load(book, file_of(tmp_path / "b.csv", alike))
    claimed = query(book, "SELECT entry_id, count(*) FROM received_row WHERE file_id = 2 GROUP BY 1 ORDER BY 1")
    assert claimed == [(1, 1), (2, 1)]
    assert query(book, "SELECT entry_id, revision_no, reason FROM entry_revision ORDER BY ALL") == [
        (1, 1, "first received"), (1, 2, "tag_no: T-4 -> T-8"), (2, 1, "first received"),
    ]  # fmt: skip


def test_two_files_of_one_run_never_claim_one_entry(book: Path, tmp_path: Path) -> None:
    b, c = (file_of(tmp_path / f"{tag}.csv", [FIRST | {"tag_no": tag}]) for tag in ("T-8", "T-9"))
    load(book, b, c)
    assert query(book, "SELECT file_id, entry_id FROM received_row ORDER BY file_id") == [(1, 1), (2, 1), (3, 2)]
