"""Find the delimiter and the usual width of a delimited text from its first records."""

import csv
import io
from collections import Counter
from dataclasses import dataclass

from loaders.readers import limits

# In the order preferred when all else is equal: a comma also stands inside numbers, a semicolon hardly does.
DELIMITERS = (";", "\t", "|", ",")
_PAIR = 2
_BLOCK_ROWS = 3


@dataclass(frozen=True)
class Shape:
    """`delimiter`; `widest`: cells of the widest sampled record; `expected`: cells of the heading line."""

    delimiter: str
    widest: int
    expected: int
    heading_row: int


def find_shape(data: bytes) -> Shape:
    """Choose the delimiter of the UTF-8 text `data` by how evenly it cuts the first records, quotes
    respected.

    The share of records with the most common width (two cells or more) decides, then the greater width, then
    the order of DELIMITERS. So `21,5;x` under `beam;note` is two cells, not `21` and `5;x`.
    """
    text = _sample(data)
    best = max(DELIMITERS, key=lambda sign: (_evenness(_records(text, sign)), -DELIMITERS.index(sign)))
    records = _records(text, best)
    row, expected = _heading(records)
    return Shape(best, max((len(record) for record in records), default=1) or 1, expected, row)


def _sample(data: bytes) -> str:
    part = data[: limits.SAMPLE_BYTES]
    if len(part) < len(data):
        part = part[: max(part.rfind(b"\n"), part.rfind(b"\r")) + 1] or part
    return part.decode("utf-8-sig", errors="ignore")


def _records(text: str, delimiter: str) -> list[list[str]]:
    found: list[list[str]] = []
    try:
        for record in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
            found.append(record)
            if len(found) == limits.SAMPLE_RECORDS:
                break
    except csv.Error:
        pass  # an overlong cell: the reading proper names it
    return found


def _evenness(records: list[list[str]]) -> tuple[float, int]:
    widths = Counter(len(record) for record in records if len(record) > 1)
    if not widths:
        return 0.0, 0
    width, count = max(widths.items(), key=lambda item: (item[1], item[0]))
    return count / sum(1 for record in records if record), width


def _heading(records: list[list[str]]) -> tuple[int, int]:
    usual = _evenness(records)[1]
    for row, record in enumerate(records, start=1):
        if sum(1 for cell in record if cell) > 1 and len(record) * 2 > usual:
            return _block_of_form(records, row) or (row, len(record))
    return 1, max(usual, 1)


def _block_of_form(records: list[list[str]], row: int) -> tuple[int, int] | None:
    # A form of one sheet begins with pairs of label and value; its wider block, further down, sets the width.
    widths = [len(record) for record in records]
    if widths[row - 1] > _PAIR or widths[row : row + 1] != [_PAIR]:
        return None
    for at in range(row, len(widths) - _BLOCK_ROWS + 1):
        if widths[at] > _PAIR and widths[at : at + _BLOCK_ROWS] == [widths[at]] * _BLOCK_ROWS:
            return at + 1, widths[at]
    return None
