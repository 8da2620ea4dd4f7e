"""The complaints that users of such loaders really made, by their number in the list of promises (section 2A)."""

import datetime as dt
import io
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.styles import Font
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.worksheet import Worksheet

from tests.loaders.readers.reader_files import cells, codes, one, xlsx


def _book(fill: Callable[[Worksheet], None], epoch_1904: bool = False) -> bytes:
    book = openpyxl.Workbook()
    if epoch_1904:
        book.epoch = CALENDAR_MAC_1904
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "S"
    fill(sheet)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_1_leading_zeros_stay_in_delimited_text(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b"area,n\n01001,1\n")) == [(1, "area", "n"), (2, "01001", "1")]


def test_2_zeros_that_only_the_format_shows(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["A1"] = 1001
        sheet["A1"].number_format = "00000"

    assert cells(one(tmp_path, _book(fill), "t.xlsx")) == [(1, "1001 [00000]")]


def test_3_ids_do_not_become_floats(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append([12345, 12345.0, 12345.5])

    assert cells(one(tmp_path, _book(fill), "t.xlsx")) == [(1, "12345", "12345", "12345.5")]


def test_4_words_that_others_take_for_missing(tmp_path: Path) -> None:
    words = ["Null", "NA", "None", "nan", "NULL", "N/A", "-", "#N/A", "null", "true"]
    text = ",".join(words)
    assert cells(one(tmp_path, f"{text}\n{text}\n".encode())) == [(1, *words), (2, *words)]


def test_5_a_blank_stays_null_and_a_zero_stays(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b'l,r\n,3 0/8\n"",0\n-, \n')) == [
        (1, "l", "r"),
        (2, None, "3 0/8"),
        (3, None, "0"),
        (4, "-", " "),
    ]


def test_6_a_formula_whose_value_is_zero(tmp_path: Path) -> None:
    data = xlsx('<row r="1"><c r="A1"><f>VLOOKUP(1,B1:C9,2)</f><v>0</v></c><c r="B1"><v>0</v></c></row>')
    assert cells(one(tmp_path, data, "t.xlsx")) == [(1, "0", "0")]


def test_7_workbooks_of_the_1904_system(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["A1"], sheet["B1"] = dt.date(2023, 12, 3), 43801

    in_1904 = cells(one(tmp_path, _book(fill, epoch_1904=True), "t.xlsx"))
    assert in_1904 == [(1, "2023-12-03 [yyyy-mm-dd]", "43801")]
    assert cells(one(tmp_path, _book(fill), "t.xlsx")) == in_1904


def test_8_merged_cells_are_filled_and_plain_blanks_are_not(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        for row in (["area", "n"], ["Ash", 1], [None, 2], [None, 3]):
            sheet.append(row)
        sheet.merge_cells("A2:A3")

    grid = one(tmp_path, _book(fill), "t.xlsx")
    assert cells(grid) == [(1, "area", "n"), (2, "Ash", "1"), (3, "Ash", "2"), (4, None, "3")]
    assert grid.merged == ((2, 0, 3, 0),)
    assert [notice.message for notice in grid.notices] == [
        "t.xlsx, sheet 'S': 1 merged range (A2:A3); the value was filled into every cell of the range."
    ]
    assert codes(grid) == [("merged-filled", "note")]


def test_9_blanks_around_a_cell_are_kept(tmp_path: Path) -> None:
    assert cells(one(tmp_path, 'Right\u00a0G1, b\n"Ash ",\u3000x\n'.encode())) == [
        (1, "Right\u00a0G1", " b"),
        (2, "Ash ", "\u3000x"),
    ]


@pytest.mark.parametrize("start", ["\ufeff", "\u200b", "\ufeff\u200b", "\ufeff\ufeff", "\u2060\u200d"])
@pytest.mark.parametrize("heading", ["fips", '"fips"'])
def test_10_invisible_signs_before_the_first_heading(tmp_path: Path, start: str, heading: str) -> None:
    data = f"{start}{heading},n\n\u200b1,2\n".encode()
    assert cells(one(tmp_path, data)) == [(1, "fips", "n"), (2, "\u200b1", "2")]


def test_10_invisible_signs_inside_quotes_and_in_workbooks(tmp_path: Path) -> None:
    assert cells(one(tmp_path, '"\ufefffips",n\n'.encode())) == [(1, "fips", "n")]
    data = xlsx('<row r="1"><c r="A1" t="inlineStr"><is><t>\ufefffips</t></is></c></row>')
    assert cells(one(tmp_path, data, "t.xlsx")) == [(1, "fips")]


def test_12_a_date_made_of_a_fraction_says_that_it_is_a_date(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["A1"] = dt.date(2026, 5, 8)
        sheet["A1"].number_format = "d-mmm"

    assert cells(one(tmp_path, _book(fill), "t.xlsx")) == [(1, "2026-05-08 [d-mmm]")]


def test_14_decimal_commas_choose_the_semicolon(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b"beam;note\n21,5;x\n1 021.5;y\n")) == [
        (1, "beam", "note"),
        (2, "21,5", "x"),
        (3, "1 021.5", "y"),
    ]


def test_15_late_text_in_an_empty_column(tmp_path: Path) -> None:
    grid = one(tmp_path, b"n,note\n" + b"1,\n" * 2000 + b"2,see note\n")
    assert grid.rows.height == 2002
    assert grid.rows["c1"].null_count() == 2000
    assert cells(grid)[-1] == (2002, "2", "see note")


def test_16_styled_blanks_and_row_numbers(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["A1"], sheet["A2"], sheet["A4"] = "h", 1, 2
        sheet["A5000"].font = Font(bold=True)

    grid = one(tmp_path, _book(fill), "t.xlsx")
    assert cells(grid) == [(1, "h"), (2, "1"), (4, "2")]
    assert [notice.message for notice in grid.notices] == [
        "t.xlsx, sheet 'S': 4997 blank rows (3, 5, 6, 7, 8, ...) were left out; row numbers stay the file's own."
    ]


def test_18_spreadsheet_unicode_text(tmp_path: Path) -> None:
    data = b"\xff\xfe" + "area\tn\r\nCañon\t1\r\n".encode("utf-16-le")
    grid = one(tmp_path, data, "t.txt")
    assert (cells(grid), grid.notices) == ([(1, "area", "n"), (2, "Cañon", "1")], ())


@pytest.mark.parametrize("codec", ["utf-16-le", "utf-16-be"])
def test_18_without_a_mark_the_guess_is_named(tmp_path: Path, codec: str) -> None:
    grid = one(tmp_path, "area\tn\r\nCañon\t1\r\n".encode(codec))
    assert cells(grid) == [(1, "area", "n"), (2, "Cañon", "1")]
    assert codes(grid) == [("encoding-guessed", "question")]
    assert grid.notices[0].message == (
        f"t.csv has no byte-order mark; every second byte is zero, so it was read as {codec.upper()}, and its first "
        "line then begins 'area\\x09n'. Check names and quotation marks, or save the file as UTF-8 and load it again."
    )


def test_18_curly_quotes_of_an_old_code_page(tmp_path: Path) -> None:
    grid = one(tmp_path, b"area,note\nCa\xf1on,\x93wide\x94\n")
    assert cells(grid) == [(1, "area", "note"), (2, "Cañon", "“wide”")]
    assert codes(grid) == [("encoding-guessed", "question")]
    assert grid.notices[0].message == (
        "t.csv is not UTF-8: byte 0xF1 at offset 12, line 2; the file was read as Windows-1252 (cp1252), which gives "
        "'Cañon,“wide”' there (MacRoman (mac_roman) would give 'CaÒon,ìwideî'). Check names and quotation marks, or "
        "save the file as UTF-8 and load it again."
    )
