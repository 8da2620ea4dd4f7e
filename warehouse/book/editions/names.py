"""What an edition may be called: its name stands on every page and in the log, so nothing in it may act."""

import unicodedata

from warehouse.errors import EditionRefused
from warehouse.plain_text import shown

MOST_SIGNS = 40
_SIGNS = " -_."
_UNSEEN = "\u115f\u1160\u3164\uffa0"  # letters by their category, yet blank on the page (Hangul fillers)


def checked_name(name: str) -> str:
    """The name as it is kept (Unicode form C). Raises EditionRefused for a name that is none."""
    kept = unicodedata.normalize("NFC", name)
    odd = sorted({sign for sign in kept if not _is_allowed(sign)})
    if odd:
        held = ", ".join(f"'{shown(sign)}'" for sign in odd[:5])
        raise EditionRefused(
            f"edition '{shown(name, MOST_SIGNS)}': its name holds {held}; "
            "a name is made of letters, digits, spaces and the signs - _ . ; nothing was published"
        )
    if len(kept) > MOST_SIGNS:
        raise EditionRefused(
            f"edition '{shown(kept, MOST_SIGNS)}': its name has {len(kept)} characters; up to {MOST_SIGNS} are taken; "
            "nothing was published"
        )
    if kept != kept.strip() or not any(sign.isalnum() for sign in kept):
        raise EditionRefused(
            f"edition '{shown(kept)}': a name needs a letter or a digit, and no space before or behind it, like 2026; "
            "nothing was published"
        )
    return kept


def checked_text(what: str, text: str) -> str:
    """The name of who publishes, or the reason, without blanks around it. Raises EditionRefused where there is none."""
    if not text.strip():
        raise EditionRefused(f"an edition needs a {what}; nothing was published")
    return text.strip()


def _is_allowed(sign: str) -> bool:
    if sign.isascii():
        return sign.isalnum() or sign in _SIGNS
    return sign.isalpha() and sign not in _UNSEEN
