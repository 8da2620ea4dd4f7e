"""Cells that cannot be read, or may be read in two ways: what is asked, what is decided, and what stays unknown."""

import pytest

from loaders.fields import stated_fields
from tests.sheet_builder import Finding, SheetAudit, audit_each, brief, clean_sheet
from tests.sheet_builder import Row as SheetRow

LIKE = "inches and eighths, like 21 3/8"
UNSTATED = dict.fromkeys(stated_fields(), "")
JUNK = ("junk", "8 1/3", "8 5/8 cm", "-4 2/8", "-8.5", "-8", "٣.5", "4,4-4/8", "#REF!")
COUNTS = ("many", "5.5", "-1", "٥")


def _audit(row: SheetRow) -> SheetAudit:
    return audit_each({"": row})[""]


@pytest.fixture(scope="module")
def junk() -> dict[str, SheetAudit]:
    return audit_each({text: clean_sheet() | {"g1_r": text} for text in JUNK})


@pytest.fixture(scope="module")
def counts() -> dict[str, SheetAudit]:
    return audit_each({text: clean_sheet() | {"points_l": text} for text in COUNTS})


@pytest.mark.parametrize("text", JUNK)
def test_an_unreadable_measure_gives_one_finding_and_no_score(junk: dict[str, SheetAudit], text: str) -> None:
    message = f"g1_r '{text}' cannot be read as a length; expected {LIKE}."
    assert junk[text].findings == [Finding(2, "unreadable", "error", ("g1_r",), text, LIKE, message)]
    assert junk[text].figures["net"] is None


@pytest.mark.parametrize("text", COUNTS)
def test_a_point_count_that_is_no_whole_number(counts: dict[str, SheetAudit], text: str) -> None:
    message = f"points_l '{text}' cannot be read; expected a whole number of points."
    expected = Finding(2, "unreadable", "error", ("points_l",), text, "a whole number of points", message)
    assert counts[text].findings == [expected]


SIDE = {"right_total", "diff_total", "deductions", "gross", "net"}


@pytest.mark.parametrize(
    ("cell", "unknown"),
    [
        ("g1_r", SIDE | {"g1_diff"}),
        ("h3_r", SIDE | {"h3_diff"}),
        ("beam_r", SIDE | {"beam_diff", "spread_credit"}),
        ("inside_spread", {"spread_credit", "gross", "net"}),
        ("abnormal_r", {"abnormal_total", "deductions", "net"}),
        ("tip_to_tip", set()),
        ("greatest_spread", set()),
        ("net", set()),
        ("g1_diff", set()),
    ],
)
def test_what_rests_on_an_unreadable_cell_is_unknown_and_no_more(cell: str, unknown: set[str]) -> None:
    row = clean_sheet() | {cell: "junk"}
    assert _audit(row).unknown == unknown
    assert brief(_audit(row).findings) == [("unreadable", cell)]


@pytest.mark.parametrize("text", ["junk", "-3 3/8", "3.3"])
def test_an_abnormal_total_that_is_not_known_is_not_nothing(text: str) -> None:
    unstated = {"deductions": "", "net": ""}
    row = clean_sheet() | {"abnormal_r": "", "abnormal_total": text, "points_r": ""} | unstated
    code = "two-readings" if text == "3.3" else "unreadable"
    assert brief(_audit(row).findings) == [(code, "abnormal_total")]
    assert _audit(row).figures["net"] is None


def test_the_net_chooses_the_reading_of_a_lone_abnormal_total() -> None:
    row = clean_sheet(abnormal_r="3 3/8") | {"abnormal_r": "", "abnormal_total": "3.3", "points_r": ""}
    (found,) = _audit(row).findings
    assert (found.code, found.cells, found.expected) == ("reading-chosen", ("abnormal_total",), "3 3/8")


@pytest.mark.parametrize("nothing", ["-", "0", "none"])
def test_a_measure_that_every_head_has_is_unknown_where_nothing_is_written_for_it(nothing: str) -> None:
    row = clean_sheet() | {"h4_l": nothing}
    assert brief(_audit(row).findings) == [("circumference-missing", "h4_l")]
    assert _audit(row).figures["net"] is None


def test_the_sheets_own_figures_choose_eighths() -> None:
    row = clean_sheet(g3_r="8 5/8") | {"g3_r": "8.5"}
    message = (
        "g3_r '8.5' was read as 8 5/8, digits after the mark count eighths: "
        "so 6 of the 6 stated figures it touches agree, read the other way 1."
    )
    assert _audit(row).findings == [Finding(2, "reading-chosen", "note", ("g3_r",), "8.5", "8 5/8", message)]


def test_the_sheets_own_figures_choose_the_decimal() -> None:
    row = clean_sheet(g3_r="8 4/8") | {"g3_r": "8.5"}
    message = "g3_r '8.5' was read as 8 4/8, as decimals: so 6 of the 6 stated figures it touches agree, read the other way 1."
    assert _audit(row).findings == [Finding(2, "reading-chosen", "note", ("g3_r",), "8.5", "8 4/8", message)]


