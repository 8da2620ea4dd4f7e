"""What a file is comes from its content; what it is called is only data."""

import os
from pathlib import Path

import pytest

from loaders.readers import read
from tests.loaders.readers.reader_files import archive, cells, grids, ods, one, xlsx
from warehouse.errors import FileRefused

_OLD_XLS = "Open it in a spreadsheet program and save it as XLSX (without password) or CSV, then load that file"
_TYPE = "Type the sheets into a table and save it as XLSX or CSV"


@pytest.mark.parametrize(
    ("data", "meaning", "next_step"),
    [
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500),
            "an old .xls workbook, or one locked with a password",
            _OLD_XLS,
        ),
        (b"%PDF-1.7\n", "a PDF document", "Type the sheets into a table, or ask the sender for XLSX or CSV"),
        (b"\x89PNG\r\n\x1a\n", "a PNG picture", _TYPE),
        (b"\xff\xd8\xff\xe0", "a JPEG picture", _TYPE),
        (b"\x1f\x8b\x08", "a gzip archive", "Unpack it and load the file inside"),
        (
            b"SQLite format 3\x00",
            "an SQLite database",
            "Export its table as CSV and load that file",
        ),
        (
            b"\x00" * 8 + b"DUCK",
            "a database file of the warehouse's kind",
            "Export its table as CSV, or use its book",
        ),
        (
            b"\xef\xbb\xbf\n<!DOCTYPE html><table>",
            "a web page or XML document",
            "Save the sheet as XLSX or CSV and load that file",
        ),
        (
            b"<?xml version='1.0'?><Workbook/>",
            "a web page or XML document",
            "Save the sheet as XLSX or CSV and load that file",
        ),
    ],
)
def test_foreign_content(tmp_path: Path, data: bytes, meaning: str, next_step: str) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, data, "show.csv")
    assert str(refused.value) == (
        f"show.csv: the content is {meaning}. Expected CSV, JSON Lines, XLSX, ODS or Parquet. {next_step}."
    )


def test_content_decides_before_the_name(tmp_path: Path) -> None:
    book = xlsx('<row r="1"><c r="A1"><v>1</v></c></row>')
    assert cells(one(tmp_path, book, "book.csv")) == [(1, "1")]
    assert one(tmp_path, b'{"a": 1}\n', "lines.csv").headings == ("a",)
    assert cells(one(tmp_path, b"a\tb\n1\t2\n", "table.xlsx")) == [(1, "a", "b"), (2, "1", "2")]
    table = '<table:table table:name="T"><table:table-row><table:table-cell><text:p>x</text:p></table:table-cell>'
    assert cells(one(tmp_path, ods(f"{table}</table:table-row></table:table>"), "noname")) == [(1, "x")]


def test_a_heading_that_begins_like_json_is_no_json(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b"{a},b\n1,2\n")) == [(1, "{a}", "b"), (2, "1", "2")]


@pytest.mark.parametrize(
    ("members", "message"),
    [
        (
            {"scores.csv": b"a,b\n"},
            "t.zip: the content is a ZIP archive, but no XLSX or ODS workbook. Expected a workbook. Unpack it and load "
            "the files inside, or save the document as XLSX or CSV.",
        ),
        (
            {
                "[Content_Types].xml": "<Types/>",
                "xl/workbook.bin": b"\x83\x01",
                "_rels/.rels": '<R><Relationship Type="x/officeDocument" Target="/xl/workbook.bin"/></R>',
            },
            "t.zip: the content is a binary workbook (.xlsb). Expected XLSX, ODS or CSV. "
            "Save the sheet as XLSX or CSV and load that file.",
        ),
        (
            {"content.xml": "x", "META-INF/manifest.xml": "<m><encryption-data/></m>"},
            "t.zip: the workbook is locked with a password. Expected an open workbook. "
            "Save it without a password and load that file.",
        ),
    ],
)
def test_other_archives(tmp_path: Path, members: dict[str, str | bytes], message: str) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, archive(dict(members)), "t.zip")
    assert str(refused.value) == message


@pytest.mark.parametrize(
    "name",
    ["-rf.csv", "CON.csv", "x.csv.exe", "gnp\u202ecsv", "a\x1b[31m.csv", "a\nb.csv", "é" * 60 + ".csv"],
)
def test_names_are_only_data(tmp_path: Path, name: str) -> None:
    grid = one(tmp_path, b"a,b\n1,2\n", name)
    assert (grid.file, cells(grid)) == (name, [(1, "a", "b"), (2, "1", "2")])


@pytest.mark.parametrize(
    ("shown_as", "escaped"),
    [
        ("../../x", "../../x"),
        ("-rf.csv", "-rf.csv"),
        ("C:\\x", "C:\\x"),
        ("gnp\u202ecsv.exe", "gnp\\u202ecsv.exe"),
        ("a\x1b[2J\r\n.csv", "a\\x1b[2J\\x0d\\x0a.csv"),
    ],
)
def test_messages_show_names_escaped(tmp_path: Path, shown_as: str, escaped: str) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes(b"a\n\nb\n")
    (grid,) = read(path, shown_as)
    assert grid.file == shown_as
    assert grid.notices[0].message == (f"{escaped}: 1 blank row (2) was left out; row numbers stay the file's own.")
    path.write_bytes(b"")
    with pytest.raises(FileRefused) as refused:
        read(path, shown_as)
    assert str(refused.value) == (
        f"{escaped}: the file is empty (0 bytes). Expected a heading row and score sheets. "
        "Ask the sender for the file again."
    )


def test_paths_that_cannot_be_opened(tmp_path: Path) -> None:
    def message(path: Path) -> str:
        with pytest.raises(FileRefused) as refused:
            read(path, "x.csv")
        return str(refused.value)

    ending = "Expected a file that this account may read. Check the path and the permissions."
    missing = "x.csv: the file cannot be opened (No such file or directory). "
    assert message(tmp_path / "none.csv") == missing + ending
    assert message(tmp_path / "a\0b") == f"x.csv: the file cannot be opened (embedded null byte). {ending}"
    assert message(tmp_path / ("x" * 300)) == f"x.csv: the file cannot be opened (File name too long). {ending}"
    plain = "x.csv: this is not a plain file. Expected a file of score sheets. Give the path of one file."
    os.mkfifo(tmp_path / "pipe.csv")
    assert message(tmp_path / "pipe.csv") == plain
    assert message(tmp_path) == "x.csv: the file cannot be opened (Is a directory). " + ending
