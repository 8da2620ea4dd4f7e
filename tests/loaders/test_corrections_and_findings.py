"""What a correction must not answer by itself: findings that rest on more than the row's own cells."""

from pathlib import Path

import pytest

from loaders.corrections import Author, Corrected, Target, correct_cells
from tests.book_builder import file_of, heads, load, new_book, query
from tests.sheet_builder import MEASURES, TODAY, Row, as_csv, clean_sheet
from warehouse.errors import CorrectionRefused

UNA = Author("Una Reed", "the paper sheet says so")
ASKED = "SELECT entry_id, code FROM open_finding WHERE severity <> 'note' AND entry_id IS NOT NULL ORDER BY 1, 2"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return new_book(tmp_path)


def correct(book: Path, entry: int, **cells: str) -> Corrected:
    return correct_cells(Target(book, entry), cells, UNA, TODAY)


def other_cells(row: Row, **changes: str) -> Row:
    """The cells in which the clean sheet with these changes differs from `row`."""
    return {field: text for field, text in clean_sheet(**changes).items() if text != row[field]} | changes


def test_a_row_with_more_cells_than_headings_stays_held(book: Path, tmp_path: Path) -> None:
    heading, row, more = as_csv([clean_sheet(), heads(2, 2)[0]]).decode().splitlines()
    (tmp_path / "a.csv").write_text(f"{heading}\n{row},beyond\n{more}\n")
    load(book, tmp_path / "a.csv")
    assert query(book, ASKED) == [(1, "extra-cells")]
    assert correct(book, 1, hunter="Una Vale").is_held
    assert query(book, ASKED) == [(1, "extra-cells")]
    assert query(book, "SELECT hunter, status FROM current_entry WHERE entry_id = 1") == [("Una Vale", "held")]


def test_an_error_of_the_whole_file_holds_the_row_until_its_cell_is_corrected(book: Path, tmp_path: Path) -> None:
    heading, row = as_csv([clean_sheet()]).decode().splitlines()
    (tmp_path / "a.csv").write_text(f"{heading},Net\n{row},142 1/8\n")
    load(book, tmp_path / "a.csv")
    assert query(book, "SELECT code, cells FROM finding WHERE severity = 'error'") == [("column-twice", ["net"])]
    assert correct(book, 1, hunter="Una Vale").is_held
    assert not correct(book, 1, net="142 1/8").is_held
    assert query(book, "SELECT count(*) FROM finding WHERE code = 'column-twice'") == [(1,)]  # told once, of the file


@pytest.mark.parametrize(
    ("change", "code"),
    [({"entry_no": "18", "hunter": "Una Vale"}, "head-twice"), ({}, "row-twice"), ({"g3_r": "8 1/8"}, "entry-twice")],
)
def test_what_other_rows_ask_stays_open(book: Path, tmp_path: Path, change: dict[str, str], code: str) -> None:
    load(book, file_of(tmp_path / "a.csv", [clean_sheet(), clean_sheet(**change)]))
    assert query(book, ASKED) == [(2, code)]
    assert correct(book, 2, tag_no="T-9").is_held
    assert query(book, ASKED) == [(2, code)]
    assert query(book, "SELECT count(*) FROM finding WHERE code = ?".replace("?", f"'{code}'")) == [(2,)]


def test_a_question_whose_cells_were_corrected_is_answered(book: Path, tmp_path: Path) -> None:
    row = clean_sheet(entry_no="18", hunter="Una Vale")
    again = clean_sheet(g3_r="8 1/8")
    load(book, file_of(tmp_path / "a.csv", [clean_sheet(), row, again]))
    assert query(book, ASKED) == [(2, "head-twice"), (3, "entry-twice")]
    assert not correct(book, 2, **other_cells(row, beam_l="21 0/8", entry_no="18", hunter="Una Vale")).is_held
    assert not correct(book, 3, taken_on="2025-11-09").is_held
    assert query(book, ASKED) == []


