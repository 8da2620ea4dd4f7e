"""Take the plainly written rows out of a sheet's XML before it reaches the parser, which costs four times as
much.

Spreadsheet programs write nearly every row in one form: cells with reference, style, type and one value. Rows
in that form are cut with a regular expression that must account for every byte; any other row goes to the
parser.
"""

import re
from collections.abc import Callable, Iterable, Iterator

PlainCell = tuple[str, str, str, str, str, str]

_ROW_END = b"</row>"
_ROW = re.compile(rb'<row r="(\d{1,7})"[^<>]*>')
# Runs of rows without any value: only the last of a run is needed, for its number.
_BLANK_ROWS = re.compile(
    rb'(?:<row r="\d{1,7}"(?:[^<>]*[^<>/])?>(?:<c [^<>]*/>)*</row>|<row r="\d{1,7}"[^<>]*/>)+(?=<row r=)'
)
# Column letters, style, type, value, text written in place; the last group is whatever else stands there.
_CELL = re.compile(
    r'<c r="([A-Z]{1,3})\d+"(?: s="(\d+)")?'
    r'(?:(?: t="([nsb])")?(?:/>|><v>([^<&\s]*)</v></c>)'
    r'| t="inlineStr"><is><t(?: xml:space="preserve")?>([^<&\r\x00-\x08\x0b\x0c\x0e-\x1f]*)</t></is></c>)'
    r"|(.+)",
    re.DOTALL,
)
_UTF_8 = re.compile(
    rb"""\s*(?:<\?xml version=["']1\.0["'](?: encoding=["'][Uu][Tt][Ff]-8["'])?"""
    rb"""(?: standalone=["']\w+["'])?\s*\?>\s*)?<(?!\?)"""
)
# A row longer than this is left to the parser: gathering it first would only cost memory.
_LONGEST_ROW = 1 << 20


def without_plain_rows(chunks: Iterable[bytes], keep: Callable[[int, list[PlainCell]], None]) -> Iterator[bytes]:
    """Give the XML of `chunks` without its plain rows, each of which goes to `keep` (row number, cells) in
    order.

    Between the bytes given out and the rows kept the order of the file holds. Comments, CDATA and document
    types end the cutting, since what looks like a row inside them is none.
    """
    pending, cutting, first = b"", True, True
    for chunk in chunks:
        data = pending + chunk
        if cutting and (b"<!" in data or len(data) > _LONGEST_ROW or (first and not _UTF_8.match(data))):
            cutting = False
        first = False
        if not cutting:
            pending = b""
            yield data
            continue
        *pieces, pending = _BLANK_ROWS.sub(b"", data).split(_ROW_END)
        for piece in pieces:
            number, cells = _plain(piece)
            if number:
                keep(number, cells)
            else:
                yield piece + _ROW_END
    yield pending


def _plain(piece: bytes) -> tuple[int, list[PlainCell]]:
    row = _ROW.match(piece)
    if row is None:
        return 0, []
    body = piece[row.end() :]
    if b"</" not in body and b"<row" not in body and b"<c " in body:
        return int(row[1]), []  # styled cells without a value
    try:
        cells = _CELL.findall(body.decode("utf-8"))
    except UnicodeDecodeError:
        return 0, []
    if cells and cells[-1][-1]:
        return 0, []
    return int(row[1]), cells
