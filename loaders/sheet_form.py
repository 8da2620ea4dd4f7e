"""A one-sheet-per-file form: labels beside values, and the lines of the sheet as a small table.

Hunter      | J. Example
County      | Ash
            | Right  | Left   | Difference
Main beam   | 21 2/8 | 20 7/8 | 3/8
G1          | 5 0/8  | 5 1/8  | 1/8
Gross score | 139 2/8
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from loaders.headings import field_of, line_of, side_of
from loaders.readers.grid import Grid

MOST_ROWS, MOST_COLUMNS = 300, 60  # a form is one page; anything larger is a list

Row = Sequence[str | None]


@dataclass
class Form:
    """What a form says: `headings` (label, with its side for a line) beside `cells`; `row` is the form's first row."""

    row: int
    headings: list[str] = field(default_factory=list)
    cells: list[str | None] = field(default_factory=list)
    matched: int = 0

    def add(self, heading: str, cell: str | None) -> None:
        """Keep a value under its label; the count of labels that are fields of ours tells a form from a list."""
        self.headings.append(heading)
        self.cells.append(cell)
        self.matched += field_of(heading) is not None


def read_form(grid: Grid) -> Form | None:
    """Read the grid as a form. None where it is too large to be one, or empty."""
    if grid.rows.height > MOST_ROWS or grid.rows.width > MOST_COLUMNS or not grid.rows.height:
        return None
    form = Form(row=int(grid.rows["row"][0]))
    sides: dict[int, str] = {}
    for row in grid.rows.drop("row").rows():
        found = {place: side for place, cell in enumerate(row) if (side := side_of(cell))}
        if len(found) > 1:
            sides = found
        elif not _read_line(row, sides, form):
            _read_pairs(row, form)
    return form


def _read_line(row: Row, sides: dict[int, str], form: Form) -> bool:
    """A line of the small table: its label, then a measure under Right, Left and perhaps Difference."""
    if not sides:
        return False
    label = next((cell for cell in row[: min(sides)] if cell and cell.strip()), None)
    line = line_of(label)
    if line is None:
        return False
    words = {"_r": "right", "_l": "left", "_diff": "difference"}
    pair = field_of(f"{line} right") is not None
    for place, side in sides.items():
        if pair:
            form.add(f"{label} {words[side]}", row[place])
    if not pair:
        form.add(str(label), next((row[place] for place in sides if row[place]), None))
    return True


def _read_pairs(row: Row, form: Form) -> None:
    """Label and value beside each other, perhaps several pairs in a row; a blank between them does not matter."""
    label: str | None = None
    for cell in row:
        if cell is None or not cell.strip():
            continue
        if field_of(cell.rstrip(": ")) is not None and label is None:
            label = cell
        elif label is not None:
            form.add(label, cell)
            label = None
        else:
            label = cell
    if label is not None and field_of(label) is not None:
        form.add(label, None)
