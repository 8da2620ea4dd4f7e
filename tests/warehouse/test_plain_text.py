"""Text from strangers on one line of a terminal."""

import pytest

from warehouse.plain_text import shown


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("plain ½ é 21 3/8″", "plain ½ é 21 3/8″"),
        ("../../x", "../../x"),
        ("C:\\x", "C:\\x"),
        ("gnp\u202ecsv.exe", "gnp\\u202ecsv.exe"),
        ("a\x1b[2Jb\r\nc\td\x00", "a\\x1b[2Jb\\x0d\\x0ac\\x09d\\x00"),
        ("\ufeffips\u200b", "\\ufeffips\\u200b"),
        ("a\u2028b\u2029\x85", "a\\u2028b\\u2029\\x85"),
        ("\udcff.csv", "\\udcff.csv"),
        ("\U000e0041", "\\U000e0041"),
        ("", ""),
    ],
)
def test_acting_characters_are_written_as_codes(text: str, expected: str) -> None:
    assert shown(text) == expected


def test_long_text_is_cut_with_an_ellipsis() -> None:
    assert shown("abcdef", 6) == "abcdef"
    assert shown("abcdefg", 6) == "abcdef…"
    assert shown("\x1b" * 9, 2) == "\\x1b\\x1b…"
