"""The same row, head or number twice, in one file and across the files of one run."""

from pathlib import Path

from loaders.check import Settings, check_files
from tests.sheet_builder import NAMES, TODAY, Finding, as_csv, audit_rows, brief, clean_sheet, findings_of

FIRST = clean_sheet()
OTHER = clean_sheet(g1_r="4 3/8")


def _row(folder: Path, row: int = 2, name: str = "show.csv") -> str:
    return f"row {row} of {name}"


def _found(code: str, severity: str, number: str, message: str, row: int = 3) -> Finding:
    return Finding(row, code, severity, ("entry_no",), number, None, message)


def test_the_same_row_twice(tmp_path: Path) -> None:
    message = f"This row has come before: {_row(tmp_path)}."
    assert audit_rows(tmp_path, FIRST, FIRST) == [_found("row-twice", "question", "17", message)]


def test_every_later_row_names_the_first(tmp_path: Path) -> None:
    found = audit_rows(tmp_path, FIRST, OTHER | {"entry_no": "18"}, FIRST, FIRST)
    assert [(one.row, one.code) for one in found] == [(4, "row-twice"), (5, "row-twice")]
    assert {one.message for one in found} == {f"This row has come before: {_row(tmp_path)}."}


def test_the_same_head_measured_differently(tmp_path: Path) -> None:
    message = f"The same number, hunter and date stand at {_row(tmp_path)}; which of the two counts?"
    assert audit_rows(tmp_path, FIRST, OTHER) == [_found("entry-twice", "question", "17", message)]


def test_the_same_measures_under_another_number(tmp_path: Path) -> None:
    message = f"Every measure of this head is also that of {_row(tmp_path)}; is it one head entered twice?"
    twin = FIRST | {"entry_no": "18", "hunter": "Another"}
    assert audit_rows(tmp_path, FIRST, twin) == [_found("head-twice", "question", "18", message)]


def test_the_same_number_for_another_head(tmp_path: Path) -> None:
    message = f"The number 17 is also that of another head, {_row(tmp_path)}."
    again = OTHER | {"hunter": "Another"}
    assert audit_rows(tmp_path, FIRST, again) == [_found("number-reused", "note", "17", message)]


def test_heads_across_files_of_one_run(tmp_path: Path) -> None:
    paths = [tmp_path / "a.csv", tmp_path / "b.csv"]
    paths[0].write_bytes(as_csv([FIRST]))
    paths[1].write_bytes(as_csv([OTHER | {"entry_no": "3"}, FIRST | {"entry_no": "4", "hunter": "Another"}]))
    (found,) = findings_of(check_files(paths, Settings(TODAY, NAMES)))
    where = _row(tmp_path, name="a.csv")
    assert (found.row, found.code) == (3, "head-twice")
    assert found.message == f"Every measure of this head is also that of {where}; is it one head entered twice?"


def test_a_file_received_twice_is_audited_once(tmp_path: Path) -> None:
    """The book's load makes a `file-twice` note of this."""
    paths = [tmp_path / "a.csv", tmp_path / "renamed.csv"]
    for path in paths:
        path.write_bytes(as_csv([FIRST]))
    checked = check_files(paths, Settings(TODAY, NAMES))
    (repeat,) = checked.repeats
    assert (repeat.file, repeat.before, repeat.rows) == (str(paths[1]), f"in this run as {paths[0]}", 1)
    assert (len(checked.tables), findings_of(checked)) == (1, [])


def test_heads_that_are_not_known_are_not_compared(tmp_path: Path) -> None:
    unknown = FIRST | {"g1_r": "junk"}
    found = brief(audit_rows(tmp_path, unknown, unknown | {"entry_no": "18", "hunter": "Another"}))
    assert found == [("unreadable", "g1_r"), ("unreadable", "g1_r")]


def test_one_eighth_apart_is_another_head(tmp_path: Path) -> None:
    assert audit_rows(tmp_path, FIRST, OTHER | {"entry_no": "18", "hunter": "Another"}) == []


def test_recorded_spreads_do_not_tell_heads_apart(tmp_path: Path) -> None:
    twin = FIRST | {"entry_no": "18", "hunter": "Another", "tip_to_tip": "13 0/8"}
    assert brief(audit_rows(tmp_path, FIRST, twin)) == [("head-twice", "entry_no")]
