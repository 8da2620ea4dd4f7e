"""A person accepts a correction on the page of the sheet: a name and a reason, then a new revision."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.book_builder import file_of, heads, load, new_book, query
from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import laid_out, said
from tests.dashboards.run_command import run

WHY = (
    "The right total was worked out wrong (an inch was lost in carrying): it comes to 65 7/8, not 64 7/8; every figure then "
    "agrees, and the net is 137 7/8."
)
STATE = (
    "SELECT revision_no, status, author, reason, stated_right_total, stated_net FROM current_entry WHERE entry_id = 2"
)


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    """A book of two heads; the second's right total lost an inch, with all that follows."""
    first, second = heads(1, 2)
    lost = {"right_total": "64 7/8", "gross": "144 6/8", "net": "136 7/8"}
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "show.csv", [first, second | lost]))
    return book


def _accept(app: AppTest, name: str, reason: str) -> AppTest:
    by, why = [one for one in app.text_input if "correction" in str(one.key)]
    by.input(name)
    why.input(reason)
    (button,) = [one for one in app.button if one.label == "Accept this correction"]
    return button.click().run()


def test_the_likeliest_explanation_stands_on_the_sheet_and_marks_its_cell(open_page: OpenPage, fresh: Path) -> None:
    app = open_page(fresh, "audit_queue", entry="2")
    sentences = said(app)
    assert f"**Likeliest.** {WHY}" in sentences
    assert "The net score is not certain: see the other explanations, or look at the paper sheet." in sentences
    assert ["Right total", ":violet-background[◆▲ 64 7/8]", "65 7/8"] in laid_out(app, 2)
    assert ["Gross score", ":red-background[▲ 144 6/8]", "145 6/8"] in laid_out(app, 2)
    assert (
        "2. G4 right was written 5 2/8 and should be 4 2/8; every figure then agrees, and the net is 136 7/8."
        in sentences
    )
    assert app.selectbox[0].options[0] == "1: Right total 65 7/8, net 137 7/8"


def test_without_a_name_or_a_reason_nothing_is_written(open_page: OpenPage, fresh: Path) -> None:
    app = _accept(open_page(fresh, "audit_queue", entry="2"), "Una Reed", "  ")
    assert [error.value for error in app.error] == [r"a correction needs a reason\; nothing was changed"]
    assert query(fresh, STATE)[0][:3] == (1, "held", "tester")


def test_accepting_writes_a_revision_and_shows_the_new_state(open_page: OpenPage, fresh: Path) -> None:
    app = _accept(open_page(fresh, "audit_queue", entry="2"), "Una Reed", "compared with the paper sheet")
    assert not app.exception
    assert query(fresh, STATE) == [(2, "accepted", "Una Reed", "compared with the paper sheet", 527, 1103)]
    assert [done.value.replace("\\", "") for done in app.success] == [
        "Revision 2 is written (Right total 64 7/8 → 65 7/8; Gross score 144 6/8 → 145 6/8; Net score 136 7/8 → 137 7/8); "
        "the entry is accepted."
    ]
    assert ["Right total", "65 7/8", "65 7/8"] in laid_out(app, 2)
    history = [text for text in said(app) if text.startswith("Revision ")]
    assert [text.split(" UTC ")[1] for text in history[:2]] == [
        "by Una Reed, accepted: compared with the paper sheet  \n:small[Gross score 144 6/8 → 145 6/8; "
        "Net score 136 7/8 → 137 7/8; Right total 64 7/8 → 65 7/8]",
        "by tester, held: first received",
    ]


def test_a_sheet_that_somebody_else_revised_is_not_corrected_blindly(open_page: OpenPage, fresh: Path) -> None:
    app = open_page(fresh, "audit_queue", entry="2")
    assert (
        run("correct", "--book", fresh, "--entry", "2", "--cell", "tag_no=T-9", "--by", "Bo", "--why", "seen").code == 1
    )
    app = _accept(app, "Una Reed", "compared")
    (error,) = app.error
    assert "revision 2 was made since you looked at revision 1" in error.value.replace("\\", "")
    assert query(fresh, STATE)[0][:3] == (2, "held", "Bo")


