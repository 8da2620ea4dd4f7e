"""Which row is which entry, and what is held: cases that would lose a head, or let one in unseen."""

from pathlib import Path

import pytest

from loaders.names import make_names
from loaders.notation import read_text
from loaders.notation.spellings import UNREADABLE
from tests.book_builder import file_of, heads, load, new_book, query
from tests.sheet_builder import clean_sheet
from warehouse.errors import MappingRefused

CURRENT = "SELECT entry_no, taken_on::VARCHAR, status FROM current_entry ORDER BY entry_id"


def test_a_club_that_numbers_anew_does_not_replace_last_years_head(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    (old,) = heads(1, 1)
    new = clean_sheet(entry_no="1", hunter=old["hunter"], taken_on="2025-11-09", measured_on="2026-02-01", season="")
    load(book, file_of(tmp_path / "a.csv", [old]))
    again = load(book, file_of(tmp_path / "b.csv", [new | {"g3_r": "8 0/8"}]))
    assert again.counts()["revised"] == 0
    assert [(number, day) for number, day, _ in query(book, CURRENT)] == [("1", old["taken_on"]), ("1", "2025-11-09")]


def test_a_date_put_right_is_a_revision_for_every_measure_is_the_same(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    (old,) = heads(1, 1)
    load(book, file_of(tmp_path / "a.csv", [old]))
    again = load(book, file_of(tmp_path / "b.csv", [old | {"taken_on": "2024-11-20", "season": ""}]))
    assert (again.counts()["new"], len(query(book, CURRENT))) == (0, 1)


def test_the_same_file_with_a_column_named_is_read_again(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    rows = [{("Zorp" if name == "beam_r" else name): text for name, text in row.items()} for row in heads(1, 2)]
    path = file_of(tmp_path / "a.csv", rows)
    assert load(book, path).counts()["held"] == 2
    assert load(book, path).counts()["unchanged"] == 2
    assert load(book, path, mapping={"Zorp": "beam_r"}).counts()["revised"] == 2
    assert {status for *_, status in query(book, CURRENT)} == {"accepted"}


def test_an_error_of_the_whole_file_holds_every_row(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    rows = [row | {"Date Taken": row["taken_on"]} for row in heads(1, 2)]
    loaded = load(book, file_of(tmp_path / "a.csv", rows))
    assert loaded.counts() == {"rows": 2, "new": 0, "unchanged": 0, "revised": 0, "held": 2}


def test_a_file_without_a_category_is_an_error_of_the_file(tmp_path: Path) -> None:
    rows = [{name: text for name, text in row.items() if name != "category"} for row in heads(1, 1)]
    loaded = load(new_book(tmp_path), file_of(tmp_path / "a.csv", rows))
    codes = loaded.tables[0].audited.findings.filter(severity="error")["code"].to_list()
    assert (codes, loaded.counts()["held"]) == (["column-needed"], 1)


def test_an_empty_mapping_is_not_saved_over_another(tmp_path: Path) -> None:
    with pytest.raises(MappingRefused, match=r"^--save-mapping 'club': nothing to save; give headings with --map$"):
        load(new_book(tmp_path), file_of(tmp_path / "a.csv", heads(1, 1)), save_mapping="club")


def test_the_same_row_in_two_files_of_one_run_has_come_before(tmp_path: Path) -> None:
    first, second = file_of(tmp_path / "a.csv", heads(1, 2)), file_of(tmp_path / "b.csv", heads(1, 3))
    loaded = load(new_book(tmp_path), first, second)
    assert loaded.tables[1].audited.findings["code"].to_list() == ["row-twice", "row-twice"]
    assert loaded.counts() == {"rows": 5, "new": 3, "unchanged": 0, "revised": 0, "held": 2}


@pytest.mark.parametrize("text", ["21 7/8 [broken off]", "21 7/8 [sic]", "4 [est.]"])
def test_a_remark_in_brackets_is_not_thrown_away(text: str) -> None:
    assert read_text(text).state == UNREADABLE


def test_a_name_without_letters_we_know_finds_nobody() -> None:
    names = make_names(areas=[("07001", "Ж", "QM", "")], measurers=[("M-03", "Иван Петров")])
    assert [names.measurers.get(""), names.find_area("??", None).area] == [None, None]


def test_a_name_that_two_measurers_share_stands_for_neither() -> None:
    names = make_names(measurers=[("M-1", "Ann Ash"), ("M-2", "Ann Ash"), ("M-3", "Bo Elm")])
    assert names.measurers == {"M1": "M-1", "M2": "M-2", "M3": "M-3", "BOELM": "M-3"}


def test_a_code_of_another_state_is_not_taken() -> None:
    names = make_names(areas=[("07001", "Abberlow", "QM", "")])
    assert names.find_area("07001", "ZZ").area is None
    assert names.find_area("07001", "QM").area is not None
