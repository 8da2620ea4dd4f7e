"""Builds the files that the reader tests read, byte by byte where it matters."""

import io
import zipfile
from collections.abc import Iterable
from pathlib import Path

from loaders.readers import Grid, read

_OFFICE = "urn:oasis:names:tc:opendocument:xmlns:"
_NAMES = {
    "office": "office:1.0",
    "table": "table:1.0",
    "text": "text:1.0",
    "style": "style:1.0",
    "number": "datastyle:1.0",
}
ODS_NAMES = " ".join(f'xmlns:{short}="{_OFFICE}{name}"' for short, name in _NAMES.items())
ODS_NAMES += ' xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'


def grids(folder: Path, data: bytes, name: str = "t.csv") -> list[Grid]:
    """Write `data` into `folder` and read it back under the bare name."""
    path = folder / name
    path.write_bytes(data)
    return read(path, name)


def one(folder: Path, data: bytes, name: str = "t.csv") -> Grid:
    """As `grids`, for a file of one grid."""
    (grid,) = grids(folder, data, name)
    return grid


def cells(grid: Grid) -> list[tuple[object, ...]]:
    """All rows as tuples, the row number first."""
    return grid.rows.rows()


def codes(grid: Grid) -> list[tuple[str, str]]:
    """Code and severity of every notice."""
    return [(notice.code, notice.severity) for notice in grid.notices]


def archive(members: dict[str, str | bytes | Iterable[str]], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """A ZIP container; a member given in parts is written part by part."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as container:
        for name, content in members.items():
            with container.open(name, "w") as part:
                for piece in [content] if isinstance(content, (str, bytes)) else content:
                    part.write(piece if isinstance(piece, bytes) else piece.encode())
    return out.getvalue()


def xlsx_members(
    sheet: str | Iterable[str], *, head: str = "", styles: str = "", texts: str = "", merges: str = ""
) -> dict[str, str | bytes | Iterable[str]]:
    """The parts of a workbook with one sheet 'S' whose rows are the XML `sheet`."""
    kinds = [
        ("r1", "worksheet", "worksheets/sheet1.xml"),
        ("r2", "styles", "styles.xml"),
        ("r3", "sharedStrings", "sharedStrings.xml"),
    ]
    rels = "".join(f'<Relationship Id="{key}" Type="http://x/{kind}" Target="{part}"/>' for key, kind, part in kinds)
    rows = [sheet] if isinstance(sheet, str) else sheet
    return {
        "[Content_Types].xml": "<Types/>",
        "_rels/.rels": '<Relationships><Relationship Id="r" Type="http://x/officeDocument" '
        'Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns:r="r">{head}<sheets><sheet name="S" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f"<Relationships>{rels}</Relationships>",
        "xl/styles.xml": f"<styleSheet>{styles}</styleSheet>",
        "xl/sharedStrings.xml": f"<sst>{texts}</sst>",
        "xl/worksheets/sheet1.xml": _wrapped(rows, merges),
    }


def _wrapped(rows: Iterable[str], merges: str) -> Iterable[str]:
    yield "<worksheet><sheetData>"
    yield from rows
    yield f"</sheetData>{merges}</worksheet>"


def xlsx(sheet: str | Iterable[str], **parts: str) -> bytes:
    """A workbook with one sheet 'S'."""
    return archive(xlsx_members(sheet, **parts))


def ods(body: str, styles: str = "") -> bytes:
    """An ODS workbook with the tables `body`."""
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {ODS_NAMES}><office:automatic-styles>'
        f"{styles}</office:automatic-styles><office:body><office:spreadsheet>{body}</office:spreadsheet>"
        "</office:body></office:document-content>"
    )
    return archive({"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": content})
