"""Tell what a file is by its first bytes; a name is only a hint for plain text."""

import json
import re
from pathlib import PurePath

from loaders.readers.source import Source
from warehouse.errors import FileRefused

ZIP, PARQUET, LINES, DELIMITED = "zip", "parquet", "lines", "delimited"

_SAVE = "Save the sheet as XLSX or CSV and load that file"
_UNPACK = "Unpack it and load the file inside"
# First bytes, what they mean, what to do. (Common practice, no single source: each format's own signature.)
_FOREIGN: tuple[tuple[bytes, str, str], ...] = (
    (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
        "an old .xls workbook, or one locked with a password",
        "Open it in a spreadsheet program and save it as XLSX (without password) or CSV, then load that file",
    ),
    (b"%PDF", "a PDF document", "Type the sheets into a table, or ask the sender for XLSX or CSV"),
    (b"\x89PNG", "a PNG picture", "Type the sheets into a table and save it as XLSX or CSV"),
    (b"\xff\xd8\xff", "a JPEG picture", "Type the sheets into a table and save it as XLSX or CSV"),
    (b"GIF8", "a GIF picture", "Type the sheets into a table and save it as XLSX or CSV"),
    (b"II*\x00", "a TIFF picture", "Type the sheets into a table and save it as XLSX or CSV"),
    (b"MM\x00*", "a TIFF picture", "Type the sheets into a table and save it as XLSX or CSV"),
    (b"\x1f\x8b", "a gzip archive", _UNPACK),
    (b"BZh", "a bzip2 archive", _UNPACK),
    (b"\xfd7zXZ\x00", "an xz archive", _UNPACK),
    (b"\x28\xb5\x2f\xfd", "a zstd archive", _UNPACK),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive", _UNPACK),
    (b"Rar!", "a RAR archive", _UNPACK),
    (b"SQLite format 3\x00", "an SQLite database", "Export its table as CSV and load that file"),
    (b"{\\rtf", "a text document (RTF)", _SAVE),
)
_MARKUP = re.compile(rb"(?:\xef\xbb\xbf)?\s*<(?:!doctype\s+html|html|\?xml|table)", re.IGNORECASE)


def kind_of(source: Source) -> str:
    """Give ZIP, PARQUET, LINES or DELIMITED for `source`. Raises FileRefused for every other known content."""
    head = source.data[:64]
    if head.startswith(b"PK\x03\x04") or head.startswith(b"PK\x05\x06"):
        return ZIP
    if head.startswith(b"PAR1"):
        return PARQUET
    for sign, meaning, next_step in _FOREIGN:
        if head.startswith(sign):
            raise _foreign(source, meaning, next_step)
    if head[8:12] == b"DUCK":
        raise _foreign(source, "a database file of the warehouse's kind", "Export its table as CSV, or use its book")
    if _MARKUP.match(source.data[:200]):
        raise _foreign(source, "a web page or XML document", _SAVE)
    return LINES if _holds_json(source) else DELIMITED


def _foreign(source: Source, meaning: str, next_step: str) -> FileRefused:
    return source.refused(f"the content is {meaning}", "CSV, JSON Lines, XLSX, ODS or Parquet", next_step)


def _holds_json(source: Source) -> bool:
    if PurePath(source.name).suffix.lower() in (".jsonl", ".ndjson", ".json"):
        return True
    first = source.data[:65536].lstrip(b"\xef\xbb\xbf \t\r\n").split(b"\n", 1)[0]
    if not first.startswith(b"{"):
        return False
    try:
        return isinstance(json.loads(first), dict)
    except (ValueError, RecursionError):
        return False
