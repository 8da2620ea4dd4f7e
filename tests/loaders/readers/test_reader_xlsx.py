"""XLSX: the text of every kind of cell, and the two ways a row is read against each other."""

import datetime as dt
import io
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from openpyxl.worksheet.worksheet import Worksheet

from loaders.readers.cell_text import number_text, stored_number_text
from loaders.readers.number_formats import classify
from loaders.readers.sheet_rows import column_letters, column_number
from loaders.readers.xlsx_parts import unescaped
from tests.loaders.readers.reader_files import archive, cells, grids, one, xlsx, xlsx_members
from warehouse.errors import FileRefused


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        ("General", "plain"),
        ("0.00", "plain"),
        ("#,##0.00;[Red]-#,##0.00", "plain"),
        ("0%", "plain"),
        ("0.00E+00", "plain"),
        ('0" inches"', "plain"),
        ("@", "plain"),
        ('_-* #,##0.00\\ "d/m"_-', "plain"),
        ("# ?/8", "fraction"),
        ("# ??/16", "fraction"),
        ("?/?", "fraction"),
        ("00000", "zeros"),
        ("000-00", "zeros"),
        ('"No "0000', "zeros"),
        ("d-mmm", "date"),
        ("[$-409]d\\-mmm\\-yy;@", "date"),
        ("m/d/yy h:mm", "date"),
        ("mmm", "date"),
        ("h:mm AM/PM", "time"),
        ("mm:ss.0", "time"),
        ("[h]:mm:ss", "duration"),
    ],
)
def test_number_formats(code: str, kind: str) -> None:
    assert (classify(code).kind, classify(code).code) == (kind, code)


@pytest.mark.parametrize(
    ("stored", "code", "from_1904", "text"),
    [
        ("17", "General", False, "17"),
        ("17.0", "0.0", False, "17"),
        ("8.5", "0.0", False, "8.5"),
        ("8.5999999999999996", "General", False, "8.6"),
        ("-0", "General", False, "0"),
        ("1E+16", "General", False, "10000000000000000"),
        ("1e300", "General", False, "1e+300"),
        ("22.625", "# ?/8", False, "22.625 [# ?/8]"),
        ("17", "# ?/8", False, "17 [# ?/8]"),
        ("1001", "00000", False, "1001 [00000]"),
        ("46089", "d-mmm", False, "2026-03-08 [d-mmm]"),
        ("46089.604166666664", "d-mmm", False, "2026-03-08T14:30:00 [d-mmm]"),
        ("46089.00000578704", "d-mmm", False, "2026-03-08T00:00:00.500 [d-mmm]"),
        ("43801", "d-mmm", True, "2023-12-03 [d-mmm]"),
        ("45263", "d-mmm", False, "2023-12-03 [d-mmm]"),
        ("0", "d-mmm", True, "1904-01-01 [d-mmm]"),
        ("1", "d-mmm", False, "1900-01-01 [d-mmm]"),
        ("59", "d-mmm", False, "1900-02-28 [d-mmm]"),
        ("60", "d-mmm", False, "60 [d-mmm]"),
        ("61", "d-mmm", False, "1900-03-01 [d-mmm]"),
        ("0", "d-mmm", False, "0 [d-mmm]"),
        ("-5", "d-mmm", False, "-5 [d-mmm]"),
        ("2958465", "d-mmm", False, "9999-12-31 [d-mmm]"),
        ("2958466", "d-mmm", False, "2958466 [d-mmm]"),
        ("1e12", "d-mmm", False, "1000000000000 [d-mmm]"),
        ("0.3784722222222222", "h:mm", False, "09:05:00 [h:mm]"),
        ("1.5", "[h]:mm", False, "1.5 [[h]:mm]"),
        ("nan", "d-mmm", False, "nan"),
        ("5x", "General", False, "5x"),
    ],
)
def test_stored_numbers(stored: str, code: str, from_1904: bool, text: str) -> None:
    assert stored_number_text(stored, classify(code), from_1904) == text


def test_shortest_number_text() -> None:
    assert [number_text(value) for value in (0.1, 1 / 3, 17.0, float("inf"), 2.0**60)] == [
        "0.1",
        "0.3333333333333333",
        "17",
        "inf",
        "1152921504606846976",
    ]


def test_column_names() -> None:
    assert [column_letters(number) for number in (0, 25, 26, 701, 702, 16383)] == [
        "A",
        "Z",
        "AA",
        "ZZ",
        "AAA",
        "XFD",
    ]
    assert [column_number(letters) for letters in ("A", "Z", "AA", "ZZ", "AAA", "XFD")] == [
        0,
        25,
        26,
        701,
        702,
        16383,
    ]
    with pytest.raises(ValueError, match=r"^no column: a$"):
        column_number("a")


def test_escaped_characters() -> None:
    assert unescaped("a_x000D_b_x005F_x0041__x0000__xD800_") == "a\rb_x0041__x0000__xD800_"