def test_a_sheet_corrected_to_the_measures_of_another_head_is_asked_about(book: Path, tmp_path: Path) -> None:
    first, second = heads(1, 2)
    load(book, file_of(tmp_path / "a.csv", [first, second]))
    cells = {field: text for field, text in first.items() if field not in ("entry_no", "hunter", *MEASURES)}
    measures = {field: first[field] for field in MEASURES if first[field] != second[field]}
    assert correct(book, 2, **measures, **{f: t for f, t in cells.items() if t != second[f]}).is_held
    assert query(book, "SELECT entry_id, message FROM open_finding WHERE code = 'head-twice'") == [
        (2, "Every measure of this head is also that of entry 1 in the book; is it one head entered twice?")
    ]
    assert not correct(book, 1, tag_no="T-9").is_held  # its own measures did not change: it is asked about once


def test_cells_are_read_in_the_habit_of_the_writer_as_they_were_when_loaded(book: Path, tmp_path: Path) -> None:
    """Eleven sheets tell by their figures that 17.4 is 17 4/8; the twelfth states none, and is corrected elsewhere."""
    rows = [written_with_points(row) for row in heads(1, 12)]
    bare = {
        field: ""
        for field in rows[2]
        if field.endswith(("_diff", "_total")) or field in ("gross", "net", "deductions", "spread_credit")
    }
    rows[2] |= bare | {"weapon": "gun"}
    load(book, file_of(tmp_path / "a.csv", rows))
    net = query(book, "SELECT net FROM current_entry WHERE entry_id = 3")
    assert net == [(1105,)]
    assert query(book, ASKED) == [(3, "weapon-unclear")]
    assert not correct(book, 3, weapon="rifle").is_held
    assert query(book, "SELECT net FROM current_entry WHERE entry_id = 3") == net
    assert query(book, ASKED) == []
    assert query(book, "SELECT count(*) FROM received_row") == [(12,)]


def written_with_points(row: Row) -> Row:
    """The row with 17 4/8 written as 17.4, as some do who count eighths."""
    lengths = {field for field in row if field in MEASURES or field.endswith(("_diff", "_total"))}
    lengths |= {"gross", "net", "deductions", "spread_credit"}
    return {field: _with_point(text) if field in lengths and ";" not in text else text for field, text in row.items()}


def _with_point(text: str) -> str:
    whole, _, eighths = text.rpartition(" ")
    return f"{whole or 0}.{eighths.removesuffix('/8')}" if "/" in text else text


def test_a_number_can_be_corrected_and_not_taken_away(book: Path, tmp_path: Path) -> None:
    load(book, file_of(tmp_path / "a.csv", [clean_sheet() | {"entry_no": "17.5"}]))
    assert query(book, ASKED) == [(1, "number-not-whole")]
    assert not correct(book, 1, entry_no="175").is_held
    assert query(book, "SELECT entry_no FROM current_entry") == [("175",)]
    assert not correct(book, 1, tag_no="T-9").is_held
    assert query(book, "SELECT entry_no FROM current_entry") == [("175",)]
    with pytest.raises(CorrectionRefused) as refused:
        correct(book, 1, entry_no=" ")
    assert str(refused.value) == "entry_no: a number can be corrected, but not taken away; nothing was changed"


@pytest.mark.parametrize(("by", "cells"), [("x\udcff", {"hunter": "Una"}), ("Una", {"hunter": "x\udcff"})])
def test_bytes_that_are_no_letters_are_refused(book: Path, tmp_path: Path, by: str, cells: dict[str, str]) -> None:
    load(book, file_of(tmp_path / "a.csv", [clean_sheet()]))
    with pytest.raises(CorrectionRefused) as refused:
        correct_cells(Target(book, 1), cells, Author(by, "read again"), TODAY)
    what = "the name" if by != "Una" else "hunter"
    assert str(refused.value) == (
        f"{what} 'x\\udcff' holds bytes that are no letters (UTF-8 is expected); nothing was changed"
    )
    assert query(book, "SELECT count(*) FROM entry_revision") == [(1,)]
