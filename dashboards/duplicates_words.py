"""What the command and the page say of a pair of entries that may be one head."""

from collections.abc import Sequence

from warehouse.eighths import EIGHTHS, text_of

KINDS = {
    "same-head": "Every measure is the same",
    "same-tag": "The same tag number",
    "measured-again": "The same hunter, date and area, measured again",
    "other-category": "Entered in another category as well",
    "near-head": "The same date and area, and nearly the same measures",
}
DECIDED = {"one head": "Decided: one head", "two heads": "Decided: two heads"}


def kind_words(kind: str | None) -> str:
    """A kind of pair in words; none stands for a pair that only its decision brings up."""
    return KINDS.get(kind or "", "Found by a person")


def alike_words(kinds: Sequence[str], near: int | None, unit: int | None) -> list[str]:
    """All that is alike of a pair, the strongest first, and how far apart its measures are."""
    words = [kind_words(kind) for kind in kinds or (None,)]
    if "same-head" in kinds and "near-head" in kinds:
        words[kinds.index("near-head")] = "The same date and area"
        return words
    return [*words, near_words(near, unit)]


def near_words(near: int | None, unit: int | None) -> str:
    """How far apart the measures are, `near` in parts of 1/`unit` inch; null: they cannot be held against each other."""
    if near is None:
        return "the measures cannot be compared"
    if near == 0:
        return "no measure differs"
    return f"the measures differ by {text_of(near, unit or EIGHTHS)} inches in all"
