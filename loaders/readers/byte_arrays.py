"""Counting signs of a large or quoted text with arrays, inside and outside of quotation marks."""

import numpy as np
from numpy.typing import NDArray

from loaders.readers.quotes import quotes_removed

_STEP = 1 << 20


def count(data: bytes, delimiter: str) -> tuple[int, list[int], bool] | None:
    """Quotation marks a parser takes away, counts of delimiter, LF and CR outside of quotation marks, and whether
    some CR among them does not stand before an LF. None for quotation marks against RFC 4180.
    """
    quoted, returns = b'"' in data, b"\r" in data
    removed = quotes_removed(data, delimiter) if quoted else 0
    if removed is None:
        return None
    signs = [delimiter, "\n"] + (["\r"] if returns else [])
    counts = _counts(np.frombuffer(data, dtype=np.uint8), [ord(sign) for sign in signs], quoted)
    return removed, counts, returns and not _paired(data, quoted, counts[2])


def _paired(data: bytes, quoted: bool, returns: int) -> bool:
    if not quoted:
        return data.count(b"\r\n") == returns
    # A CR inside quotation marks is cell text; only those outside must stand before an LF.
    text = np.frombuffer(data, dtype=np.uint8)
    lone = np.flatnonzero(text[:-1] == 13)
    lone = lone[text[lone + 1] != 10]
    if data.endswith(b"\r"):
        return False
    marks = np.flatnonzero(text == 34)
    return bool((np.searchsorted(marks, lone) % 2 == 1).all())


def _counts(text: NDArray[np.uint8], signs: list[int], quoted: bool) -> list[int]:
    totals, inside = [0] * len(signs), False
    for at in range(0, len(text), _STEP):
        part = text[at : at + _STEP]
        if quoted:
            # Whether a byte stands inside quotation marks is the parity of the marks up to it.
            mask = np.logical_xor.accumulate(part == 34)
            within = ~mask if inside else mask
            inside = bool(within[-1])
            part = part[~within]
        for number, sign in enumerate(signs):
            totals[number] += int(np.count_nonzero(part == sign))
    return totals