def test_nothing_stated_nothing_decided() -> None:
    row = clean_sheet() | UNSTATED | {"g3_r": "8.5"}
    message = (
        "g3_r '8.5' may be 8 5/8 or 8 4/8; the sheet's own figures do not decide it, "
        "so the score is not known until a person does."
    )
    expected = Finding(2, "two-readings", "question", ("g3_r",), "8.5", "8 5/8 or 8 4/8", message)
    assert _audit(row).findings == [expected]
    assert _audit(row).figures["net"] is None


def test_a_contradicting_figure_leaves_it_open() -> None:
    row = clean_sheet(g3_r="8 4/8") | {"g3_r": "8.5", "net": "1"}
    assert brief(_audit(row).findings) == [("two-readings", "g3_r"), ("net", "net")]


def test_a_whole_sheet_in_one_habit_is_one_finding() -> None:
    halves = {"beam_r": "22 4/8", "beam_l": "22 4/8", "h1_r": "4 4/8", "net": "142 4/8"}
    stated = clean_sheet(**{k: v for k, v in halves.items() if k != "net"})
    row = stated | {"beam_r": "22.5", "beam_l": "22.5", "h1_r": "4.5"}
    (found,) = _audit(row).findings
    assert (found.code, found.cells) == ("reading-chosen", ("beam_r", "beam_l", "h1_r"))
    assert found.message.startswith("beam_r '22.5' was read as 22 4/8 (2 more cells alike), as decimals: so ")


DATE = "is a date; a spreadsheet makes one of a typed"
CONFIRMED = "the sheet's own figures agree with that, and the score is computed with it. Is that what the sheet says?"
UNCONFIRMED = "nothing on the sheet confirms it, so the score is not known. Is that what the sheet says?"


def test_a_date_that_the_figures_confirm() -> None:
    row = clean_sheet(abnormal_r="1 2/8; 3/8") | {"abnormal_r": "1 2/8; 2026-03-08"}
    found, short = _audit(row).findings
    assert (short.code, short.stated) == ("point-under-inch", "3/8")
    assert (found.code, found.severity, found.cells) == ("date-cell", "question", ("abnormal_r",))
    assert found.message == f"abnormal_r '1 2/8; 2026-03-08' {DATE} 1 5/8; {CONFIRMED}"


def test_a_difference_that_became_a_date() -> None:
    text = "2026-04-08 [d-mmm]"
    message = f"g2_diff '{text}' {DATE} 4/8; {CONFIRMED}"
    expected = Finding(2, "date-cell", "question", ("g2_diff",), text, "4/8", message)
    assert _audit(clean_sheet() | {"g2_diff": text}).findings == [expected]


def test_a_date_that_nothing_confirms() -> None:
    row = clean_sheet() | UNSTATED | {"g1_r": "8-Mar"}
    message = f"g1_r '8-Mar' {DATE} 3/8; {UNCONFIRMED}"
    assert _audit(row).findings == [Finding(2, "date-cell", "question", ("g1_r",), "8-Mar", "3/8", message)]
    assert _audit(row).figures["net"] is None


def test_a_date_that_is_no_eighth() -> None:
    row = clean_sheet() | {"g4_l": "2026-06-04 [d-mmm]"}
    assert brief(_audit(row).findings) == [("unreadable", "g4_l")]


@pytest.mark.parametrize("number", ["4.3", "4.2", "4.13", "4.7"])
def test_a_fraction_format_hides_another_number(number: str) -> None:
    shows = {"4.3": "4 2/8", "4.2": "4 2/8", "4.13": "4 1/8", "4.7": "4 6/8"}[number]
    text = f"{number} [# ?/8]"
    row = clean_sheet(g1_r=shows)
    message = f"g1_r '{text}' is a number that its fraction format shows as {shows}; "
    expected = Finding(2, "hidden-fraction", "question", ("g1_r",), text, shows, message + CONFIRMED)
    assert _audit(row | {"g1_r": text}).findings == [expected]
    asked = Finding(2, "hidden-fraction", "question", ("g1_r",), text, shows, message + UNCONFIRMED)
    assert _audit(row | UNSTATED | {"g1_r": text}).findings == [asked]


def test_a_fraction_format_over_a_whole_eighth_hides_nothing() -> None:
    assert _audit(clean_sheet() | {"g1_r": "4.25 [# ?/8]"}).findings == []


def test_a_stated_figure_in_doubt_leaves_the_score_known() -> None:
    """The score rests on the measures: a figure that cannot be read says nothing about it."""
    row = clean_sheet() | {"g2_diff": "2026-05-08"}
    (found,) = _audit(row).findings
    assert (found.code, found.cells, _audit(row).figures["net"]) == ("date-cell", ("g2_diff",), 142 * 8 + 1)
    assert "the score is not known" not in found.message
