"""What is told about a file as a whole: its columns, its blank and title rows, its encoding, its merged cells."""

import io
from collections.abc import Callable, Sequence
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from loaders.fields import all_fields
from tests.sheet_builder import Finding, Row, as_csv, audit_bytes, audit_rows, brief, clean_sheet, findings_of


def _file(code: str, severity: str, message: str, *cells: str, row: int | None = None) -> Finding:
    return Finding(row, code, severity, cells, None, None, message)


def _found(folder: Path, data: bytes, name: str = "show.csv") -> list[Finding]:
    return findings_of(audit_bytes(folder, data, name))


def test_a_column_that_matches_no_field_is_told_once(tmp_path: Path) -> None:
    rows = [
        clean_sheet() | {"Landowner": "x"},
        clean_sheet(g1_r="4 3/8", hunter="Another", entry_no="3") | {"Landowner": "y"},
    ]
    (found,) = audit_rows(tmp_path, *rows)
    assert (found.row, found.code, found.severity, found.cells) == (
        None,
        "column-unmatched",
        "question",
        ("Landowner",),
    )
    message = "Column 'Landowner' matches no field; its cells are kept as received but not read: "
    assert found.message == message + "use --map 'Landowner'=FIELD"


def test_columns_that_the_file_does_not_have_are_told_once(tmp_path: Path) -> None:
    row = {field: text for field, text in clean_sheet().items() if field not in ("g6_r", "g6_l", "tag_no")}
    message = "The file has no column for: tag_no, g6_r, g6_l. Rules that need them were not tried."
    assert audit_rows(tmp_path, row) == [_file("column-missing", "note", message, "tag_no", "g6_r", "g6_l")]


def test_without_a_column_that_every_head_needs_no_sheet_is_scored(tmp_path: Path) -> None:
    row = {field: text for field, text in clean_sheet().items() if field not in ("beam_l", "h4_r")}
    message = "The file has no column for beam_l, h4_r: its sheets cannot be scored, and all are held."
    found = audit_rows(tmp_path, row)
    assert found[0] == _file("column-needed", "error", message, "beam_l", "h4_r")
    assert brief(found[1:]) == [("column-missing", "beam_l;h4_r")]


def test_two_columns_for_one_field_are_both_left_out(tmp_path: Path) -> None:
    message = "Columns 'net' and 'Final Score' both mean net; neither was used. Rename one, or say which with --map"
    found = audit_rows(tmp_path, clean_sheet() | {"net": "1", "Final Score": "2"})
    assert found == [_file("column-twice", "error", message, "net")]


def test_blank_rows_are_counted_and_row_numbers_kept(tmp_path: Path) -> None:
    head, sheet = as_csv([clean_sheet() | {"net": "1"}]).splitlines(keepends=True)
    blank = b"," * (len(all_fields()) - 1) + b"\r\n"
    found = _found(tmp_path, head + blank + blank + sheet)
    assert [(one.row, one.code, one.severity) for one in found] == [(None, "rows-blank", "note"), (4, "net", "error")]


def test_rows_above_the_headings_are_left_out(tmp_path: Path) -> None:
    head, sheet = as_csv([clean_sheet() | {"net": "1"}]).splitlines(keepends=True)
    rest = b"," * (len(all_fields()) - 1) + b"\r\n"
    found = _found(tmp_path, b"Club night" + rest + b"Page 1" + rest + head + sheet)
    message = "The headings do not stand first; rows 1, 2 above them were left out."
    assert found[0] == _file("title-rows", "note", message)
    assert [(one.row, one.code) for one in found[1:]] == [(4, "net")]


def test_a_guessed_encoding_is_asked_about(tmp_path: Path) -> None:
    data = as_csv([clean_sheet(hunter="René Dépôt")]).decode().encode("cp1252")
    (found,) = _found(tmp_path, data)
    assert (found.row, found.code, found.severity) == (None, "encoding-guessed", "question")


def test_more_cells_than_headings_is_an_error_of_the_row(tmp_path: Path) -> None:
    head, sheet = as_csv([clean_sheet()]).splitlines(keepends=True)
    (found,) = _found(tmp_path, head + sheet.rstrip() + b",surplus\r\n")
    assert (found.row, found.code, found.severity) == (2, "extra-cells", "error")


def _workbook(rows: Sequence[Row], change: Callable[[openpyxl.Workbook], None]) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    for cells in (list(rows[0]), *(list(row.values()) for row in rows)):
        sheet.append(cells)
    change(book)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_a_sheet_of_a_workbook_without_score_sheets_is_told_of(tmp_path: Path) -> None:
    def add_remarks(book: openpyxl.Workbook) -> None:
        book.create_sheet("Remarks").append(["Thanks to all", "who came"])

    (found,) = _found(tmp_path, _workbook([clean_sheet()], add_remarks), "show.xlsx")
    assert (found.row, found.code, found.severity) == (None, "sheet-unread", "question")
    assert found.message.startswith(
        f"Not read: {tmp_path / 'show.xlsx'}, sheet 'Remarks': no row of headings was found"
    )


def test_a_merged_cell_is_filled_and_noted(tmp_path: Path) -> None:
    rows = [clean_sheet(), clean_sheet(g1_r="4 3/8", hunter="Another", entry_no="3") | {"area": ""}]
    column = list(rows[0]).index("area") + 1

    def merge(book: openpyxl.Workbook) -> None:
        book.worksheets[0].merge_cells(start_row=2, start_column=column, end_row=3, end_column=column)

    (found,) = _found(tmp_path, _workbook(rows, merge), "show.xlsx")
    assert (found.row, found.code, found.severity) == (2, "merged-filled", "note")


@pytest.mark.parametrize("heading", ["R Main Beam", "main beam (right)", "Beam Rt."])
def test_senders_headings_go_through_the_whole_path(tmp_path: Path, heading: str) -> None:
    renamed = {heading if field == "beam_r" else field: text for field, text in clean_sheet().items()}
    assert audit_rows(tmp_path, renamed) == []
    assert brief(audit_rows(tmp_path, renamed | {heading: "junk"})) == [("unreadable", "beam_r")]
