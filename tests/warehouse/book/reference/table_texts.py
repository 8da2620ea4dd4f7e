"""Reference tables written as CSV texts in a test, checked row by row; they stand in a file called x.csv."""

import csv
import io

from warehouse.book.reference import TABLES, Row, Rows, check_rows


def rows_of(table: str, text: str, file: str = "x.csv") -> list[Row]:
    """The checked rows of a text: headings, then rows."""
    return check_rows(table, file, list(enumerate(csv.DictReader(io.StringIO(text)), start=2)))


def tables_of(**texts: str) -> Rows:
    """Every table, those without a text empty; each stands in a file of its own name: minimum.csv."""
    return {table: rows_of(table, texts[table], f"{table}.csv") if table in texts else [] for table in TABLES}
