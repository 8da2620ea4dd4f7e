"""A correction is a new revision of the same row, with a name and a reason; the row as received stays as it was."""

import re
from pathlib import Path

import pytest

from loaders.corrections import Author, Target, accept_explanation, correct_cells
from tests.book_builder import file_of, heads, load, new_book, query
from tests.sheet_builder import TODAY, Row
from warehouse.errors import CorrectionRefused

UNA = Author("Una Reed", "the paper sheet says so")
STATES = "SELECT entry_id, revision_no, status, author, reason, stated_gross, net FROM entry_revision ORDER BY 1, 2"
CORRECTED = "SELECT revision_no, field, stated_text, corrected_text FROM corrected_cell JOIN entry_revision USING (revision_id) ORDER BY 1, 2"


def _rows() -> list[Row]:
    """Three heads; of the second the gross is written an inch and more too long, of the third G2 cannot be read."""
    first, second, third = heads(1, 3)
    return [first, second | {"gross": "148 7/8"}, third | {"g2_r": "??"}]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    made = new_book(tmp_path)
    load(made, file_of(tmp_path / "show.csv", _rows()))
    return made


def test_accepting_the_explanation_makes_an_accepted_revision(book: Path) -> None:
    received = query(book, "SELECT row_id, cells FROM received_row ORDER BY 1")
    done = accept_explanation(Target(book, 2, 1), 0, UNA, TODAY)
    assert (done.revision_no, done.is_held, done.findings.height) == (2, False, 0)
    assert query(book, STATES)[1:3] == [
        (2, 1, "held", "tester", "first received", 1191, 1103),
        (2, 2, "accepted", "Una Reed", "the paper sheet says so", 1166, 1103),
    ]
    assert query(book, CORRECTED) == [(2, "gross", "148 7/8", "145 6/8")]
    assert query(book, "SELECT row_id, cells FROM received_row ORDER BY 1") == received
    assert query(
        book, "SELECT count(*) FROM explanation JOIN current_entry USING (revision_id) WHERE entry_id = 2"
    ) == [(0,)]


def test_an_unread_cell_is_filled_with_what_the_others_make_it(book: Path) -> None:
    assert query(book, "SELECT net, score_certain FROM current_entry WHERE entry_id = 3") == [(None, True)]
    assert accept_explanation(Target(book, 3), 0, UNA, TODAY).is_held is False
    assert query(book, CORRECTED) == [(2, "g2_r", "??", "9 1/8")]
    assert query(book, "SELECT net FROM current_entry WHERE entry_id = 3") == [(1105,)]


def test_what_follows_from_a_wrong_step_is_put_right_with_it(tmp_path: Path) -> None:
    (row,) = heads(4, 4)
    inch = {name: f"{int(row[name].split()[0]) - 1} {row[name].split()[1]}" for name in ("left_total", "gross", "net")}
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [row | inch]))
    assert accept_explanation(Target(book, 1), 0, UNA, TODAY).is_held is False
    assert query(book, CORRECTED) == [(2, name, inch[name], row[name]) for name in ("gross", "left_total", "net")]


def test_cells_of_ones_own_choice_are_corrected_one_after_the_other(book: Path) -> None:
    held = correct_cells(Target(book, 3), {"g2_r": "9 2/8"}, UNA, TODAY)
    assert held.is_held is True
    assert held.findings["code"].to_list() == [
        "g2_diff",
        "right_total",
        "diff_total",
        "deductions",
        "gross",
    ]  # the shorter side did not move, so neither did the net
    assert correct_cells(Target(book, 3), {"g2_r": " 9 1/8 "}, UNA, TODAY).is_held is False
    assert query(book, CORRECTED) == [(2, "g2_r", "??", "9 2/8"), (3, "g2_r", "9 2/8", "9 1/8")]


def test_a_field_without_a_column_and_an_emptied_cell(book: Path, tmp_path: Path) -> None:
    bare = new_book(tmp_path, "bare.duckdb")
    rows = [{name: text for name, text in row.items() if name != "tag_no"} for row in heads(1, 1)]
    load(bare, file_of(tmp_path / "bare.csv", rows))
    correct_cells(Target(bare, 1), {"tag_no": "T-9", "district": ""}, UNA, TODAY)
    assert query(bare, CORRECTED) == [(2, "district", "North", ""), (2, "tag_no", None, "T-9")]
    assert query(bare, "SELECT tag_no FROM current_entry") == [("T-9",)]


