"""Tables as one ZIP of CSV files, with a code book of every column.

The same tables give the same bytes: times are fixed, and nothing is compressed, for compressors differ.
"""

import io
import zipfile
from collections.abc import Mapping

import polars as pl

from dashboards.publications.printed_text import plain
from dashboards.tables import csv_for_spreadsheets
from dashboards.trends.settings_rows import Row
from warehouse.trends.code_book import Column

_BEGINNING = (1980, 1, 1, 0, 0, 0)  # the earliest time that a ZIP can tell
SETTING_COLUMNS = ["setting", "value", "meaning"]


def zip_of(tables: Mapping[str, pl.DataFrame], columns: Mapping[str, Mapping[str, Column]]) -> bytes:
    """Each table (file name -> frame) as a CSV file, then code_book.csv: file, column, unit, meaning."""
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_STORED) as archive:
        for name, frame in {**tables, "code_book.csv": code_book(columns)}.items():
            entry = zipfile.ZipInfo(name, _BEGINNING)
            entry.create_system, entry.external_attr = 3, 0o644 << 16  # the same on every system
            archive.writestr(entry, csv_for_spreadsheets(plain(frame)).replace("\n", "\r\n").encode())
    return whole.getvalue()


def code_book(columns: Mapping[str, Mapping[str, Column]]) -> pl.DataFrame:
    """Every column of every file: file, column, unit, meaning."""
    rows = [
        (file, name, column.unit, column.meaning) for file, told in columns.items() for name, column in told.items()
    ]
    return pl.DataFrame(rows, schema=["file", "column", "unit", "meaning"], orient="row")


def settings_table(rows: list[Row]) -> pl.DataFrame:
    """Setting, value, meaning; a value that is none is empty."""
    told = [(name, "" if value is None else str(value), meaning) for name, value, meaning in rows]
    return pl.DataFrame(told, schema=SETTING_COLUMNS, orient="row")
