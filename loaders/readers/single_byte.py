"""Choose between two old single-byte encodings by which reading looks like written language.

Both give a text for nearly every byte, so no error decides; but in the wrong one a small accented letter
turns into a capital or a dash inside a word (`Cañon` as `CaÒon`), and a quotation mark into a letter.
"""

import re

WINDOWS = "cp1252"
MACINTOSH = "mac_roman"
NAMES = {WINDOWS: "Windows-1252 (cp1252)", MACINTOSH: "MacRoman (mac_roman)"}
# Enough to settle the question; more would only cost time on a large file.
_LOOKED_AT = 2000
_HIGH = re.compile(rb"[\x80-\xff]")


def choose(data: bytes) -> str:
    """Name the codec (WINDOWS or MACINTOSH) under which the high bytes of `data` read more like language."""
    if _has_undefined(data):
        return MACINTOSH
    contexts = _contexts(data)
    return MACINTOSH if _score(contexts, MACINTOSH) > _score(contexts, WINDOWS) else WINDOWS


def _has_undefined(data: bytes) -> bool:
    return re.search(rb"[\x81\x8d\x8f\x90\x9d]", data) is not None


def _contexts(data: bytes) -> list[bytes]:
    found: list[bytes] = []
    for match in _HIGH.finditer(data):
        at = match.start()
        found.append((data[at - 1 : at] if at else b" ") + match.group() + (data[at + 1 : at + 2] or b" "))
        if len(found) == _LOOKED_AT:
            break
    return found


def _score(contexts: list[bytes], codec: str) -> int:
    return sum(_plausible(*context.decode(codec, errors="replace")) for context in contexts)


def _plausible(before: str, sign: str, after: str) -> int:
    if sign.isalpha():
        return _plausible_letter(before, sign, after)
    if sign in "“‘":
        return 2 if not before.isalnum() and not after.isspace() else -1
    if sign in "”’":
        return 2 if not before.isspace() else -1
    if sign in "½¼¾°–—…\u00a0":
        return -1 if before.isalpha() and after.isalpha() else 1
    return -1


def _plausible_letter(before: str, sign: str, after: str) -> int:
    if sign in "ªºƒˆ":
        return -1
    if not before.isalpha() and not after.isalpha():
        return -1
    if sign.isupper():
        return -2 if before.islower() else 1
    return 2
