"""Read delimited text (comma, semicolon, tab, bar) into a grid of text.

Two paths give the same grid. The fast one lets Polars cut a regular text; bytes are counted to prove that it
was regular. Whatever is not (CR line ends, rows wider than the heading line, stray quotation marks) is read
with care.
"""

import re

import polars as pl

from loaders.readers import limits
from loaders.readers.careful_csv import read_carefully
from loaders.readers.delimiter import Shape, find_shape
from loaders.readers.encoding import to_utf8
from loaders.readers.extra_cells import extra_cell_notices
from loaders.readers.finish import finish
from loaders.readers.grid import Grid
from loaders.readers.source import Source
from loaders.readers.tally import BOM, tally

# U+FEFF, U+200B, U+200C, U+200D, U+2060 as UTF-8, before a quotation mark would hide it from the parser.
_INVISIBLE_START = re.compile(rb"(?:\xef\xbb\xbf|\xe2\x80[\x8b-\x8d]|\xe2\x81\xa0)+")


def read_delimited(source: Source) -> Grid:
    """Read `source` as delimited text: every record a row, its number the record's, blank records counted.

    Raises FileRefused: binary content, an open quotation mark, too many columns, an overlong cell.
    """
    data, notices = to_utf8(source)
    data = _without_invisible_start(data)
    shape = find_shape(data)
    rows, records = read_fast(data, shape) or read_carefully(source, data, shape)
    del data
    return finish(source, rows, records, (*notices, *extra_cell_notices(source, rows, shape)))


def _without_invisible_start(data: bytes) -> bytes:
    found = _INVISIBLE_START.match(data)
    # A single byte-order mark is left to the parsers: cutting it off would copy the whole text.
    return data if found is None or found.group() == BOM else data[found.end() :]


def read_fast(data: bytes, shape: Shape) -> tuple[pl.DataFrame, int] | None:
    """Cut a regular UTF-8 text with Polars into rows and their count, or give None when it is not proved
    regular.

    Proved: the rows are as many as the line ends outside of quotation marks, and the bytes of all cells make
    up the file together with the delimiters, line ends and quotation marks between them.
    """
    counted = None if shape.widest > min(shape.expected, limits.MAX_COLUMNS) else tally(data, shape.delimiter)
    if counted is None:
        return None
    schema = {f"c{number}": pl.String for number in range(shape.widest)}
    quoted = b'"' in data
    try:
        rows = pl.read_csv(
            data,
            has_header=False,
            separator=shape.delimiter,
            schema=schema,
            quote_char='"' if quoted else None,
        )
    except pl.exceptions.PolarsError:
        return None  # uneven rows or an overlong cell: the careful path finds out which and where
    cells = rows.select(pl.sum_horizontal(pl.all().str.len_bytes().sum())).item()
    records = counted.line_feeds + (not data.endswith(b"\n"))
    if rows.height != records or cells + counted.outside != len(data):
        return None
    if quoted:
        rows = rows.with_columns(pl.when(pl.all() != "").then(pl.all()))
    return rows.with_row_index("row", 1).with_columns(pl.col("row").cast(pl.Int32)), records
