"""Delimited text: RFC 4180, delimiters, encodings, uneven rows, and the two paths against each other."""

import csv
import hashlib
import io
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from loaders.readers import read
from loaders.readers.careful_csv import read_carefully
from loaders.readers.delimited import read_fast
from loaders.readers.delimiter import Shape, find_shape
from loaders.readers.finish import finish
from loaders.readers.source import Source, open_source
from tests.loaders.readers.reader_files import cells, codes, one
from warehouse.errors import FileRefused, InternalFault

# The examples of RFC 4180, section 2, in its order.
RFC_4180 = [
    (b"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),
    (b"aaa,bbb,ccc\r\nzzz,yyy,xxx", [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),
    (
        b"field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
        [("field_name", "field_name", "field_name"), ("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")],
    ),
    (b"aaa,bbb,ccc", [("aaa", "bbb", "ccc")]),
    (b'"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),
    (b'"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [("aaa", "b\r\nbb", "ccc"), ("zzz", "yyy", "xxx")]),
    (b'"aaa","b""bb","ccc"', [("aaa", 'b"bb', "ccc")]),
]


@pytest.mark.parametrize(("data", "expected"), RFC_4180)
def test_rfc_4180(tmp_path: Path, data: bytes, expected: list[tuple[str, ...]]) -> None:
    grid = one(tmp_path, data)
    assert cells(grid) == [(number, *row) for number, row in enumerate(expected, start=1)]
    assert grid.notices == ()


def test_the_grid_of_a_plain_file(tmp_path: Path) -> None:
    data = b"entry_no,gross\n17,135 5/8\n"
    path = tmp_path / "show.csv"
    path.write_bytes(data)
    (grid,) = read(path)
    assert (grid.file, grid.sheet, grid.headings, grid.merged, grid.notices) == (
        str(path),
        None,
        None,
        (),
        (),
    )
    assert grid.sha256 == hashlib.sha256(data).hexdigest()
    assert {name: str(kind) for name, kind in grid.rows.schema.items()} == {
        "row": "Int32",
        "c0": "String",
        "c1": "String",
    }


@pytest.mark.parametrize(
    ("text", "delimiter"),
    [
        ("a;b\n21,5;x\n", ";"),
        ("21,5;x\n", ";"),
        ("beam;left;note\n21,5;20,5;x\n22,5;21,0;y\n", ";"),
        ("a,b,c\n1,2,x; y\n3,4,z; w\n", ","),
        ("a\tb\n1,2\t3\n", "\t"),
        ("a|b\n1,2|3;4\n", "|"),
        ('a,b\n"1;2;3",4\n"5;6;7",8\n', ","),
        ("Scores, 2025\na;b;c\n1;2;3\n", ";"),
        ("one\ntwo\n", ";"),
    ],
)
def test_delimiter(text: str, delimiter: str) -> None:
    assert find_shape(text.encode()).delimiter == delimiter


def test_uneven_rows_lose_nothing(tmp_path: Path) -> None:
    grid = one(tmp_path, b"Club records\na,b,c\n1,2\n4,5,6,7,8\n9,8,7,6\n1,2,3,\n")
    assert cells(grid) == [
        (1, "Club records", None, None, None, None),
        (2, "a", "b", "c", None, None),
        (3, "1", "2", None, None, None),
        (4, "4", "5", "6", "7", "8"),
        (5, "9", "8", "7", "6", None),
        (6, "1", "2", "3", None, None),
    ]
    assert [(notice.code, notice.severity, notice.row, notice.message) for notice in grid.notices] == [
        (
            "extra-cells",
            "error",
            4,
            "t.csv, row 4: 5 cells where the heading line (row 2) has 3; 2 extra cells, beginning with '7'. "
            "Look for a delimiter inside a cell and put that cell in quotation marks.",
        ),
        (
            "extra-cells",
            "error",
            5,
            "t.csv, row 5: 4 cells where the heading line (row 2) has 3; 1 extra cell, beginning with '6'. "
            "Look for a delimiter inside a cell and put that cell in quotation marks.",
        ),
    ]


def test_a_form_of_label_and_value_is_no_uneven_table(tmp_path: Path) -> None:
    form = b"Entry No.,7\nWeapon,bow\nLine,Right,Left,Diff\nBeam,20,21,1\nG1,5,5,0\nG2,5,5,0,9\nNet,116 2/8\n"
    grid = one(tmp_path, form)
    assert cells(grid)[0] == (1, "Entry No.", "7", None, None, None)
    assert [notice.message for notice in grid.notices] == [
        "t.csv, row 6: 5 cells where the heading line (row 3) has 4; 1 extra cell, beginning with '9'. "
        "Look for a delimiter inside a cell and put that cell in quotation marks."
    ]


def test_extra_cells_of_many_rows_are_summed_up(tmp_path: Path) -> None:
    grid = one(tmp_path, b"a,b\n" + b"21,5,x\n" * 25)
    assert codes(grid) == [("extra-cells", "error")] * 21
    assert grid.notices[19].row == 21
    assert (grid.notices[20].row, grid.notices[20].message) == (
        None,
        "t.csv: 5 more rows have more cells than the heading line. "
        "Look for a delimiter inside a cell and put that cell in quotation marks.",
    )


def test_blank_rows_are_left_out_and_counted(tmp_path: Path) -> None:
    grid = one(tmp_path, b'a,b\n\n1,2\n,\n"",""\n \n\n\n\n3,4\n\n')
    assert cells(grid) == [(1, "a", "b"), (3, "1", "2"), (6, " ", None), (10, "3", "4")]
    (notice,) = grid.notices
    assert (notice.code, notice.severity, notice.row) == ("rows-blank", "note", 2)
    assert notice.message == (
        "t.csv: 7 blank rows (2, 4, 5, 7, 8, ...) were left out; row numbers stay the file's own."
    )


def test_a_single_blank_row(tmp_path: Path) -> None:
    (notice,) = one(tmp_path, b"a\n\nb\n").notices
    assert notice.message == "t.csv: 1 blank row (2) was left out; row numbers stay the file's own."


def test_a_quoted_line_break_does_not_advance_the_row(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b'a,b\n"x\n\ny",1\nz,2\n')) == [
        (1, "a", "b"),
        (2, "x\n\ny", "1"),
        (3, "z", "2"),
    ]


def test_cr_line_ends(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b'a,b\r1,"x\ry"\r\r2,3')) == [(1, "a", "b"), (2, "1", "x\ry"), (4, "2", "3")]


def test_inch_marks_inside_a_cell_are_text(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b'beam,spread\n21 3/8",17"\n')) == [
        (1, "beam", "spread"),
        (2, '21 3/8"', '17"'),
    ]


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (
            b'a,b\n1,2\n"x,1\n2,3\n',
            "t.csv: row 3 (read up to line 4): a quotation mark is opened here and never closed. Expected cells "
            "as in RFC 4180. Close the mark, or write a mark inside a quoted cell twice, then load the file again.",
        ),
        (
            b'a,b\n"Big" Jim,1\n',
            "t.csv: row 2 (read up to line 2): a cell in quotation marks goes on after its closing mark. Expected "
            "cells as in RFC 4180. Close the mark, or write a mark inside a quoted cell twice, then load the file "
            "again.",
        ),
        (
            b"name,v\nash,\0\n",
            "t.csv: byte offset 11, line 2, is NUL: this is not a text file. Expected CSV, JSON Lines, XLSX, ODS or "
            "Parquet. Save the sheet as CSV (UTF-8) and load it again.",
        ),
        (
            b"\xff\xfea\x00\n\x00b",
            "t.csv: the UTF-16-LE text breaks off at byte offset 6, line 2. Expected whole characters. "
            "Ask the sender for the file again.",
        ),
        (
            b"\xff\xfea\x00\n\x00\x00\x00",
            "t.csv: line 2 holds a NUL character. Expected text only. Save the sheet as CSV (UTF-8) and load it again.",
        ),
        (
            b"a\x01\x02\x03b,c\n",
            "t.csv: 3 of the first 8 bytes are control signs: this is not a text file. Expected CSV, JSON Lines, "
            "XLSX, ODS or Parquet. Save the sheet as CSV (UTF-8) and load it again.",
        ),
    ],
)
def test_refused_text(tmp_path: Path, data: bytes, message: str) -> None:
    with pytest.raises(FileRefused) as refused:
        one(tmp_path, data)
    assert str(refused.value) == message


