"""Files that want to hurt: refused quickly, in little memory, with the limit named."""

import io
import os
import random
import resource
import struct
import time
import tracemalloc
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from loaders.readers import read
from loaders.readers.source import open_source
from tests.loaders.readers.reader_files import archive, cells, grids, ods, one, xlsx, xlsx_members
from warehouse.errors import FileRefused

_ROW = '<row r="1"><c r="A1"><v>1</v></c></row>'
_SAVE_AGAIN = "Open it in a spreadsheet program, save it as a new XLSX or as CSV, and load that file."


def refused(folder: Path, data: bytes, name: str = "t.xlsx") -> str:
    """The refusal of `data`, which must come within 2 s of computing and 200 MiB of further memory."""
    before, start = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
    with pytest.raises(FileRefused) as fault:
        grids(folder, data, name)
    assert time.process_time() - start < 2
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 200 * 1024
    return str(fault.value)


def test_file_over_one_gib(tmp_path: Path) -> None:
    path = tmp_path / "big.csv"
    with path.open("wb") as handle:
        handle.truncate(2**30 + 1)
    with pytest.raises(FileRefused) as fault:
        read(path, "big.csv")
    assert str(fault.value) == (
        "big.csv: the file has 1,073,741,825 bytes. Expected at most 1,073,741,824 (1 GiB). "
        "Split it into smaller files, each with the heading row."
    )


def test_empty_file(tmp_path: Path) -> None:
    assert refused(tmp_path, b"", "t.csv") == (
        "t.csv: the file is empty (0 bytes). Expected a heading row and score sheets. "
        "Ask the sender for the file again."
    )


@pytest.mark.parametrize(
    ("data", "name"),
    [
        (b"\n\n,,\n", "t.csv"),
        (b"\xef\xbb\xbf", "t.csv"),
        (b"\n \n", "t.jsonl"),
        (xlsx('<row r="1"><c r="A1" s="0"/></row>'), "t.xlsx"),
        (ods('<table:table table:name="T"/>'), "t.ods"),
    ],
)
def test_nothing_inside(tmp_path: Path, data: bytes, name: str) -> None:
    assert refused(tmp_path, data, name) == (
        f"{name}: no cell holds anything. Expected a heading row and score sheets. Ask the sender for the file again."
    )


def test_headings_only_are_a_grid_of_one_row(tmp_path: Path) -> None:
    assert cells(one(tmp_path, b"a,b\n")) == [(1, "a", "b")]


def test_too_many_columns(tmp_path: Path) -> None:
    assert refused(tmp_path, b"a,b\n" + b"," * 4096 + b"\n", "t.csv") == (
        "t.csv: row 2 has 4,097 columns. Expected at most 4,096. Remove the columns that hold no part of a score sheet."
    )
    assert one(tmp_path, b"x," * 4095 + b"x\n").rows.width == 4097


def test_16384_columns_of_a_workbook(tmp_path: Path) -> None:
    row = "".join(f'<c t="inlineStr"><is><t>h{number}</t></is></c>' for number in range(16_384))
    assert refused(tmp_path, xlsx(f'<row r="1">{row}</row>')) == (
        "t.xlsx: sheet 'S' holds a cell in row 1, column 16,384. Expected at most 4,096 columns. "
        "Remove what is no score sheet, or save the sheet as CSV."
    )


def test_one_far_cell(tmp_path: Path) -> None:
    assert refused(tmp_path, xlsx('<row r="9"><c r="XFD9"><v>1</v></c></row>')) == (
        "t.xlsx: sheet 'S' holds a cell in row 9, column 16,384. Expected at most 4,096 columns. "
        "Remove what is no score sheet, or save the sheet as CSV."
    )


@pytest.mark.parametrize("quote", [b"", b'"'])
def test_a_cell_over_64_kib(tmp_path: Path, quote: bytes) -> None:
    fits = b"a,b\n1," + quote + b"x" * 65_536 + quote + b"\n"
    assert len(str(cells(one(tmp_path, fits))[1][2])) == 65_536
    assert refused(tmp_path, fits.replace(b"xx", b"xxx", 1), "t.csv") == (
        "t.csv: row 2, column 2 is a cell of 65,537 bytes. Expected at most 65,536 bytes in a cell. "
        "Look there for a quotation mark that is not closed, or shorten the cell."
    )


