"""Where in a file a byte stands, in words a person can follow."""

from warehouse.plain_text import shown

_AROUND = 12


def line_of(data: bytes, offset: int) -> int:
    """The text line (1 = first) of the byte at `offset`, for LF, CRLF and CR line ends."""
    before = data[:offset]
    return 1 + before.count(b"\n") + before.count(b"\r") - before.count(b"\r\n")


def text_around(data: bytes, offset: int, encoding: str) -> str:
    """The text of the same line around `offset`, decoded with `encoding`, bad bytes as codes, safe to print."""
    start, end = max(0, offset - _AROUND), offset + _AROUND
    head = data[start:offset].replace(b"\r", b"\n").rpartition(b"\n")[2]
    tail = data[offset:end].replace(b"\r", b"\n").partition(b"\n")[0]
    return shown((head + tail).decode(encoding, errors="replace"))