def test_the_command_accepts_and_corrects(fresh: Path) -> None:
    ran = run("correct", "--book", fresh, "--entry", "2", "--accept", "--by", "Una Reed", "--why", "paper sheet")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines()[0] == "entry 2: revision 2 written; the entry is accepted"
    ran = run("correct", "--book", fresh, "--entry", "=2", "--cell", "net=1", "--by", "Una Reed", "--why", "a try")
    assert ran.code == 1
    assert ran.out.splitlines()[:4] == [
        "entry =2: revision 3 written; the entry is held: a person must look again",
        "    net: 137 7/8 -> 1",
        "    net: 137 7/8",
        "    error    Gross 145 6/8 less deductions 7 7/8 makes a net of 137 7/8; the sheet says 1 0/8.",
    ]


def test_what_the_command_cannot_correct_it_says(fresh: Path, tmp_path: Path) -> None:
    by = ("--by", "Una", "--why", "x")
    ran = run("correct", "--book", fresh, "--entry", "77", "--accept", *by)
    assert (ran.code, ran.err) == (
        2,
        "beamledger: no entry of the book has the number '77'; for the entry with the ID 77 write =77\n",
    )
    ran = run("correct", "--book", fresh, "--entry", "2", "--cell", "net", *by)
    assert ran.err == "beamledger: --cell 'net': expected FIELD=TEXT, such as g2_r='9 1/8'; nothing was changed\n"
    load(
        fresh,
        file_of(tmp_path / "b.csv", [heads(40, 40)[0] | {"entry_no": "2", "taken_on": "2024-11-08", "season": ""}]),
    )
    ran = run("correct", "--book", fresh, "--entry", "2", "--accept", *by)
    assert ran.err.startswith(
        "beamledger: 2 entries have the number '2': name one of them by its ID: =2 (Hunter 2, 2025-26)"
    )


def test_the_command_upgrades(fresh: Path) -> None:
    ran = run("upgrade", fresh)
    assert (ran.code, ran.out) == (0, f"{fresh}: is up to date already\n")


def test_findings_of_a_book_carry_the_explanations(fresh: Path) -> None:
    (line,) = run("findings", "--book", fresh, "--json").lines()
    best, *others = line["explanations"]
    assert (best["cells"], best["stated"], best["proposed"], best["net"]) == (
        ["right_total"],
        ["64 7/8"],
        ["65 7/8"],
        "137 7/8",
    )
    assert (best["follows"], best["follows_proposed"]) == (["gross", "net"], ["145 6/8", "137 7/8"])
    assert best["why"] == WHY
    assert [(one["cells"], one["tie"]) for one in others] == [(["g4_r"], False)]
    assert line["score_certain"] is False


def test_of_a_tie_a_person_must_choose(tmp_path: Path) -> None:
    (row,) = heads(1, 1)
    blank = dict.fromkeys(
        [name for name in row if name.endswith("_diff")] + ["right_total", "left_total", "diff_total"], ""
    )
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [row | blank | {"g2_r": "9 3/8"}]))
    ran = run("correct", "--book", book, "--entry", "1", "--accept", "--by", "Una", "--why", "x")
    assert ran.code == 2
    assert ran.err.startswith(
        "beamledger: several explanations are as likely as each other: say which, by its number: 1: "
    )
    assert ran.err.endswith("; nothing was changed\n")
    number = next(part.split(":")[0] for part in ran.err.split("; ") if "g2_r 9 1/8" in part)
    number = number.removeprefix("beamledger").strip() or "1"
    ran = run("correct", "--book", book, "--entry", "1", "--accept", number, "--by", "Una", "--why", "x")
    assert ran.out.splitlines()[:3] == [
        "entry 1: revision 2 written; the entry is accepted",
        "    g2_r: 9 3/8 -> 9 1/8",
        "    net: 137 5/8",
    ]


def test_findings_in_words_tell_the_cause(fresh: Path) -> None:
    out = run("findings", "--book", fresh).out
    assert f"    cause    Likeliest: {WHY} 1 other explanation, another net is possible." in out.splitlines()


def test_a_correction_that_cannot_be_read_is_refused(fresh: Path) -> None:
    ran = run("correct", "--book", fresh, "--entry", "2", "--cell", "g2_r=nine", "--by", "Una", "--why", "x")
    assert (ran.code, ran.err) == (
        2,
        "beamledger: g2_r 'nine' cannot be read as a length; expected inches and eighths, like 21 3/8; nothing was changed\n",
    )
