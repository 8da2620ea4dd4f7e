"""The sheets of an ODS workbook, element by element (OpenDocument 1.3, chapter 9)."""

from loaders.readers import limits
from loaders.readers.archive_checks import Archive
from loaders.readers.ods_cells import BLANK, BREAK, TAB, cell_text
from loaders.readers.ods_styles import OdsStyles
from loaders.readers.safe_xml import Attributes, LocalNames, parse
from loaders.readers.sheet_rows import Cells, Range, SheetRows

# What stands inside a table but is no cell content: remarks, drawings, and cells deleted under change
# tracking.
_PASSED_OVER = frozenset({"annotation", "tracked-changes", "shapes", "forms", "dde-links", "frame", "custom-shape"})
_SIGNS = {"tab": TAB, "line-break": BREAK}


class ContentReader:
    """Reads `content.xml` into `sheets`, one (SheetRows, merged ranges) for each table."""

    def __init__(self, archive: Archive) -> None:
        self.sheets: list[tuple[SheetRows, list[Range]]] = []
        self._source = archive.source
        self._names, self._styles = LocalNames(), OdsStyles()
        self._passing = 0
        self._row, self._row_repeat, self._row_style = 0, 1, ""
        self._column_styles: list[tuple[int, str]] = []
        self._cells: Cells = []
        self._column = 0
        self._cell: Attributes = {}
        self._paragraphs: list[str] = []
        self._parts: list[str] = []
        self._depth = 0
        for part in ("styles.xml", "content.xml"):
            if part == "content.xml" or part in archive.names:
                parse(self._source, part, archive.chunks(part), self._start, self._end, self._text)

    def _start(self, name: str, attributes: Attributes) -> None:
        local = self._names[name]
        if self._passing or local in _PASSED_OVER:
            self._passing += 1
            return
        if local in ("table-cell", "covered-table-cell"):
            self._start_cell(attributes)
        elif local == "p":
            self._parts.clear()
        elif local == "s":
            self._parts.append(BLANK * _count(self._local(attributes), "c", limits.MAX_CELL_BYTES + 1))
        elif local in _SIGNS:
            self._parts.append(_SIGNS[local])
        elif local in ("table-row", "table", "table-column"):
            self._start_frame(local, self._local(attributes))
        else:
            self._styles.start(local, attributes, self._names)

    def _start_frame(self, local: str, given: Attributes) -> None:
        if local == "table-row":
            self._row_repeat = _count(given, "number-rows-repeated", limits.MAX_SHEET_ROWS)
            self._row_style, self._cells, self._column = given.get("default-cell-style-name", ""), [], 0
        elif local == "table-column":
            repeat = _count(given, "number-columns-repeated", limits.MAX_SHEET_ROWS)
            last = self._column_styles[-1][0] if self._column_styles else 0
            self._column_styles.append((last + repeat, given.get("default-cell-style-name", "")))
        else:
            if self._depth:
                raise ValueError("a table inside a cell")
            self._depth += 1
            self._row, self._column_styles = 0, []
            self.sheets.append((SheetRows(self._source, given.get("name", "")), []))

    def _start_cell(self, attributes: Attributes) -> None:
        given = {}
        for name, value in attributes.items():
            local = self._names[name]
            if local == "value-type" and name.startswith("calcext:"):
                local = "calcext-type"  # the writer's own note that the value is an error
            given[local] = value
        self._cell = given
        self._paragraphs = []

    def _end(self, name: str) -> None:
        if self._passing:
            self._passing -= 1
            return
        local = self._names[name]
        if local in ("table-cell", "covered-table-cell"):
            self._end_cell()
        elif local == "p":
            self._paragraphs.append("".join(self._parts))
        elif local == "table-row":
            self._end_row()
        elif local == "table":
            self._depth -= 1
        else:
            self._styles.end(local)

    def _text(self, part: str) -> None:
        if not self._passing:
            self._parts.append(part)
            self._styles.text(part)

    def _end_cell(self) -> None:
        repeat = _count(self._cell, "number-columns-repeated", limits.MAX_SHEET_ROWS)
        text = cell_text(self._cell, self._paragraphs, self._styles.format_of(self._style()))
        if text is not None:
            self._cells.extend([None] * (min(self._column, limits.MAX_COLUMNS) - len(self._cells)))
            self._cells.extend([text] * min(repeat, limits.MAX_COLUMNS + 1))
            if len(self._cells) > limits.MAX_COLUMNS:
                self.sheets[-1][0].put(self._row + 1, self._cells)  # refuses, naming row and column
        self._merge()
        self._column = min(self._column + repeat, limits.MAX_SHEET_ROWS)

    def _merge(self) -> None:
        across = _count(self._cell, "number-columns-spanned", limits.MAX_SHEET_ROWS)
        down = _count(self._cell, "number-rows-spanned", limits.MAX_SHEET_ROWS)
        if across > 1 or down > 1:
            top = self._row + 1
            bottom = min(top + down - 1, limits.MAX_SHEET_ROWS)
            self.sheets[-1][1].append((top, self._column, bottom, self._column + across - 1))

    def _style(self) -> str:
        own = self._cell.get("style-name") or self._row_style
        if own:
            return own
        return next((style for end, style in self._column_styles if self._column < end), "")

    def _end_row(self) -> None:
        rows = self.sheets[-1][0]
        if self._cells:
            rows.announce(self._row_repeat, len(self._cells))
            for number in range(self._row + 1, self._row + self._row_repeat + 1):
                rows.put(number, list(self._cells))
        self._row += self._row_repeat
        if self._row > limits.MAX_SHEET_ROWS + 1:
            rows.put(self._row, self._cells)

    def _local(self, attributes: Attributes) -> Attributes:
        return {self._names[key]: value for key, value in attributes.items()}


def _count(given: Attributes, key: str, most: int) -> int:
    text = given.get(key, "1")
    if not (text.isascii() and text.isdigit() and int(text[:12]) > 0):
        raise ValueError(f"{key} is {text[:20]!r}")
    return min(int(text[:12]), most)
