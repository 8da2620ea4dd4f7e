"""What an edition may be called."""

import pytest

from warehouse.book.editions.names import checked_name
from warehouse.errors import EditionRefused


@pytest.mark.parametrize("name", ["2026", "Spring 2026", "2025-26_b.2", "Frühjahr", "年鑑 2026", "a" * 40, "-1"])
def test_names_that_are_taken(name: str) -> None:
    assert checked_name(name) == name


def test_one_spelling_of_a_letter_is_kept() -> None:
    assert checked_name("Fru\u0308hjahr") == "Fr\u00fchjahr"


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("../2026", "its name holds '/'"),
        ("a\\b\nc", r"its name holds '\x0a', '\'"),
        ("\u202e6202", r"its name holds '\u202e'"),
        ("<b>&'", "its name holds '&', ''', '<', '>'"),
        ("=1+1", "its name holds '+', '='"),
        ("\u3164", "its name holds 'ㅤ'"),
        ("٢٠٢٦", "its name holds '٠', '٢', '٦'"),
    ],
)
def test_signs_that_are_not(name: str, says: str) -> None:
    with pytest.raises(EditionRefused) as refusal:
        checked_name(name)
    assert str(refusal.value).partition(": ")[2] == (
        says + "; a name is made of letters, digits, spaces and the signs - _ . ; nothing was published"
    )


@pytest.mark.parametrize("name", ["", " ", ".", "..", "-_.", " 2026", "2026 "])
def test_names_without_a_letter_or_with_blanks_around_them(name: str) -> None:
    with pytest.raises(EditionRefused) as refusal:
        checked_name(name)
    assert str(refusal.value) == (
        f"edition {name!r}: a name needs a letter or a digit, and no space before or behind it, like 2026; "
        "nothing was published"
    )


def test_a_long_name() -> None:
    with pytest.raises(EditionRefused) as refusal:
        checked_name("b" * 41)
    assert str(refusal.value) == (
        f"edition '{'b' * 40}…': its name has 41 characters; up to 40 are taken; nothing was published"
    )