def test_a_cell_of_30_mb(tmp_path: Path) -> None:
    rng = random.Random(1)
    text = rng.randbytes(15_000_000).hex()
    assert refused(tmp_path, xlsx(["<row><c/><c t='inlineStr'><is><t>", text, "</t></is></c></row>"])) == (
        "t.xlsx: sheet 'S', row 1, column 2 is a cell of 30,000,000 bytes. Expected at most 65,536 bytes in a "
        "cell. Look there for a quotation mark that is not closed, or shorten the cell."
    )


def test_a_member_of_300_mb(tmp_path: Path) -> None:
    def blanks() -> Iterator[str]:
        for _ in range(300):
            yield " " * 1_000_000

    assert refused(tmp_path, xlsx(blanks())) == (
        "t.xlsx: part 'xl/worksheets/sheet1.xml' expands to 300,000,046 bytes. Expected at most 268,435,456 bytes "
        "a part and 536,870,912 together. Remove unused sheets and styled blank rows, or save as CSV."
    )


def test_three_members_too_large_together(tmp_path: Path) -> None:
    data = archive({**xlsx_members(_ROW), **{f"xl/m{n}.xml": b"x" for n in range(3)}})
    data = _with_sizes(data, {f"xl/m{n}.xml": 200_000_000 for n in range(3)}, packed=100_000_000)
    assert refused(tmp_path, data).startswith("t.xlsx: the archive expands to 600,00")


def test_a_ratio_of_a_thousand(tmp_path: Path) -> None:
    message = refused(tmp_path, xlsx([" " * 5_000_000]))
    assert message.startswith("t.xlsx: part 'xl/worksheets/sheet1.xml' expands 1,0")
    assert message.endswith(f" times. Expected at most 200 times. {_SAVE_AGAIN}")


def test_ten_thousand_members(tmp_path: Path) -> None:
    data = archive({**xlsx_members(_ROW), **{f"xl/m{number}": b"" for number in range(10_000)}})
    assert refused(tmp_path, data) == (f"t.xlsx: the archive lists 10,007 parts. Expected at most 2,000. {_SAVE_AGAIN}")


def test_an_archive_inside(tmp_path: Path) -> None:
    data = archive({**xlsx_members(_ROW), "xl/more.ZIP": archive({"x": b"x"})})
    assert refused(tmp_path, data) == (
        f"t.xlsx: the archive holds another archive, 'xl/more.ZIP'. Expected a workbook. {_SAVE_AGAIN}"
    )


def _with_sizes(data: bytes, sizes: dict[str, int], packed: int | None = None) -> bytes:
    """Write lying sizes into the ZIP directory of `data`."""
    changed = bytearray(data)
    at = data.index(b"PK\x01\x02")
    while changed[at : at + 4] == b"PK\x01\x02":
        name_length, extra, comment = struct.unpack_from("<HHH", changed, at + 28)
        name = bytes(changed[at + 46 : at + 46 + name_length]).decode()
        if name in sizes:
            struct.pack_into("<I", changed, at + 24, sizes[name])
            if packed is not None:
                struct.pack_into("<I", changed, at + 20, packed)
        at += 46 + name_length + extra + comment
    return bytes(changed)


@pytest.mark.parametrize("size", [10, 900_000])
def test_a_directory_that_lies_about_a_size(tmp_path: Path, size: int) -> None:
    # The part really expands to 50 MB; not more than the stated size may ever be expanded.
    data = _with_sizes(xlsx([" " * 50_000_000]), {"xl/worksheets/sheet1.xml": size})
    tracemalloc.start()
    message = refused(tmp_path, data)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert message == (
        "t.xlsx: the workbook is damaged or cut short (part xl/worksheets/sheet1.xml: Bad CRC-32 for file "
        "'xl/worksheets/sheet1.xml'). Expected a whole XLSX or ODS workbook. "
        "Ask the sender for the file again, or save it anew."
    )
    assert peak < 10_000_000


