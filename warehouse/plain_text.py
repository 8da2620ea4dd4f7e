"""Make any text safe to print on one line of a terminal or in a log.

File names and cells are other people's data. A control character can clear a screen or forge a second line,
and a bidirectional override such as U+202E can make `gnp.exe` read `exe.png`; so whatever acts instead of
being seen is written out as its code.
"""

import unicodedata

# Cc control, Cf invisible format signs (bidirectional overrides, zero widths), Cs lone surrogates, Co private
# use, Cn unassigned, Zl/Zp line and paragraph separators. (Unicode Standard Annex 44, general categories.)
_ACTING = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def shown(text: str, limit: int | None = None) -> str:
    r"""Give `text` with every acting character written as its code (`\x1b`, `\u202e`), on one line.

    With `limit` (characters, at least 1) a longer text is cut there and an ellipsis is put behind it, so that
    a cell of 60 KiB does not fill a message. Ordinary text, accents and fractions included, comes back
    unchanged.
    """
    cut = text if limit is None or len(text) <= limit else text[:limit]
    plain = "".join(_code(sign) if unicodedata.category(sign) in _ACTING else sign for sign in cut)
    return plain if len(cut) == len(text) else plain + "…"


def _code(sign: str) -> str:
    point = ord(sign)
    if point < 0x100:
        return f"\\x{point:02x}"
    return f"\\u{point:04x}" if point < 0x10000 else f"\\U{point:08x}"
