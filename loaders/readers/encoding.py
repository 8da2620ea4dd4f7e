"""Bring the bytes of a text file to UTF-8, and say so whenever that took a guess."""

import codecs
import re

from loaders.readers import limits, single_byte
from loaders.readers.excerpt import line_of, text_around
from loaders.readers.grid import Notice
from loaders.readers.source import Source
from warehouse.plain_text import shown

_STEP = 4 * limits.MIB
_TEXT_CONTROLS = b"\t\n\r\x0b\x0c\x1b"
_MULTIBYTE = re.compile(rb"[\xc2-\xdf][\x80-\xbf]|[\xe0-\xef][\x80-\xbf]{2}|[\xf0-\xf4][\x80-\xbf]{3}")
_HIGH = bytes(range(0x80, 0x100))
_SAVE_AS_UTF8 = "Check names and quotation marks, or save the file as UTF-8 and load it again"


def to_utf8(source: Source) -> tuple[bytes, tuple[Notice, ...]]:
    """Give the text of `source` as valid UTF-8 bytes and the notices about its encoding.

    Read without a word: UTF-8 (with or without byte-order mark) and UTF-16 with one. Read with a question
    (`encoding-guessed`): UTF-16 without a mark, Windows-1252, MacRoman. Raises FileRefused for anything
    binary.
    """
    data, marked = source.data, _marked_utf16(source.data)
    if marked:
        return _from_utf16(source, data[2:], marked, 2), ()
    if b"\0" in data:
        return _unmarked_utf16(source)
    _refuse_controls(source, data)
    bad = first_bad_byte(data)
    return (data, ()) if bad is None else _from_single_byte(source, bad)


def first_bad_byte(data: bytes) -> int | None:
    """Offset of the first byte that is not valid UTF-8, or None; works in steps, so it needs little memory."""
    if data.isascii():
        return None
    start, view = 0, memoryview(data)
    while start < len(data):
        step = view[start : start + _STEP]
        try:
            used = codecs.utf_8_decode(step, "strict", start + _STEP >= len(data))[1]
        except UnicodeDecodeError as fault:
            return start + fault.start
        start += used
    return None


def _marked_utf16(data: bytes) -> str:
    if data.startswith(codecs.BOM_UTF16_LE):
        return "utf-16-le"
    return "utf-16-be" if data.startswith(codecs.BOM_UTF16_BE) else ""


def _from_utf16(source: Source, data: bytes, codec: str, skipped: int) -> bytes:
    try:
        text = data.decode(codec)
    except UnicodeDecodeError as fault:
        line = 1 + data[: fault.start].decode(codec, errors="replace").count("\n")
        raise source.refused(
            f"the {codec.upper()} text breaks off at byte offset {skipped + fault.start}, line {line}",
            "whole characters",
            "Ask the sender for the file again",
        ) from fault
    if "\0" in text:
        raise source.refused(
            f"line {1 + text[: text.index(chr(0))].count(chr(10))} holds a NUL character",
            "text only",
            "Save the sheet as CSV (UTF-8) and load it again",
        )
    return text.encode("utf-8")


def _unmarked_utf16(source: Source) -> tuple[bytes, tuple[Notice, ...]]:
    codec = _guess_utf16(source.data)
    if not codec:
        at = source.data.index(b"\0")
        raise source.refused(
            f"byte offset {at}, line {line_of(source.data, at)}, is NUL: this is not a text file",
            "CSV, JSON Lines, XLSX, ODS or Parquet",
            "Save the sheet as CSV (UTF-8) and load it again",
        )
    text = _from_utf16(source, source.data, codec, 0)
    return text, (
        Notice(
            "encoding-guessed",
            "question",
            (
                f"{shown(source.name)} has no byte-order mark; every second byte is zero, so it was read as "
                f"{codec.upper()}, and its first line then begins '{_first_line(text)}'. {_SAVE_AS_UTF8}."
            ),
        ),
    )


def _guess_utf16(data: bytes) -> str:
    sample = data[: limits.SAMPLE_BYTES]
    pairs = len(sample) // 2
    first, second = sample[0::2].count(0), sample[1::2].count(0)
    if len(data) % 2 or pairs == 0:
        return ""
    if second > pairs * 0.6 and first == 0:
        return "utf-16-le"
    return "utf-16-be" if first > pairs * 0.6 and second == 0 else ""


def _first_line(text: bytes) -> str:
    lines = text[:400].decode("utf-8", errors="ignore").splitlines()
    return shown(lines[0] if lines else "", limits.SHOWN_CHARACTERS)


def _refuse_controls(source: Source, data: bytes) -> None:
    sample = data[: limits.SAMPLE_BYTES]
    controls = bytes(sign for sign in range(0x20) if sign not in _TEXT_CONTROLS)
    count = len(sample) - len(sample.translate(None, controls))
    if count > len(sample) * limits.MAX_CONTROL_SHARE:
        raise source.refused(
            f"{count} of the first {len(sample)} bytes are control signs: this is not a text file",
            "CSV, JSON Lines, XLSX, ODS or Parquet",
            "Save the sheet as CSV (UTF-8) and load it again",
        )


def _from_single_byte(source: Source, bad: int) -> tuple[bytes, tuple[Notice, ...]]:
    data = source.data
    rest, whole = _MULTIBYTE.subn(b"", data)
    mixed = whole > len(rest) - len(rest.translate(None, _HIGH))
    codec = single_byte.choose(rest if mixed else data)
    other = single_byte.MACINTOSH if codec == single_byte.WINDOWS else single_byte.WINDOWS
    how = (
        f"its other accents are UTF-8, so only such bytes were read as {single_byte.NAMES[codec]}"
        if mixed
        else f"the file was read as {single_byte.NAMES[codec]}"
    )
    message = (
        f"{shown(source.name)} is not UTF-8: byte 0x{data[bad]:02X} at offset {bad}, "
        f"line {line_of(data, bad)}; {how}, which gives '{text_around(data, bad, codec)}' there "
        f"({single_byte.NAMES[other]} would give '{text_around(data, bad, other)}'). {_SAVE_AS_UTF8}."
    )
    text = _patched(data, codec) if mixed else data.decode(codec).encode("utf-8")
    return text, (Notice("encoding-guessed", "question", message),)


def _patched(data: bytes, codec: str) -> bytes:
    return data.decode("utf-8", errors=f"beamledger-{codec}").encode("utf-8")


def _register_patch(codec: str) -> None:
    def read_by_itself(fault: UnicodeError) -> tuple[str, int]:
        if not isinstance(fault, UnicodeDecodeError):
            raise fault
        return fault.object[fault.start : fault.end].decode(codec, errors="replace"), fault.end

    codecs.register_error(f"beamledger-{codec}", read_by_itself)


for _codec in single_byte.NAMES:
    _register_patch(_codec)