def test_the_same_row_sent_again_does_not_undo_a_correction(book: Path, tmp_path: Path) -> None:
    accept_explanation(Target(book, 2), 0, UNA, TODAY)
    again = load(book, file_of(tmp_path / "again.csv", _rows()[::-1]))
    assert again.counts() == {"rows": 3, "new": 0, "unchanged": 3, "revised": 0, "held": 0}
    assert query(book, "SELECT revision_no, stated_gross FROM current_entry WHERE entry_id = 2") == [(2, 1166)]


def test_a_row_sent_with_other_content_is_a_new_state_without_the_old_corrections(book: Path, tmp_path: Path) -> None:
    accept_explanation(Target(book, 2), 0, UNA, TODAY)
    changed = [row | ({"tag_no": "T-77"} if row["entry_no"] == "2" else {}) for row in _rows()]
    assert load(book, file_of(tmp_path / "again.csv", changed)).counts()["held"] == 1
    assert query(book, "SELECT revision_no, stated_gross, reason FROM current_entry WHERE entry_id = 2") == [
        (3, 1191, "tag_no: T-4 -> T-77; corrected before and to be corrected again, if that still holds: gross")
    ]
    correct_cells(
        Target(book, 2), {"weapon": "bow"}, UNA, TODAY
    )  # starts from the new row, not from the old correction
    assert query(book, "SELECT stated_gross, weapon FROM current_entry WHERE entry_id = 2") == [(1191, "bow")]


def test_a_question_about_another_row_stays_open(tmp_path: Path) -> None:
    (row,) = heads(1, 1)
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [row, row | {"entry_no": "9", "hunter": "Another", "gross": "148 7/8"}]))
    before = query(book, "SELECT code FROM open_finding WHERE entry_id = 2 ORDER BY code")
    assert before == [("gross",), ("head-twice",)]
    assert accept_explanation(Target(book, 2), 0, UNA, TODAY).is_held is True
    assert query(book, "SELECT code FROM open_finding WHERE entry_id = 2 ORDER BY code") == [("head-twice",)]


def test_a_list_of_points_is_not_replaced_by_a_sum(tmp_path: Path) -> None:
    (row,) = heads(1, 1)
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [row | {"abnormal_r": "1 2/8; 7 1/8"}]))
    place = query(book, "SELECT place FROM explanation WHERE cells = ['abnormal_r']")[0][0]
    with pytest.raises(CorrectionRefused) as refused:
        accept_explanation(Target(book, 1), place, UNA, TODAY)
    assert str(refused.value) == (
        "abnormal_r '1 2/8; 7 1/8' lists several points, which together should be 3 3/8; which of them is wrong is not known: "
        "correct the list by hand, with `beamledger correct --cell abnormal_r=...`"
    )


@pytest.mark.parametrize(
    ("entry", "revision", "cells", "author", "message"),
    [
        (2, None, {"gross": "1"}, Author(" ", "x"), "a correction needs a name; nothing was changed"),
        (2, None, {"gross": "1"}, Author("Una", ""), "a correction needs a reason; nothing was changed"),
        (9, None, {"gross": "1"}, UNA, "entry 9: the book has no such entry; nothing was changed"),
        (2, None, {"gross": "148 7/8 "}, UNA, "nothing to correct: gross says '148 7/8' already"),
        (2, None, {}, UNA, "nothing to correct: no cell was named"),
        (2, None, {"groos": "1"}, UNA,
         "'groos' is no field of a sheet; expected a name such as g2_r, gross or taken_on (the README lists them)"),
        (2, 7, {"gross": "1"}, UNA,
         "entry 2: revision 1 was made since you looked at revision 7; nothing was changed, look at it again"),
    ],
)  # fmt: skip
def test_what_cannot_be_corrected_is_said_and_nothing_is_written(
    book: Path, entry: int, revision: int | None, cells: dict[str, str], author: Author, message: str
) -> None:
    with pytest.raises(CorrectionRefused, match=f"^{re.escape(message)}$"):
        correct_cells(Target(book, entry, revision), cells, author, TODAY)
    assert query(book, "SELECT count(*) FROM entry_revision") == [(3,)]


def test_an_explanation_that_is_not_there(book: Path) -> None:
    with pytest.raises(CorrectionRefused, match=r"^the sheet has no explanation 4; nothing was changed$"):
        accept_explanation(Target(book, 2), 3, UNA, TODAY)
