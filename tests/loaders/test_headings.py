"""Senders' headings matched to our fields, and what is said of those that match none."""

import tomllib
from pathlib import Path

import pytest

import loaders
from loaders.fields import all_fields
from loaders.headings import check_mapping, field_of, match_headings, suggestions
from warehouse.errors import MappingRefused

WORDS = tomllib.loads((Path(loaders.__file__).parent / "heading_words.toml").read_text(encoding="utf-8"))
SIDES = {"r": ("right", "R", "rt"), "l": ("Left", "L", "lt"), "diff": ("difference", "Diff")}
PHRASES = [(field, phrase) for field, phrases in WORDS["fields"].items() for phrase in phrases]
LINES = [(line, phrase) for line, phrases in WORDS["lines"].items() for phrase in phrases]


@pytest.mark.parametrize("field", all_fields())
def test_every_field_matches_itself(field: str) -> None:
    spellings = [field, field.upper(), field.replace("_", " "), f" {field} ", field.replace("_", "-"), f"{field}\u00a0"]
    assert [field_of(spelling) for spelling in spellings] == [field] * len(spellings)


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("R Main Beam", "beam_r"), ("main beam (right)", "beam_r"), ("G-2 L", "g2_l"), ("Inside Spr.", "inside_spread"),
        ("Right G1", "g1_r"), ("Right\u00a0G1", "g1_r"), ("RT BEAM", "beam_r"), ("G2 (L)", "g2_l"), ("L. G-4", "g4_l"),
        ("1st circumference R", "h1_r"), ("Circ. 4 left", "h4_l"), ("H-1 R", "h1_r"), ("Brow tine left", "g1_l"),
        ("Main Beam difference", "beam_diff"), ("Diff. G3", "g3_diff"), ("Total of differences", "diff_total"),
        ("Points R", "points_r"), ("Number of points (left)", "points_l"), ("Abnormal pts R", "abnormal_r"),
        ("County", "area"), ("Parish", "area"), ("Hunter's Name", "hunter"), ("Date of Kill", "taken_on"), ("Scored by", "measurer"),
        ("Final Score", "net"), ("GROSS SCORE", "gross"), ("Total Right", "right_total"), ("Greatest spread", "greatest_spread"),
        ("No.", "entry_no"), ("Method of take", "weapon"), ("\ufeffentry_no", "entry_no"),
    ],
)  # fmt: skip
def test_the_trades_variants(heading: str, field: str) -> None:
    assert field_of(heading) == field


@pytest.mark.parametrize(("field", "phrase"), PHRASES)
def test_a_fields_variant_means_that_field_alone(field: str, phrase: str) -> None:
    assert field_of(phrase) == field


@pytest.mark.parametrize(("line", "phrase"), LINES)
def test_a_lines_variant_means_that_line_alone(line: str, phrase: str) -> None:
    if line in all_fields():
        assert field_of(phrase) == line
        return
    endings = [side for side in SIDES if f"{line}_{side}" in all_fields()]
    found = {side: {field_of(f"{word} {phrase}") for word in SIDES[side]} for side in endings}
    assert found == {side: {f"{line}_{side}"} for side in endings}
    assert endings[:2] == ["r", "l"]


@pytest.mark.parametrize("heading", [None, "", "  ", "Landowner", "Beam", "G2", "remarks"])
def test_no_field(heading: str | None) -> None:
    assert field_of(heading) is None


@pytest.mark.parametrize(
    ("heading", "close"), [("Messurer", "measurer"), ("Gros Scor", "gross"), ("Inside Spredd", "inside_spread")]
)
def test_a_near_heading_is_suggested(heading: str, close: str) -> None:
    assert suggestions(heading)[0] == close
    assert field_of(heading) is None


def test_an_unmatched_heading_is_reported_with_suggestions() -> None:
    match = match_headings(["net", "Messurer"])
    (notice,) = match.notices
    assert match.fields == ("net", None)
    assert (notice.code, notice.severity, notice.column) == ("column-unmatched", "question", "Messurer")
    told = "Column 'Messurer' matches no field; its cells are kept as received but not read: did you mean measurer"
    assert notice.message.startswith(told)
    assert notice.message.endswith("? use --map 'Messurer'=FIELD")


def test_what_cannot_be_seen_in_a_heading_is_shown_as_code_points() -> None:
    (notice,) = match_headings(["Land\u200bowner"]).notices
    points = "U+004C U+0061 U+006E U+0064 U+200B U+006F U+0077 U+006E U+0065 U+0072"
    assert notice.message.startswith(f"Column 'Land\\u200bowner' (code points {points}) matches no field")


def test_a_field_claimed_twice_goes_to_neither() -> None:
    match = match_headings(["Net", "beam_r", "Final score", "Net score"])
    (notice,) = match.notices
    assert match.fields == (None, "beam_r", None, None)
    assert (notice.code, notice.severity, notice.column) == ("column-twice", "error", "net")
    assert notice.message == (
        "Columns 'Net' and 'Final score' and 'Net score' both mean net; neither was used. Rename one, or say which with --map"
    )


def test_a_saved_mapping_goes_first_and_may_set_a_column_aside() -> None:
    saved = {"Landowner": "-", "Final": "gross", "Net": "net"}
    match = match_headings(["Landowner", " Final ", "Net", "Beam R"], saved)
    assert match.fields == (None, "gross", "net", "beam_r")
    assert match.notices == ()


def test_a_mapping_to_an_unknown_field_is_refused() -> None:
    with pytest.raises(MappingRefused) as refusal:
        check_mapping({"A": "beam", "B": "net", "C": "-"}, "club")
    assert str(refusal.value).startswith("mapping 'club': unknown field beam; expected one of: entry_no, category, ")
