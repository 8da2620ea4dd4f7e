"""Read an XLSX workbook: every sheet with content becomes a grid, hidden sheets and rows included.

The parts are read directly, because number formats, error cells and formulas without a stored value decide
what a cell means, and no table reader gives all three together with speed.
"""

from loaders.readers.archive_checks import Archive
from loaders.readers.grid import Grid
from loaders.readers.xlsx_parts import Workbook, open_workbook
from loaders.readers.xlsx_sheet import SheetReader


def read_xlsx(archive: Archive) -> list[Grid]:
    """Grids of all sheets that hold a cell, in the workbook's order. Raises FileRefused: damaged or over a
    limit.
    """
    workbook = open_workbook(archive)
    return [grid for name, part in workbook.sheets if (grid := _sheet(archive, workbook, name, part)).rows.height]


def _sheet(archive: Archive, workbook: Workbook, name: str, part: str) -> Grid:
    reader = SheetReader(archive, workbook, name, part)
    reader.read()
    return reader.rows.grid(reader.merged)
