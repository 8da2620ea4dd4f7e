"""One stated figure changed on a clean sheet gives its own finding, and no other."""

import pytest

from loaders.fields import stated_fields
from tests.sheet_builder import Finding, SheetAudit, audit_each, brief, clean_sheet
from warehouse.audit.codes import code_of, title_of

SAYS = "; the sheet says 1 0/8."
TYPICAL, NONTYPICAL = "whitetail-typical", "whitetail-nontypical"
DEDUCTED = "The differences (2 3/8) and the abnormal points (3 3/8) make deductions of 5 6/8"
ADDED = "Gross 147 7/8 less differences 2 3/8 plus abnormal points 3 3/8 makes a net of 148 7/8"
CASES = {
    (TYPICAL, "beam_diff"): ("3/8", "Main beam: right 22 1/8 and left 21 6/8 differ by 3/8"),
    (TYPICAL, "g2_diff"): ("4/8", "G2: right 9 1/8 and left 8 5/8 differ by 4/8"),
    (TYPICAL, "g5_diff"): ("0", "G5: right 0 and left 0 differ by 0"),
    (TYPICAL, "h4_diff"): ("1/8", "H4 circumference: right 4 0/8 and left 3 7/8 differ by 1/8"),
    (TYPICAL, "spread_credit"): ("17 4/8", "The inside spread is 17 4/8, credited up to the longer beam: 17 4/8"),
    (TYPICAL, "right_total"): ("65 7/8", "The right side's beam, points and circumferences add up to 65 7/8"),
    (TYPICAL, "left_total"): ("64 4/8", "The left side's beam, points and circumferences add up to 64 4/8"),
    (TYPICAL, "diff_total"): ("2 3/8", "The side-to-side differences of the measures add up to 2 3/8"),
    (TYPICAL, "abnormal_total"): ("3 3/8", "The abnormal points listed add up to 3 3/8"),
    (TYPICAL, "deductions"): ("5 6/8", DEDUCTED),
    (TYPICAL, "gross"): ("147 7/8", "Spread credit 17 4/8 plus right 65 7/8 plus left 64 4/8 make a gross of 147 7/8"),
    (TYPICAL, "net"): ("142 1/8", "Gross 147 7/8 less deductions 5 6/8 makes a net of 142 1/8"),
    (NONTYPICAL, "deductions"): (
        "2 3/8",
        "Abnormal points (3 3/8) are added here, so the deductions are the differences alone: 2 3/8",
    ),
    (NONTYPICAL, "net"): ("148 7/8", ADDED),
}
BOTH = [(category, figure) for category in (TYPICAL, NONTYPICAL) for figure in stated_fields()]
NOT_STATED = [(figure, text) for figure in stated_fields() for text in ("", " ", "-", "n/a")]


@pytest.fixture(scope="module")
def wrong() -> dict[tuple[str, str], SheetAudit]:
    return audit_each({(category, figure): clean_sheet(category=category) | {figure: "1"} for category, figure in BOTH})


@pytest.fixture(scope="module")
def unstated() -> dict[tuple[str, str], SheetAudit]:
    return audit_each({(figure, text): clean_sheet() | {figure: text} for figure, text in NOT_STATED})


def test_a_clean_sheet_has_no_finding() -> None:
    audited = audit_each({category: clean_sheet(category=category) for category in (TYPICAL, NONTYPICAL)})
    assert [audited[category].findings for category in (TYPICAL, NONTYPICAL)] == [[], []]
    assert (audited[TYPICAL].figures["net"], audited[NONTYPICAL].figures["net"]) == (142 * 8 + 1, 148 * 8 + 7)


@pytest.mark.parametrize("case", CASES)
def test_a_wrong_figure_is_named_with_its_working(
    wrong: dict[tuple[str, str], SheetAudit], case: tuple[str, str]
) -> None:
    expected, working = CASES[case]
    figure = case[1]
    assert wrong[case].findings == [Finding(2, figure, "error", (figure,), "1 0/8", expected, working + SAYS)]


