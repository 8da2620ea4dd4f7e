from pathlib import Path

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import laid_out, said, table
from tests.dashboards.small_book import HOSTILE_IMAGE, HOSTILE_LINK


def test_lines_show_the_stated_difference_beside_the_recomputed_one(open_page: OpenPage, book: Path) -> None:
    assert laid_out(open_page(book, "audit_queue", entry="7"), 0) == [
        ["Main beam", "24 0/8", "23 4/8", "4/8", "4/8"],
        ["G1 (brow)", "5 0/8", "4 4/8", "4/8", "4/8"],
        ["G2", "10 0/8", "9 4/8", ":red-background[▲ 6/8]", "4/8"],
        ["G3", "9 0/8", "9 0/8", "0", "0"],
        ["H1", "4 0/8", "4 0/8", "0", "0"],
        ["H2", "4 0/8", "4 0/8", "0", "0"],
        ["H3", "4 0/8", "4 0/8", "0", "0"],
        ["H4", "4 0/8", "4 0/8", "0", "0"],
    ]


def test_totals_stand_stated_beside_recomputed(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue", entry="7")
    assert laid_out(app, 1) == [["Inside spread", "18 0/8"]]
    assert laid_out(app, 2) == [
        ["Spread credit", "18 0/8", "18 0/8"],
        ["Right total", "64 0/8", "64 0/8"],
        ["Left total", "62 4/8", "62 4/8"],
        ["Total of differences", "1 4/8", "1 4/8"],
        ["Abnormal total", "0", "0"],
        ["Deductions", "1 4/8", "1 4/8"],
        ["Gross score", "144 4/8", "144 4/8"],
        ["Net score", ":red-background[▲ 142 6/8]", "143 0/8"],
    ]


def test_findings_are_sentences_with_what_to_do(open_page: OpenPage, book: Path) -> None:
    assert (
        ":red-background[▲ Error] **G2 difference does not add up.** G2 difference: the sheet says 6/8, the sides give "
        "4/8.  \n:small[Cells: G2 difference. Compare with the paper sheet; correct the cell that is wrong, here or by "
        "sending the row again.]"
    ) in said(open_page(book, "audit_queue", entry="7"))


def test_a_cell_that_cannot_be_read_shows_its_text_and_what_rests_on_it_is_not_known(
    open_page: OpenPage, book: Path
) -> None:
    app = open_page(book, "audit_queue", entry="8")
    assert laid_out(app, 0)[4] == ["H1", ":red-background[▲ “4 l/8”]", "4 0/8", "0", "not known"]
    assert [row[2] for row in laid_out(app, 2)] == [
        "18 0/8", "not known", "62 4/8", "not known", "0", "not known", "not known", "not known",
    ]  # fmt: skip


def test_a_question_has_its_own_sign_and_a_blank_is_called_blank(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue", entry="9")
    assert laid_out(app, 0)[2] == ["G2", "10 0/8", ":orange-background[? blank]", "4/8", "not known"]
    assert f":small[Hunter]  \n{HOSTILE_IMAGE}" in said(app)
    assert f":small[Measurer]  \n{HOSTILE_IMAGE}" in said(app)


def test_facts_that_a_finding_names_are_marked(open_page: OpenPage, book: Path) -> None:
    sentences = said(open_page(book, "audit_queue", entry="10"))
    assert f":small[Hunter]  \n{HOSTILE_LINK}" in sentences
    assert f":small[Area]  \n:red-background[▲ {HOSTILE_IMAGE}]" in sentences
    assert ":small[Weapon]  \n:red-background[▲ blank]" in sentences


def test_the_age_is_told_in_years_where_it_is_known(open_page: OpenPage, book: Path) -> None:
    assert ":small[Age]  \n4.5 years" in said(open_page(book, "audit_queue", entry="7"))
    assert ":small[Age]  \n–" in said(open_page(book, "audit_queue", entry="8"))


def test_the_row_as_received_stands_beneath(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "audit_queue", entry="8")
    assert "club_2023.csv, row 9; loaded 2026-03-01 18:30 UTC by Secretary. Revision 1." in said(app)
    assert [(row["Heading"], row["As received"], row["Read as"]) for row in table(app)] == [
        ("No", "2023-008", "Entry number"),
        ("Hunter", "Wystan Carrow", "Hunter"),
        ("County", "Saint Orvane", "Area"),
        ("G2 R", "10", "G2, right"),
        ("G2 L", "9 4/8", "G2, left"),
        ("G2 diff", "4/8", "G2 difference"),
        ("H1 R", "4 l/8", "H1 circumference, right"),
        ("Net", "", "Net score"),
        ("Remarks", "seen", "–"),
    ]


def test_an_accepted_sheet_can_be_looked_at_too(open_page: OpenPage, book: Path) -> None:
    sentences = said(open_page(book, "audit_queue", entry="1"))
    assert "Sheet 2023-001 – accepted" in sentences
    assert "The audit found nothing on this sheet." in sentences
