"""scale_list.ods: an OpenDocument sheet, written part by part so that its bytes are fixed."""

from __future__ import annotations

import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

from sample_data import region
from sample_data.eighths_text import written
from sample_data.messy_findings import MessyFindings
from sample_data.messy_heads import Head
from sample_data.workbooks import ZIP_DATE

FILE = "scale_list.ods"
SHEET = "Scale"
KIND = "application/vnd.oasis.opendocument.spreadsheet"
NAMES = "urn:oasis:names:tc:opendocument:xmlns"
HEADINGS = (
    {
        "Number": "entry_no",
        "Category": "category",
        "Hunter": "hunter",
        "County code": "area",
        "State": "state",
    }
    | {"Taken": "taken_on", "Weapon": "weapon", "Measured": "measured_on", "Measurer": "measurer"}
    | {"Inside spread": "inside_spread", "Right beam": "beam_r", "Left beam": "beam_l"}
    | {f"{side} G{i}": f"g{i}_{side[0].lower()}" for i in range(1, 7) for side in ("Right", "Left")}
    | {f"{side} H{i}": f"h{i}_{side[0].lower()}" for i in range(1, 5) for side in ("Right", "Left")}
    | {"Abnormal total": "abnormal_total", "Right total": "right_total", "Left total": "left_total"}
    | {"Gross": "gross", "Net": "net"}
)


def _cell(text: str, kind: str) -> str:
    if not text:
        return "<table:table-cell/>"
    value = {"float": f' office:value="{text}"', "date": f' office:date-value="{text}"', "string": ""}[kind]
    style = ' table:style-name="day"' if kind == "date" else ""
    inside = f"<text:p>{escape(text)}</text:p>"
    return f'<table:table-cell{style} office:value-type="{kind}"{value}>{inside}</table:table-cell>'


def _row(cells: list[str]) -> str:
    return f"<table:table-row>{''.join(cells)}</table:table-row>"


def _cells(head: Head) -> list[str]:
    out = []
    for name in HEADINGS.values():
        if name in head.attributes:
            kind = "date" if name.endswith("_on") else "float" if name == "area" else "string"
            out.append(_cell(head.attributes[name], kind))
        else:
            eighths = (head.lines | head.stated)[name]
            out.append(_cell("" if eighths < 0 else written(eighths, "decimal"), "string"))
    return out


def _content(rows: list[str]) -> str:
    spaces = "".join(f' xmlns:{s}="{NAMES}:{s}:1.0"' for s in ("office", "table", "text", "style"))
    spaces += f' xmlns:number="{NAMES}:datastyle:1.0"'
    dash = "<number:text>-</number:text>"
    day = f'<number:year number:style="long"/>{dash}<number:month number:style="long"/>{dash}'
    styles = (
        f'<number:date-style style:name="iso">{day}<number:day number:style="long"/></number:date-style>'
        '<style:style style:name="day" style:family="table-cell" style:data-style-name="iso"/>'
    )
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<office:document-content{spaces} office:version="1.2">'
        f"<office:automatic-styles>{styles}</office:automatic-styles>"
        f'<office:body><office:spreadsheet><table:table table:name="{SHEET}">{"".join(rows)}'
        "</table:table></office:spreadsheet></office:body></office:document-content>\n"
    )


def _manifest() -> str:
    entries = (("/", KIND), ("content.xml", "text/xml"))
    lines = "".join(
        f'<manifest:file-entry manifest:full-path="{path}" manifest:media-type="{kind}"/>' for path, kind in entries
    )
    head = f'<manifest:manifest xmlns:manifest="{NAMES}:manifest:1.0" manifest:version="1.2">'
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{head}{lines}</manifest:manifest>\n'


def write(folder: Path, heads: list[Head], found: MessyFindings) -> None:
    """The list: lengths as text from a scale, county codes as numbers (zero lost), one side total wrong."""
    code_of = {a[0]: c for a, c in zip(region.AREAS, region.AREA_CODES, strict=True)}
    code_of |= {alias: code_of[name] for alias, name in region.ALIASES}
    for row, head in enumerate(heads, start=2):
        area = head.attributes["area"]
        head.attributes["area"] = str(int(code_of.get(area, area)))
        found.add(FILE, row, head.entry_no, "area-code-repaired", sheet=SHEET)
    heads[3].stated["right_total"] += 3
    found.add(FILE, 5, heads[3].entry_no, "right_total", sheet=SHEET)
    rows = [_row([_cell(title, "string") for title in HEADINGS]), *(_row(_cells(head)) for head in heads)]
    parts = {"mimetype": KIND, "META-INF/manifest.xml": _manifest(), "content.xml": _content(rows)}
    with zipfile.ZipFile(folder / FILE, "w", zipfile.ZIP_STORED) as made:
        for name, text in parts.items():
            entry = zipfile.ZipInfo(name, ZIP_DATE)
            entry.create_system = 3
            made.writestr(entry, text.encode("utf-8"))
