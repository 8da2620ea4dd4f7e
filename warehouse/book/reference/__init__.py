"""The book's reference tables: areas and their history, measurers, seasons, record books, minimums, effort, panels.

`check_rows` holds rows to their table, `put` holds whole tables against each other and puts them into a book with an
event of the log each; `look_ups` is what the loaders read.
"""

from warehouse.book.reference.book_rows import WEAPON_CLASSES, WEAPONS
from warehouse.book.reference.look_ups import read_area_history, read_mapping, read_names, save_mapping
from warehouse.book.reference.replacing import Change, Told, plan, put
from warehouse.book.reference.row_checks import check_rows
from warehouse.book.reference.store import read_rows, rows_text, write_rows
from warehouse.book.reference.tables import TABLES, Row, Rows, refuse

__all__ = [
    "TABLES",
    "WEAPONS",
    "WEAPON_CLASSES",
    "Change",
    "Row",
    "Rows",
    "Told",
    "check_rows",
    "plan",
    "put",
    "read_area_history",
    "read_mapping",
    "read_names",
    "read_rows",
    "refuse",
    "rows_text",
    "save_mapping",
    "write_rows",
]
