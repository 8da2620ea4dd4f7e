"""Count the bytes of a delimited text that belong to no cell, so that a parser's work can be checked."""

from dataclasses import dataclass

BOM = b"\xef\xbb\xbf"
_SMALL = 1 << 20  # under this, counting needs no arrays, and a check of one sheet does not wait for their import


@dataclass(frozen=True)
class Tally:
    """Bytes outside of cells: all of them, and the line feeds among them."""

    outside: int
    line_feeds: int


def tally(data: bytes, delimiter: str) -> Tally | None:
    """Count delimiters, line ends, quotation marks and byte-order mark of the UTF-8 text `data`.

    None when the text is irregular: quotation marks against RFC 4180, or a CR that does not stand before an
    LF.
    """
    if b'"' not in data and len(data) < _SMALL:
        removed, counts = 0, [data.count(sign) for sign in (delimiter.encode(), b"\n", b"\r")]
        irregular = data.count(b"\r\n") != counts[2]
    else:
        from loaders.readers import byte_arrays  # arrays for large or quoted text only

        found = byte_arrays.count(data, delimiter)
        if found is None:
            return None
        removed, counts, irregular = found
    if irregular:
        return None
    return Tally(sum(counts) + removed + (len(BOM) if data.startswith(BOM) else 0), counts[1])