def test_a_stray_byte_in_utf_8_is_patched_and_asked_about(tmp_path: Path) -> None:
    grid = one(tmp_path, "name,v\nCañon,Doña\n".encode() + b"Andr\xe9,3\n")
    assert cells(grid)[1:] == [(2, "Cañon", "Doña"), (3, "André", "3")]
    assert [notice.message for notice in grid.notices] == [
        "t.csv is not UTF-8: byte 0xE9 at offset 24, line 3; its other accents are UTF-8, so only such bytes were "
        "read as Windows-1252 (cp1252), which gives 'André,3' there (MacRoman (mac_roman) would give 'AndrÈ,3'). "
        "Check names and quotation marks, or save the file as UTF-8 and load it again."
    ]


def _source(folder: Path, data: bytes) -> Source:
    path = folder / "t.csv"
    path.write_bytes(data)
    return open_source(path, "t.csv")


def _careful(source: Source, shape: Shape) -> list[tuple[object, ...]]:
    rows, records = read_carefully(source, source.data, shape)
    assert rows.height == records
    return rows.rows()


_TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=6)
_CELL = _TEXT | st.sampled_from(["", '"', ",", "\n", "\r\n", "\r", ";", ' "x" ', "21,5", "\ufeff", "\u2028", "½"])
_ANY_FOLDER = settings(
    max_examples=150,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


@_ANY_FOLDER
@given(
    table=st.integers(2, 4).flatmap(
        lambda width: st.lists(st.lists(_CELL, min_size=width, max_size=width), min_size=1, max_size=6)
    ),
    delimiter=st.sampled_from(",;\t|"),
    style=st.sampled_from([(csv.QUOTE_MINIMAL, "\r\n"), *((csv.QUOTE_ALL, end) for end in ("\n", "\r\n", "\r"))]),
)
def test_round_trip(tmp_path: Path, table: list[list[str]], delimiter: str, style: tuple[Literal[0, 1], str]) -> None:
    # What the standard library writes comes back cell by cell on both paths, with its row numbers.
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, quoting=style[0], lineterminator=style[1]).writerows(table)
    data = out.getvalue().encode()
    width = len(table[0])
    expected = [(row, *(cell or None for cell in record)) for row, record in enumerate(table, start=1)]
    shape = Shape(delimiter, width, width, 1)
    if not data.startswith("\ufeff".encode()):
        assert _careful(_source(tmp_path, data), shape) == expected
        fast = read_fast(data, shape)
        assert fast is None or fast[0].rows() == expected