@pytest.mark.parametrize("case", BOTH)
def test_every_stated_figure_is_held_against_the_measures(
    wrong: dict[tuple[str, str], SheetAudit], case: tuple[str, str]
) -> None:
    assert brief(wrong[case].findings) == [(case[1], case[1])]


@pytest.mark.parametrize("case", NOT_STATED)
def test_a_figure_that_is_not_stated_is_not_wrong(
    unstated: dict[tuple[str, str], SheetAudit], case: tuple[str, str]
) -> None:
    assert unstated[case].findings == []


def test_one_eighth_off_is_enough() -> None:
    audited = audit_each({text: clean_sheet() | {"net": text} for text in ("142 0/8", "142 1/8", "142 2/8")})
    assert {text: brief(one.findings) for text, one in audited.items()} == {
        "142 0/8": [("net", "net")],
        "142 1/8": [],
        "142 2/8": [("net", "net")],
    }


def test_a_measure_changed_afterwards_shows_in_every_figure_above_it() -> None:
    changed = audit_each({"g2": clean_sheet() | {"g2_r": "9 2/8"}})["g2"]
    above = ["g2_diff", "right_total", "diff_total", "deductions", "gross"]
    assert brief(changed.findings) == [(figure, figure) for figure in above]
    assert changed.figures["net"] == 142 * 8 + 1  # the shorter side decides the net


def test_figures_have_titles_of_their_own() -> None:
    titles = [title_of(figure) for figure in ("net", "beam_diff", "g2_diff")]
    words = ["Net score", "Main beam difference", "G2 difference"]
    assert titles == [f"{word} does not add up" for word in words]
    assert {code_of(figure).severity for figure in stated_fields()} == {"error"}


# A record without its rows ------------------------------------------------------------------------------------

NO_ROWS = {
    name: ""
    for name in clean_sheet()
    if name.endswith(("_r", "_l", "_diff")) and not name.startswith(("abnormal", "points"))
}


def _figures(audited: SheetAudit) -> list[Finding]:
    return [one for one in audited.findings if one.severity == "error" and not one.code.endswith("-measure")
            and one.code != "circumference-missing"]  # fmt: skip


def test_figures_without_rows_are_held_against_each_other() -> None:
    """139 2/8 - 1 4/8 = 137 6/8: a summary line of woodsnwater.net, 2010, which is right; two of its eighths turned."""
    line = {"right_total": "", "left_total": "", "diff_total": "", "abnormal_total": "", "abnormal_r": "",
            "spread_credit": "", "inside_spread": ""}  # fmt: skip
    summary = clean_sheet() | NO_ROWS | line | {"gross": "139 2/8", "deductions": "1 4/8"}
    audited = audit_each({text: summary | {"net": text} for text in ("137 6/8", "137 2/8")})
    said = "The stated gross score and deductions make 137 6/8; the sheet says 137 2/8."
    assert _figures(audited["137 6/8"]) == []
    assert _figures(audited["137 2/8"]) == [Finding(2, "net", "error", ("net",), "137 2/8", "137 6/8", said)]


def test_net_spread_and_abnormal_points_are_an_even_number_of_eighths() -> None:
    bare = {"right_total": "", "left_total": "", "diff_total": "", "deductions": "", "gross": ""}
    record = clean_sheet() | NO_ROWS | bare
    audited = audit_each({text: record | {"net": text} for text in ("142 1/8", "142 2/8", "141 7/8")})
    said = (
        "Net 142 2/8, spread credit 17 4/8 and abnormal points 3 3/8 cannot belong together: in eighths their sum is even "
        "on every right sheet."
    )
    assert [_figures(audited[text]) for text in ("142 1/8", "141 7/8")] == [[], []]
    assert _figures(audited["142 2/8"]) == [Finding(2, "parity", "error", ("net",), "142 2/8", None, said)]