def test_a_directory_that_states_too_large_a_size(tmp_path: Path) -> None:
    data = _with_sizes(xlsx(_ROW), {"xl/worksheets/sheet1.xml": 5000})
    assert refused(tmp_path, data) == (
        "t.xlsx: the workbook is damaged or cut short (part xl/worksheets/sheet1.xml is shorter than the directory "
        "says). Expected a whole XLSX or ODS workbook. Ask the sender for the file again, or save it anew."
    )


_LAUGHS = '<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;"><!ENTITY f SYSTEM "file:///etc/hostname">]>'


@pytest.mark.parametrize("part", ["xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/styles.xml", "_rels/.rels"])
def test_document_types_in_xlsx(tmp_path: Path, part: str) -> None:
    members = xlsx_members('<row r="1"><c r="A1" t="inlineStr"><is><t>&b;&f;</t></is></c></row>')
    content = members[part]
    members[part] = _LAUGHS + (content if isinstance(content, str) else "".join(map(str, content)))
    assert refused(tmp_path, archive(members)) == (
        f"t.xlsx: part '{part}' declares a document type (DTD), by which entities can be smuggled in. Expected XML as "
        "spreadsheet programs write it. Save it anew in a spreadsheet program."
    )


def test_document_types_in_ods(tmp_path: Path) -> None:
    data = archive({"content.xml": f"{_LAUGHS}<document-content>&b;</document-content>"})
    assert refused(tmp_path, data, "t.ods") == (
        "t.ods: part 'content.xml' declares a document type (DTD), by which entities can be smuggled in. Expected XML "
        "as spreadsheet programs write it. Save it anew in a spreadsheet program."
    )


def test_unknown_entities(tmp_path: Path) -> None:
    assert refused(tmp_path, xlsx('<row r="1"><c r="A1"><v>&b;</v></c></row>')) == (
        "t.xlsx: the workbook is damaged or cut short (part xl/worksheets/sheet1.xml: undefined entity: line 1, "
        "column 46). Expected a whole XLSX or ODS workbook. Ask the sender for the file again, or save it anew."
    )


def test_a_million_styled_blank_rows_are_skipped(tmp_path: Path) -> None:
    def rows() -> Iterator[str]:
        yield '<row r="1"><c r="A1"><v>1</v></c></row>'
        for start in range(2, 1_048_577, 1000):
            yield "".join(
                f'<row r="{row}" s="1"><c r="A{row}" s="1"/></row>'
                for row in range(start, min(start + 1000, 1_048_577))
            )

    (tmp_path / "t.xlsx").write_bytes(xlsx(rows(), styles="<cellXfs><xf/><xf/></cellXfs>"))
    before, start = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
    (grid,) = read(tmp_path / "t.xlsx", "t.xlsx")
    assert time.process_time() - start < 2
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 200 * 1024
    assert cells(grid) == [(1, "1")]
    assert [notice.message for notice in grid.notices] == [
        "t.xlsx, sheet 'S': 1048575 blank rows (2, 3, 4, 5, 6, ...) were left out; row numbers stay the file's own."
    ]


def test_a_million_repeated_blank_rows_of_ods(tmp_path: Path) -> None:
    data = ods(
        '<table:table table:name="T"><table:table-row><table:table-cell office:value-type="float" office:value="1"/>'
        '<table:table-cell table:number-columns-repeated="16383"/></table:table-row>'
        '<table:table-row table:number-rows-repeated="1048575"><table:table-cell '
        'table:number-columns-repeated="16384"/></table:table-row></table:table>'
    )
    assert cells(one(tmp_path, data, "t.ods")) == [(1, "1")]


