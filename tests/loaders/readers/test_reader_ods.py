"""ODS: the text of every kind of cell, repeats, merges and what stands in a table without being a cell."""

from pathlib import Path

import pytest
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

from tests.loaders.readers.reader_files import cells, grids, ods, one
from warehouse.errors import FileRefused

_STYLES = """
<number:number-style style:name="N1"><number:fraction number:min-integer-digits="0"
 number:min-numerator-digits="1" number:denominator-value="8"/></number:number-style>
<style:style style:name="base" style:family="table-cell" style:data-style-name="N1"/>
<style:style style:name="eighths" style:family="table-cell" style:parent-style-name="base"/>
<number:date-style style:name="D1"><number:day/><number:text>-</number:text><number:month number:textual="true"/>
</number:date-style><style:style style:name="day" style:family="table-cell" style:data-style-name="D1"/>
<number:number-style style:name="Z1"><number:number number:min-integer-digits="5"/></number:number-style>
<style:style style:name="code" style:family="table-cell" style:data-style-name="Z1"/>
"""


def _row(*cells_xml: str, attributes: str = "") -> str:
    return f"<table:table-row{attributes}>{''.join(cells_xml)}</table:table-row>"


def _cell(kind: str, value: str, attributes: str = "") -> str:
    name = {"float": "value", "percentage": "value"}.get(kind, f"{kind}-value")
    return f'<table:table-cell office:value-type="{kind}" office:{name}="{value}"{attributes}><text:p>?</text:p></table:table-cell>'


def _text(text: str, attributes: str = "", element: str = "table-cell") -> str:
    return f'<table:{element} office:value-type="string"{attributes}><text:p>{text}</text:p></table:{element}>'


def _table(*rows: str, columns: str = "") -> str:
    return f'<table:table table:name="T">{columns}{"".join(rows)}</table:table>'


def test_typed_cells(tmp_path: Path) -> None:
    columns = '<table:table-column table:number-columns-repeated="9"/><table:table-column table:default-cell-style-name="eighths"/>'
    body = _table(
        _row(
            _cell("float", "17"),
            _cell("float", "17.0"),
            _cell("float", "8.5"),
            _cell("float", "1001", ' table:style-name="code"'),
            _cell("date", "2026-03-08", ' table:style-name="day"'),
            _cell("date", "2026-03-08T14:30:00"),
            _cell("time", "PT09H05M00S"),
            _cell("boolean", "true"),
            _cell("percentage", "0.5"),
            _cell("float", "22.625"),
        ),
        columns=columns,
    )
    assert cells(one(tmp_path, ods(body, _STYLES), "t.ods")) == [
        (
            1,
            "17",
            "17",
            "8.5",
            "1001 [00000]",
            "2026-03-08 [d-mmm]",
            "2026-03-08T14:30:00 [General]",
            "09:05:00 [General]",
            "TRUE",
            "0.5",
            "22.625 [# ?/8]",
        )
    ]


def test_text_formulas_and_errors(tmp_path: Path) -> None:
    body = _table(
        _row(
            _text('a<text:s text:c="2"/>b<text:tab/>c<text:span>d</text:span><text:line-break/>e</text:p><text:p>2nd'),
            _text("x</text:p><office:annotation><text:p>remark</text:p></office:annotation><text:p>y"),
            '<table:table-cell table:formula="of:=[.B3]+SUM([.B4:.B5])"/>',
            '<table:table-cell table:formula="of:=0" office:value-type="float" office:value="0"/>',
            '<table:table-cell table:formula="of:=1/0" office:value-type="string" office:string-value="" '
            'calcext:value-type="error"><text:p>#DIV/0!</text:p></table:table-cell>',
        )
    )
    assert cells(one(tmp_path, ods(body), "t.ods")) == [
        (1, "a  b\tcd\ne\n2nd", "x\ny", "=B3+SUM(B4:B5) [no stored value]", "0", "#DIV/0!")
    ]


def test_repeats_and_merges(tmp_path: Path) -> None:
    body = "<table:tracked-changes><table:table-cell><text:p>gone</text:p></table:table-cell></table:tracked-changes>"
    body += _table(
        _row(_text("h", ' table:number-columns-repeated="2"')),
        _row(
            '<table:table-cell table:number-columns-repeated="16384"/>',
            attributes=' table:number-rows-repeated="3"',
        ),
        _row("<table:table-cell/>", _text("r"), attributes=' table:number-rows-repeated="2"'),
        _row(_text("Ash", ' table:number-columns-spanned="1" table:number-rows-spanned="2"'), _text("1")),
        _row("<table:covered-table-cell/>", _text("2")),
    )
    grid = one(tmp_path, ods(body), "t.ods")
    assert cells(grid) == [
        (1, "h", "h"),
        (5, None, "r"),
        (6, None, "r"),
        (7, "Ash", "1"),
        (8, "Ash", "2"),
    ]
    assert grid.merged == ((7, 0, 8, 0),)
    assert [(notice.code, notice.message) for notice in grid.notices] == [
        (
            "merged-filled",
            "t.ods, sheet 'T': 1 merged range (A7:A8); the value was filled into every cell of the range.",
        ),
        (
            "rows-blank",
            "t.ods, sheet 'T': 3 blank rows (2, 3, 4) were left out; row numbers stay the file's own.",
        ),
    ]


def test_a_workbook_written_by_odfpy(tmp_path: Path) -> None:
    document = OpenDocumentSpreadsheet()
    for name, rows in (
        ("First", [["entry", "gross"], ["1", "135 5/8"]]),
        ("Blank", []),
        ("Last", [["é", "½"]]),
    ):
        table = Table(name=name)
        for row in rows:
            line = TableRow()
            for text in row:
                cell = TableCell(valuetype="string")
                cell.addElement(P(text=text))
                line.addElement(cell)
            table.addElement(line)
        document.spreadsheet.addElement(table)
    document.save(str(tmp_path / "w.ods"))
    first, last = grids(tmp_path, (tmp_path / "w.ods").read_bytes(), "t.ods")
    assert (first.sheet, cells(first)) == ("First", [(1, "entry", "gross"), (2, "1", "135 5/8")])
    assert (last.sheet, cells(last)) == ("Last", [(1, "é", "½")])


_TWICE = _row("<table:table-cell><table:table/></table:table-cell>")


@pytest.mark.parametrize(
    ("body", "what"),
    [
        (_table(_row(_text("x", ' table:number-columns-repeated="-1"'))), "number-columns-repeated is '-1'"),
        (
            _table(_row(_text("x"), attributes=' table:number-rows-repeated="0"')),
            "number-rows-repeated is '0'",
        ),
        (_table(_TWICE), "a table inside a cell"),
    ],
)
def test_damaged_numbers(tmp_path: Path, body: str, what: str) -> None:
    with pytest.raises(FileRefused) as refused:
        one(tmp_path, ods(body), "t.ods")
    assert str(refused.value) == (
        f"t.ods: the workbook is damaged or cut short (part content.xml: {what}). Expected a whole XLSX or ODS "
        "workbook. Ask the sender for the file again, or save it anew."
    )
