import pytest

from dashboards.words import WORD_JOINER, age_words, category_words, code_words, counted, field_words, plain
from warehouse.audit.codes import CODES


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tarn Holtquarry", "Tarn Holtquarry"),
        ("[a](b)", r"\[a\]\(b\)"),
        ("<img src=x>", r"\<img src\=x\>"),
        ("a\n# b\tc", r"a\x0a\# b\x09c".replace(r"\x0a", r"\\x0a").replace(r"\x09", r"\\x09")),
        (":red[x]", rf"\:{WORD_JOINER}red\[x\]"),
        (":material/home:", rf"\:{WORD_JOINER}material\/home\:"),
        ("a -> b -- c", rf"a \-{WORD_JOINER}\> b \-{WORD_JOINER}\- c"),
        ("$x$ `y` _z_", r"\$x\$ \`y\` \_z\_"),
        ("gnp\u202e.exe", r"gnp\\u202e\.exe"),
        ("2024-25", r"2024\-25"),
        ("see https://a.b", rf"see https\:{WORD_JOINER}\/\/a\.b"),
        ("WWW.a.b", rf"WWW{WORD_JOINER}\.a\.b"),
        ("x@a.b", rf"x\@{WORD_JOINER}a\.b"),
    ],
)
def test_plain_acts_on_nothing(text: str, expected: str) -> None:
    assert plain(text) == expected


def test_every_code_of_the_audit_has_words() -> None:
    assert [code for code in CODES if code_words(code) == code.replace("-", " ")] == []
    assert code_words("g2_diff") == "G2 difference does not add up"
    assert code_words("deductions") == "Deductions do not add up"
    assert code_words("from-a-later-version") == "from a later version"


def test_fields_and_categories_have_words() -> None:
    assert [field_words(field) for field in ("g2_r", "h1_l", "beam_diff", "net", "taken_on")] == [
        "G2, right", "H1 circumference, left", "Main beam difference", "Net score", "Date taken",
    ]  # fmt: skip
    assert category_words("whitetail-typical") == "White-tailed deer, typical"
    assert category_words("unheard-of") == "unheard-of"
    assert category_words(None) == "Not known"


@pytest.mark.parametrize(
    ("half_years", "words"), [(9, "4.5 years"), (8, "4 years"), (2, "1 year"), (1, "0.5 years"), (None, None)]
)
def test_ages_in_words(half_years: int | None, words: str | None) -> None:
    assert age_words(half_years) == words


def test_counts_agree_with_their_noun() -> None:
    assert [counted(1, "sheet"), counted(1204, "sheet"), counted(2, "entry", "entries")] == [
        "1 sheet", "1,204 sheets", "2 entries",
    ]  # fmt: skip