def test_repeated_filled_cells_of_ods(tmp_path: Path) -> None:
    cell = '<table:table-cell office:value-type="string" table:number-columns-repeated="{}"><text:p>x</text:p></table:table-cell>'
    row = '<table:table table:name="T"><table:table-row table:number-rows-repeated="{}">{}</table:table-row></table:table>'
    assert refused(tmp_path, ods(row.format(1, cell.format(16384))), "t.ods") == (
        "t.ods: sheet 'T' holds a cell in row 1, column 4,097. Expected at most 4,096 columns. "
        "Remove what is no score sheet, or save the sheet as CSV."
    )
    assert refused(tmp_path, ods(row.format(1_048_576, cell.format(4096))), "t.ods") == (
        "t.ods: sheet 'T' holds a table of 1,048,576 rows by 4,096 columns. Expected at most 16,000,000 cells. "
        "Remove what is no score sheet, or save the sheet as CSV."
    )


def test_one_text_referred_to_a_million_times(tmp_path: Path) -> None:
    rows = (f'<row r="{row}"><c r="A{row}" t="s"><v>0</v></c></row>' for row in range(1, 20_000))
    text = random.Random(2).randbytes(30_000).hex()
    assert refused(tmp_path, xlsx(rows, texts=f"<si><t>{text}</t></si>")) == (
        "t.xlsx: sheet 'S' holds repeated text that comes to more than it should. Expected at most 536,870,912 "
        "characters. Remove what is no score sheet, or save the sheet as CSV."
    )


def test_whole_row_and_column_merges_end_with_the_used_area(tmp_path: Path) -> None:
    data = xlsx(
        '<row r="1"><c r="A1"><v>5</v></c><c r="B1"><v>1</v></c></row><row r="2"><c r="B2"><v>7</v></c></row>',
        merges='<mergeCells><mergeCell ref="A1:A1048576"/></mergeCells>',
    )
    grid = one(tmp_path, data, "t.xlsx")
    assert cells(grid) == [(1, "5", "1"), (2, "5", "7")]
    assert grid.merged == ((1, 0, 1_048_576, 0),)


def test_row_numbers_beyond_the_format(tmp_path: Path) -> None:
    assert refused(tmp_path, xlsx('<row r="1048577"><c r="A1048577"><v>1</v></c></row>')) == (
        "t.xlsx: sheet 'S' holds row 1,048,577. Expected at most 1,048,576 rows. "
        "Remove what is no score sheet, or save the sheet as CSV."
    )


def test_a_file_that_is_being_written(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes(b"a,b\n1,2\n")
    source = open_source(path, "t.csv")
    source.check_unchanged()
    expected = (
        "t.csv: the file changed while it was being read. Expected a file that nobody is writing. "
        "Wait until it is complete, then load it again."
    )
    with path.open("ab") as handle:
        handle.write(b"3,4\n")
    with pytest.raises(FileRefused) as grown:
        source.check_unchanged()
    assert str(grown.value) == expected
    path.write_bytes(b"a,b\n1,2\n")
    os.utime(path, ns=(1, 1))
    with pytest.raises(FileRefused) as touched:
        source.check_unchanged()
    assert str(touched.value) == expected


def test_a_file_that_grows_during_the_reading(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes(b"a,b\n1,2\n")
    real = io.BufferedReader.read

    class Growing(io.BufferedReader):
        def read(self, size: int | None = -1, /) -> bytes:
            with path.open("ab") as handle:
                handle.write(b"3,4\n")
            return real(self, size)

    def opening(name: Path, mode: str, opener: object = None) -> Growing:
        return Growing(io.FileIO(name))

    monkeypatch.setattr("loaders.readers.source.open", opening, raising=False)
    with pytest.raises(FileRefused, match=r"^t\.csv: the file changed while it was being read"):
        read(path, "t.csv")


def test_zip_with_other_packing(tmp_path: Path) -> None:
    data = archive(xlsx_members(_ROW), zipfile.ZIP_BZIP2)
    assert refused(tmp_path, data) == (
        "t.xlsx: the workbook is damaged or cut short (part [Content_Types].xml is packed by method 12). "
        "Expected a whole XLSX or ODS workbook. Ask the sender for the file again, or save it anew."
    )
