"""One sheet of an XLSX workbook, element by element (ECMA-376 Part 1, 18.3)."""

import re

from loaders.readers import limits
from loaders.readers.archive_checks import Archive, damaged
from loaders.readers.safe_xml import Attributes, LocalNames, parse
from loaders.readers.sheet_rows import Cells, Range, SheetRows, column_number
from loaders.readers.xlsx_formulas import Formulas
from loaders.readers.xlsx_parts import Workbook
from loaders.readers.xlsx_rows import PlainCell, without_plain_rows
from loaders.readers.xlsx_values import CellTexts

_AREA = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7}):\$?([A-Z]{1,3})\$?(\d{1,7})")


class SheetReader:
    """Reads `part` into `rows` (SheetRows) and `merged`. Raises FileRefused when the part is damaged."""

    def __init__(self, archive: Archive, workbook: Workbook, sheet: str, part: str) -> None:
        self.rows = SheetRows(archive.source, sheet)
        self.merged: list[Range] = []
        self._archive, self._part = archive, part
        self._values, self._formulas, self._names = CellTexts(workbook), Formulas(), LocalNames()
        self._columns: dict[str, int] = {}
        self._row = 0
        self._cells: Cells = []
        self._column = -1
        self._cell: Attributes = {}
        self._parts: list[str] = []
        self._texts: list[str] = []
        self._value: str | None = None
        self._formula: str | None = None
        self._formula_attributes: Attributes = {}
        self._aid = False

    def read(self) -> None:
        """Parse the whole part."""
        chunks = without_plain_rows(self._archive.chunks(self._part), self._plain_row)
        parse(self._archive.source, self._part, chunks, self._start, self._end, self._parts.append)

    def _plain_row(self, row: int, plain: list[PlainCell]) -> None:
        self._next_row(row)
        known, columns = self._values.known, self._columns
        for letters, style, kind, value, written, _ in plain:
            if written:
                kind, value = "inlineStr", written
            elif not value:
                continue
            text = known.get((style, kind, value))
            if text is None:
                text = self._values.text(style, kind, value)
            column = columns.get(letters)
            self._put(column if column is not None else self._column_of(letters), text)
        self.rows.put(row, self._cells)

    def _next_row(self, row: int) -> None:
        if row <= self._row:
            raise ValueError(f"row {row} stands behind row {self._row}")
        self._row, self._column, self._cells = row, -1, []

    def _column_of(self, letters: str) -> int:
        column = self._columns[letters] = column_number(letters[:4])
        return column

    def _put(self, column: int, text: str) -> None:
        cells = self._cells
        missing = column - len(cells)
        if missing > 0:
            if column >= limits.MAX_COLUMNS:
                self.rows.put(self._row, [*([None] * column), text])  # refuses, naming row and column
            cells.extend([None] * missing)
        if missing >= 0:
            cells.append(text or None)
        elif cells[column] is None:
            cells[column] = text or None
        else:
            raise ValueError(f"row {self._row} lists column {column + 1} twice")

    def _start(self, name: str, attributes: Attributes) -> None:
        local = self._names[name]
        if local == "c":
            self._start_cell(attributes)
        elif local in ("v", "t", "f"):
            self._parts.clear()
            if local == "f":
                self._formula_attributes = attributes
        elif local == "row":
            self._next_row(int(attributes.get("r") or self._row + 1))
        elif local == "rPh":
            self._aid = True
        elif local == "mergeCell":
            self._merge(attributes.get("ref", ""))

    def _start_cell(self, attributes: Attributes) -> None:
        self._cell = attributes
        self._value = self._formula = None
        self._texts.clear()
        letters = attributes.get("r", "").rstrip("0123456789")
        if letters:
            column = self._columns.get(letters)
            self._column = column if column is not None else self._column_of(letters)
        else:
            self._column += 1

    def _end(self, name: str) -> None:
        local = self._names[name]
        if local == "v":
            self._value = "".join(self._parts)
        elif local == "c":
            text = self._cell_text()
            if text:
                self._put(self._column, text)
        elif local == "t":
            if not self._aid:
                self._texts.append("".join(self._parts))
        elif local == "f":
            self._formula = "".join(self._parts)
        elif local == "row":
            self.rows.put(self._row, self._cells)
        elif local == "rPh":
            self._aid = False

    def _cell_text(self) -> str | None:
        kind, value = self._cell.get("t", ""), self._value
        if kind == "inlineStr":
            value = "".join(self._texts)
        if self._formula is not None:
            reference = self._cell.get("r", "")
            shared = self._formulas.remember(self._formula, self._formula_attributes, reference)
            if value is None or (value == "" and kind != "str"):
                return f"{self._formulas.text(self._formula, shared, reference)} [no stored value]"
        return self._values.text(self._cell.get("s", ""), kind, value) if value else None

    def _merge(self, reference: str) -> None:
        found = _AREA.fullmatch(reference)
        if found is None:
            if ":" not in reference:
                return  # a range of one cell
            raise damaged(self._archive.source, f"part {self._part}: merged range {reference}")
        left, right = sorted((column_number(found[1]), column_number(found[3])))
        top, bottom = sorted((int(found[2]), int(found[4])))
        if top < 1 or bottom > limits.MAX_SHEET_ROWS:
            raise damaged(self._archive.source, f"part {self._part}: merged range {reference}")
        self.merged.append((top, left, bottom, right))