_STYLES = (
    '<numFmts><numFmt numFmtId="164" formatCode="# ?/8"/></numFmts>'
    '<cellStyleXfs><xf numFmtId="14"/></cellStyleXfs>'
    '<cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="16"/></cellXfs>'
)
_TEXTS = "<si><t>plain</t></si><si><r><t>bo</t></r><r><t xml:space='preserve'>ld </t></r><rPh><t>x</t></rPh></si><si/>"
_ROW = (
    '<c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c>'
    '<c r="D1" s="1"><v>22.625</v></c><c r="E1" s="2"><v>46089</v></c><c r="F1" t="b"><v>1</v></c>'
    '<c r="H1" t="inlineStr"><is><t xml:space="preserve"> in </t></is></c><c r="I1" t="n"><v>17.0</v></c><c r="J1" s="1"/>'
)
_EXPECTED = (1, "plain", "bold ", None, "22.625 [# ?/8]", "2026-03-08 [d-mmm]", "TRUE", None, " in ", "17")


@pytest.mark.parametrize(
    "row",
    [
        f'<row r="1" spans="1:9">{_ROW}</row>',  # as programs write it: cut without the parser
        f'<row r="1">\n{_ROW}</row>',
        f'<!-- by hand --><row r="1">{_ROW}</row>',
        f"<row>{_ROW}</row>",
        f'<row r="1">{_ROW.replace("<v>22.625</v>", "<v>22.&#54;25</v>")}</row>',
    ],
)
def test_plain_rows_and_parsed_rows_agree(tmp_path: Path, row: str) -> None:
    assert cells(one(tmp_path, xlsx(row, styles=_STYLES, texts=_TEXTS), "t.xlsx")) == [_EXPECTED]


def test_plain_and_parsed_rows_keep_their_order(tmp_path: Path) -> None:
    plain = '<row r="{0}"><c r="A{0}"><v>{0}</v></c></row>'
    parsed = '<row r="{0}"><c r="A{0}"><f>A1+{0}</f><v>{0}</v></c></row>'
    rows = "".join((plain if row % 3 else parsed).format(row) for row in range(1, 30_000))
    grid = one(tmp_path, xlsx(rows), "t.xlsx")
    assert grid.rows["row"].to_list() == list(range(1, 30_000))
    assert grid.rows["c0"].to_list() == [str(row) for row in range(1, 30_000)]


def test_runs_of_blank_rows_keep_the_numbers(tmp_path: Path) -> None:
    sheet = (
        '<row r="1" s="1"/><row r="2"><c r="A2"/><c r="B2" s="1"/></row><row r="3"/><row r="4" s="1"><c r="A4"><v>4</v></c>'
        '</row><row r="5"></row><row r="7"><c r="B7"><v>7</v></c></row><row r="8"/><row r="9"><c r="A9"/></row>'
    )
    grid = one(tmp_path, xlsx(sheet, styles=_STYLES), "t.xlsx")
    assert cells(grid) == [(4, "4", None), (7, None, "7")]
    assert grid.notices[0].message == (
        "t.xlsx, sheet 'S': 7 blank rows (1, 2, 3, 5, 6, ...) were left out; row numbers stay the file's own."
    )


def test_other_encodings_are_left_to_the_parser(tmp_path: Path) -> None:
    sheet = '<?xml version="1.0" encoding="UTF-16"?><worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is>'
    members = xlsx_members("")
    members["xl/worksheets/sheet1.xml"] = (sheet + "<t>Cañon</t></is></c></row></sheetData></worksheet>").encode(
        "utf-16"
    )
    assert cells(one(tmp_path, archive(members), "t.xlsx")) == [(1, "Cañon")]


def test_formulas(tmp_path: Path) -> None:
    row = (
        '<row r="3"><c r="A3"><f>B3+B4</f></c><c r="B3"><f>B4</f><v></v></c><c r="C3"><f>1-1</f><v>0</v></c>'
        '<c r="D3" t="str"><f>"a"</f><v>a</v></c><c r="E3" t="str"><f>""</f><v></v></c>'
        '<c r="F3" t="e"><f>1/0</f><v>#DIV/0!</v></c><c r="G3" t="b"><f>TRUE()</f><v>0</v></c></row>'
        '<row r="4"><c r="A4"><f t="shared" ref="A4:A5" si="0">B4*2</f><v>4</v></c></row>'
        '<row r="5"><c r="A5"><f t="shared" si="0"/></c></row>'
    )
    assert cells(one(tmp_path, xlsx(row), "t.xlsx")) == [
        (3, "=B3+B4 [no stored value]", "=B4 [no stored value]", "0", "a", None, "#DIV/0!", "FALSE"),
        (4, "4", None, None, None, None, None, None),
        (5, "=B5*2 [no stored value]", None, None, None, None, None, None),
    ]


