"""Workbooks whose bytes do not depend on the day they are written."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

from openpyxl import Workbook

WRITTEN_AT = b"2026-07-01T00:00:00Z"
ZIP_DATE = (2026, 7, 1, 0, 0, 0)


def save_workbook(book: Workbook, path: Path) -> None:
    """Save with fixed dates and without compression (compressors differ from machine to machine)."""
    loose = io.BytesIO()
    book.save(loose)
    with zipfile.ZipFile(loose) as made, zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as fixed:
        for name in sorted(made.namelist()):
            data = made.read(name)
            if name == "docProps/core.xml":
                data = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", WRITTEN_AT, data)
            entry = zipfile.ZipInfo(name, ZIP_DATE)
            entry.create_system = 3
            fixed.writestr(entry, data)
