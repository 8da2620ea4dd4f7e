"""The filled rows of one workbook sheet, collected under limits, with merged ranges filled in."""

from collections.abc import Sequence
from itertools import zip_longest

import polars as pl

from loaders.readers import limits
from loaders.readers.finish import finish, long_cell, place
from loaders.readers.grid import Grid, Notice
from loaders.readers.source import Source
from warehouse.plain_text import shown

Cells = list[str | None]
Range = tuple[int, int, int, int]


class SheetRows:
    """Rows by number (1 = first), each a list of cells without trailing blanks; rows without cells are not
    kept.
    """

    def __init__(self, source: Source, sheet: str) -> None:
        self.source, self.sheet = source, sheet
        self.rows: dict[int, Cells] = {}
        self.last_row = 0
        self._text = 0
        self._width = 0

    def put(self, number: int, cells: Cells) -> None:
        """Keep row `number`. Raises FileRefused over the limits of rows, columns, cells or text."""
        if number > limits.MAX_SHEET_ROWS:
            self._refuse(f"row {number:,}", f"at most {limits.MAX_SHEET_ROWS:,} rows")
        self.last_row = max(self.last_row, number)
        while cells and cells[-1] is None:
            cells.pop()
        if not cells:
            return
        if len(cells) > limits.MAX_COLUMNS:
            self._refuse(f"a cell in row {number}, column {len(cells):,}", f"at most {limits.MAX_COLUMNS:,} columns")
        self.rows[number] = cells
        text = sum(len(cell) for cell in cells if cell is not None)
        if text > limits.MAX_CELL_BYTES:
            self._refuse_long(number, cells)
        self._count(len(cells), text)

    def announce(self, rows: int, width: int) -> None:
        """Raise FileRefused, before they are made, when `rows` more rows of `width` cells are too many."""
        rows, width = len(self.rows) + rows, max(self._width, width)
        if rows * width > limits.MAX_SHEET_CELLS:
            self._refuse(f"a table of {rows:,} rows by {width:,} columns", f"at most {limits.MAX_SHEET_CELLS:,} cells")

    def _count(self, width: int, text: int) -> None:
        self._width = max(self._width, width)
        self._text += text
        self.announce(0, width)
        if self._text > limits.MAX_SHEET_TEXT:
            self._refuse(
                "repeated text that comes to more than it should",
                f"at most {limits.MAX_SHEET_TEXT:,} characters",
            )

    def _refuse_long(self, number: int, cells: Cells) -> None:
        for column, cell in enumerate(cells):
            size = len((cell or "").encode("utf-8"))
            if size > limits.MAX_CELL_BYTES:
                raise long_cell(self.source, self.sheet, number, column, size)

    def _refuse(self, found: str, expected: str) -> None:
        raise self.source.refused(
            f"sheet '{shown(self.sheet)}' holds {found}",
            expected,
            "Remove what is no score sheet, or save the sheet as CSV",
        )

    def grid(self, merged: Sequence[Range]) -> Grid:
        """Fill the merged ranges and make the Grid of the sheet."""
        filled = [area for area in merged if self._fill(*self._clipped(area))]
        numbers = sorted(self.rows)
        columns = zip_longest(*(self.rows[number] for number in numbers))
        series = [pl.Series(f"c{at}", cells, dtype=pl.String) for at, cells in enumerate(columns)]
        rows = pl.DataFrame([pl.Series("row", numbers, dtype=pl.Int32), *series])
        unlisted = self.last_row - len(numbers)
        return finish(
            self.source,
            rows,
            self.last_row,
            self._merge_notice(filled),
            unlisted=unlisted,
            sheet=self.sheet,
            merged=tuple(merged),
        )

    def _clipped(self, area: Range) -> Range:
        # A whole merged row or column would make a table of nothing but its own copy: it ends with the used
        # area.
        top, left, bottom, right = area
        if right >= limits.MAX_COLUMNS or (bottom - top + 1) * (right - left + 1) > limits.MAX_MERGED_CELLS:
            right = min(right, max(left, self._width - 1))
            bottom = min(bottom, max(top, max(self.rows, default=0)))
        return top, left, bottom, right

    def _fill(self, top: int, left: int, bottom: int, right: int) -> bool:
        first = self.rows.get(top, [])
        value = first[left] if left < len(first) else None
        if value is None:
            return False
        if (bottom - top + 1) * (right - left + 1) > limits.MAX_MERGED_CELLS:
            self._refuse(
                f"a merged range of rows {top} to {bottom}",
                f"at most {limits.MAX_MERGED_CELLS:,} cells in it",
            )
        for number in range(top, bottom + 1):
            cells = self.rows.setdefault(number, [])
            cells.extend([None] * (right + 1 - len(cells)))
            # A value that hides under the merge is kept: nothing received is lost.
            cells[left : right + 1] = [value if cell is None else cell for cell in cells[left : right + 1]]
            self._count(len(cells), len(value) * (right + 1 - left))
        self.last_row = max(self.last_row, bottom)
        return True

    def _merge_notice(self, filled: list[Range]) -> list[Notice]:
        if not filled:
            return []
        named = ", ".join(_area_name(area) for area in filled[: limits.NAMED_ROWS])
        more = ", ..." if len(filled) > limits.NAMED_ROWS else ""
        what = "1 merged range" if len(filled) == 1 else f"{len(filled)} merged ranges"
        return [
            Notice(
                "merged-filled",
                "note",
                f"{place(self.source, self.sheet)}: {what} ({named}{more}); the value "
                "was filled into every cell of the range.",
                filled[0][0],
            )
        ]


def _area_name(area: Range) -> str:
    top, left, bottom, right = area
    return f"{column_letters(left)}{top}:{column_letters(right)}{bottom}"


def column_letters(column: int) -> str:
    """The letters of a column counted from 0: A, B, ... Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def column_number(letters: str) -> int:
    """The column, counted from 0, of its letters. Raises ValueError for anything but A to Z."""
    number = 0
    for letter in letters:
        if not "A" <= letter <= "Z":
            raise ValueError(f"no column: {letters[:12]}")
        number = number * 26 + ord(letter) - 64
    if not number:
        raise ValueError("a cell without column")
    return number - 1