def test_errors_and_iso_dates(tmp_path: Path) -> None:
    row = (
        '<row r="1"><c r="A1" t="e"><v>#N/A</v></c><c r="B1" t="d" s="2"><v>2026-03-08T00:00:00</v></c>'
        '<c r="C1" t="d"><v>2026-03-08T14:30:00</v></c></row>'
    )
    assert cells(one(tmp_path, xlsx(row, styles=_STYLES), "t.xlsx")) == [
        (1, "#N/A", "2026-03-08 [d-mmm]", "2026-03-08T14:30:00 [General]")
    ]


def test_a_workbook_written_by_openpyxl(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Sheet A"
    sheet.append(["h", 17, 8.5, 22.625, True, "=B1+C1", "  sp  ", dt.datetime(2026, 3, 8, 14, 30), dt.time(9, 5)])
    sheet["D1"].number_format = "# ?/8"
    sheet["A3"] = "NA"
    sheet.row_dimensions[3].hidden = True
    book.create_sheet("blank")
    hidden = book.create_sheet("hidden")
    hidden.sheet_state = "hidden"
    hidden["B2"] = "é “q” ½"
    out = io.BytesIO()
    book.save(out)
    first, second = grids(tmp_path, out.getvalue(), "t.xlsx")
    assert (first.sheet, second.sheet) == ("Sheet A", "hidden")
    assert cells(first) == [
        (
            1,
            "h",
            "17",
            "8.5",
            "22.625 [# ?/8]",
            "TRUE",
            "=B1+C1 [no stored value]",
            "  sp  ",
            "2026-03-08T14:30:00 [yyyy-mm-dd h:mm:ss]",
            "09:05:00 [h:mm:ss]",
        ),
        (3, "NA", *[None] * 8),
    ]
    assert cells(second) == [(2, None, "é “q” ½")]
    assert first.sha256 == second.sha256


def test_a_workbook_written_by_xlsxwriter(tmp_path: Path) -> None:
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "date_1904": True})
    sheet = book.add_worksheet("W")
    sheet.write_string(0, 0, "a & b <c>")
    sheet.write_number(0, 1, 16.0)
    sheet.write_datetime(0, 2, dt.datetime(2026, 5, 8), book.add_format({"num_format": "d/m"}))
    sheet.write_formula(0, 3, "=1/0", None, "#DIV/0!")
    sheet.write_rich_string(0, 4, book.add_format({"bold": True}), "bo", "ld")
    sheet.write_string(0, 5, "_x000D_")
    sheet.merge_range(1, 0, 2, 1, "Ash")
    book.close()
    grid = one(tmp_path, out.getvalue(), "t.xlsx")
    assert cells(grid) == [
        (1, "a & b <c>", "16", "2026-05-08 [d/m]", "#DIV/0!", "bold", "_x000D_"),
        (2, "Ash", "Ash", None, None, None, None),
        (3, "Ash", "Ash", None, None, None, None),
    ]
    assert grid.merged == ((2, 0, 3, 1),)


def test_a_value_hidden_under_a_merge_is_kept(tmp_path: Path) -> None:
    data = xlsx(
        '<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>2</v></c></row>',
        merges='<mergeCells><mergeCell ref="A1:C2"/><mergeCell ref="D1:E1"/></mergeCells>',
    )
    grid = one(tmp_path, data, "t.xlsx")
    assert cells(grid) == [(1, "1", "2", "1"), (2, "1", "1", "1")]
    assert grid.merged == ((1, 0, 2, 2), (1, 3, 1, 4))
    assert [notice.message for notice in grid.notices] == [
        "t.xlsx, sheet 'S': 1 merged range (A1:C2); the value was filled into every cell of the range."
    ]


@pytest.mark.parametrize(
    ("sheet", "what"),
    [
        ('<row r="2"><c r="A2"><v>1</v></c></row><row r="1"><c r="A1"/></row>', "row 1 stands behind row 2"),
        ('<row r="1"><c r="A1" t="s"><v>7</v></c></row>', "a cell refers to text 7 of 3"),
        ('<row r="1"><c r="A1" s="9"><v>7</v></c></row>', "a cell refers to style 9 of 3"),
        ('<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>', "row 1 lists column 1 twice"),
        (
            '<row r="1"><c r="1"><f/><v>1</v></c></row><row r="x"/>',
            "invalid literal for int() with base 10: 'x'",
        ),
    ],
)
def test_contradictions_are_refused(tmp_path: Path, sheet: str, what: str) -> None:
    with pytest.raises(FileRefused) as refused:
        one(tmp_path, xlsx(sheet, styles=_STYLES, texts=_TEXTS), "t.xlsx")
    assert str(refused.value) == (
        f"t.xlsx: the workbook is damaged or cut short (part xl/worksheets/sheet1.xml: {what}). Expected a whole XLSX "
        "or ODS workbook. Ask the sender for the file again, or save it anew."
    )