@_ANY_FOLDER
@given(data=st.text('ab,"\n\r ½', min_size=1, max_size=30))
def test_the_fast_path_agrees_with_the_careful_one(tmp_path: Path, data: str) -> None:
    source = _source(tmp_path, data.encode())
    shape = Shape(",", find_shape(source.data).widest, find_shape(source.data).widest, 1)
    fast = read_fast(source.data, shape)
    if fast is None:
        return
    careful, records = read_carefully(source, source.data, shape)
    assert fast[1] == records
    width = max(fast[0].width, careful.width)
    assert [row + (None,) * (width - len(row)) for row in fast[0].rows()] == [
        row + (None,) * (width - len(row)) for row in careful.rows()
    ]


def test_both_paths_are_taken(tmp_path: Path) -> None:
    shape = Shape(",", 2, 2, 1)
    regular = b'a,b\r\n"x\ny",2\r\n\r\n3,"say ""so"""\r\n'
    expected = [(1, "a", "b"), (2, "x\ny", "2"), (3, None, None), (4, "3", 'say "so"')]
    fast = read_fast(regular, shape)
    assert fast is not None
    assert (fast[0].rows(), fast[1]) == (expected, 4)
    assert _careful(_source(tmp_path, regular), shape) == expected
    assert read_fast(b"a,b\n1,2,3\n", shape) is None
    assert read_fast(b'a,b\n1 "x",2\n', shape) is None
    assert read_fast(b"a,b\r1,2\n", shape) is None


def test_the_balance_is_checked(tmp_path: Path) -> None:
    source = _source(tmp_path, b"a,b\n1,2\n")
    rows, _ = read_carefully(source, source.data, Shape(",", 2, 2, 1))
    with pytest.raises(InternalFault) as fault:
        finish(source, rows, 3, ())
    assert str(fault.value) == (
        "t.csv: 3 rows were read, but 2 filled and 0 blank ones came through. Please report this with the file."
    )


def test_more_rows_than_one_chunk_of_the_careful_path(tmp_path: Path) -> None:
    data = b"a,b\n" + b"1,2\n" * 45_000 + b"3,4,5\n"
    grid = one(tmp_path, data)
    assert grid.rows.height == 45_002
    assert cells(grid)[-1] == (45_002, "3", "4", "5")
    assert grid.notices[0].message == (
        "t.csv, row 45002: 3 cells where the heading line (row 1) has 2; 1 extra cell, beginning with '5'. "
        "Look for a delimiter inside a cell and put that cell in quotation marks."
    )
