"""The small parts of an XLSX workbook: its sheets, number formats and shared texts.

Part names and elements: ECMA-376 Part 1, sections 12 (packages), 18.2 (workbook), 18.4 (texts), 18.8
(styles).
"""

import posixpath
import re
from dataclasses import dataclass

from loaders.readers.archive_checks import Archive, damaged
from loaders.readers.number_formats import BUILT_IN, NumberFormat, classify
from loaders.readers.safe_xml import Attributes, LocalNames, elements, parse

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


@dataclass(frozen=True)
class Workbook:
    """Sheets as (name, part), in order; `formats` by style number; `texts` by index."""

    sheets: tuple[tuple[str, str], ...]
    formats: tuple[NumberFormat, ...]
    texts: tuple[str, ...]
    from_1904: bool


def open_workbook(archive: Archive) -> Workbook:
    """Read everything but the sheets themselves. Raises FileRefused when a part is missing or damaged."""
    main = next(iter(_related(archive, "", "officeDocument").values()), "xl/workbook.xml")
    if main.endswith(".bin"):
        raise archive.source.refused(
            "the content is a binary workbook (.xlsb)",
            "XLSX, ODS or CSV",
            "Save the sheet as XLSX or CSV and load that file",
        )
    found = elements(archive.source, main, archive.chunks(main))
    targets = _related(archive, main, "worksheet")
    flag = next((attributes for _, name, attributes in found if name == "workbookPr"), {})
    listed = [
        (attributes.get("name", ""), attributes.get("id", ""))
        for parent, name, attributes in found
        if parent == "sheets" and name == "sheet"
    ]
    known = _related(archive, main, "")
    if any(number not in known for _, number in listed):
        raise damaged(archive.source, "a sheet is listed without its part")
    return Workbook(
        tuple((name, targets[number]) for name, number in listed if number in targets),
        _formats(archive, next(iter(_related(archive, main, "styles").values()), "")),
        _texts(archive, next(iter(_related(archive, main, "sharedStrings").values()), "")),
        flag.get("date1904", "0").lower() in ("1", "true", "on"),
    )


def _related(archive: Archive, part: str, kind: str) -> dict[str, str]:
    folder, name = posixpath.split(part)
    listing = posixpath.join(folder, "_rels", f"{name}.rels")
    if listing not in archive.names:
        return {}
    found = elements(archive.source, listing, archive.chunks(listing))
    return {
        attributes.get("Id", ""): _target(folder, attributes.get("Target", ""))
        for _, name, attributes in found
        if name == "Relationship" and attributes.get("Type", "").endswith(f"/{kind}" if kind else "")
    }


def _target(folder: str, target: str) -> str:
    return posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")


def _formats(archive: Archive, part: str) -> tuple[NumberFormat, ...]:
    if not part:
        return ()
    found = elements(archive.source, part, archive.chunks(part))
    codes = dict(BUILT_IN)
    codes.update(
        {
            _number(attributes, "numFmtId"): attributes.get("formatCode", "")
            for parent, name, attributes in found
            if parent == "numFmts" and name == "numFmt"
        }
    )
    sorted_codes = {number: classify(code) for number, code in codes.items()}
    return tuple(
        sorted_codes.get(_number(attributes, "numFmtId"), NumberFormat())
        for parent, name, attributes in found
        if parent == "cellXfs" and name == "xf"
    )


def _number(attributes: Attributes, key: str) -> int:
    text = attributes.get(key, "0")
    return int(text) if text.isascii() and text.isdigit() else 0


def _texts(archive: Archive, part: str) -> tuple[str, ...]:
    if not part:
        return ()
    reader = _TextReader()
    parse(archive.source, part, archive.chunks(part), reader.start, reader.end, reader.text)
    return tuple(reader.found)


class _TextReader:
    """Collects the text of every `si`; runs of rich text are joined, reading aids (`rPh`) left out."""

    def __init__(self) -> None:
        self.found: list[str] = []
        self._names = LocalNames()
        self._parts: list[str] = []
        self._whole: list[str] = []
        self._aid = False

    def start(self, name: str, _: Attributes) -> None:
        local = self._names[name]
        if local == "si":
            self._whole.clear()
        elif local == "rPh":
            self._aid = True
        self._parts.clear()

    def end(self, name: str) -> None:
        local = self._names[name]
        if local == "t" and not self._aid:
            self._whole.append("".join(self._parts))
        elif local == "rPh":
            self._aid = False
        elif local == "si":
            self.found.append(unescaped("".join(self._whole)))

    def text(self, part: str) -> None:
        self._parts.append(part)


def unescaped(text: str) -> str:
    """Undo the `_x000D_` spelling of characters that XML cannot hold (ECMA-376 Part 1, 22.9.2.19,
    ST_Xstring).
    """
    return _ESCAPED.sub(_unescape, text) if "_x" in text else text


def _unescape(match: re.Match[str]) -> str:
    point = int(match[1], 16)
    return match[0] if point == 0 or 0xD800 <= point < 0xE000 else chr(point)
