import json
from pathlib import Path

import pytest

from tests.book_builder import file_of, heads
from tests.dashboards.run_command import run
from tests.sheet_builder import clean_sheet

KEYS = [
    "file",
    "sheet",
    "row",
    "entry_no",
    "category",
    "recomputed",
    "text",
    "findings",
    "explanations",
    "score_certain",
    "status",
]
FIGURES = ["spread_credit", "right_total", "left_total", "diff_total", "abnormal_total", "gross", "deductions", "net"]
EXPLANATION = ["cells", "stated", "proposed", "kind", "net", "why", "tie", "follows", "follows_proposed"]
FINDING = ["code", "severity", "cells", "stated", "expected", "message"]
NONE = dict.fromkeys(FIGURES)


@pytest.fixture
def night(tmp_path: Path) -> Path:
    """Five sheets: clean, a question, two wrong figures, unreadable without a score, clean and non-typical."""
    clean = clean_sheet()
    asked = heads(2, 2)[0] | {"weapon": "gun"}
    wrong = heads(3, 3)[0] | {"gross": "999 1/8", "net": "998 2/8"}
    lost = heads(4, 4)[0] | {"beam_r": "2z"}
    other = clean_sheet(entry_no="5", category="whitetail-nontypical", hunter="Marn Osselby", inside_spread="15 1/8")
    return file_of(tmp_path / "night.csv", [clean, asked, wrong, lost, other])


def test_the_first_sheet_to_the_letter(night: Path) -> None:
    assert run("check", night, "--json").out.splitlines()[0] == (
        f'{{"file":{json.dumps(str(night))},"sheet":null,"row":2,"entry_no":"17","category":"whitetail-typical",'
        '"recomputed":{"spread_credit":140,"right_total":527,"left_total":516,"diff_total":19,"abnormal_total":27,'
        '"gross":1183,"deductions":46,"net":1137},"text":{"gross":"147 7/8","net":"142 1/8"},"findings":[],'
        '"explanations":[],"score_certain":true,"status":"clean"}'
    )


def test_one_line_a_sheet_in_the_files_order_with_the_same_keys(night: Path) -> None:
    ran = run("check", night, "--json")
    lines = ran.lines()
    assert ran.code == 1
    assert ran.err == ""
    assert [(line["row"], line["entry_no"]) for line in lines] == [(2, "17"), (3, "2"), (4, "3"), (5, "4"), (6, "5")]
    for line in lines:
        assert list(line) == KEYS
        assert list(line["recomputed"]) == FIGURES
        assert list(line["text"]) == ["gross", "net"]
        assert all(list(why) == EXPLANATION for why in line["explanations"])
        assert all(list(finding) == FINDING for finding in line["findings"])
    assert [line["status"] for line in lines] == ["clean", "questions", "errors", "unreadable", "clean"]
    assert [len(line["explanations"]) for line in lines] == [0, 0, 1, 1, 0]


def test_an_explanation_names_the_cell_and_what_makes_all_agree(tmp_path: Path) -> None:
    inch_lost = {"right_total": "64 7/8", "gross": "146 7/8", "net": "141 1/8"}
    (line,) = run("check", file_of(tmp_path / "a.csv", [clean_sheet() | inch_lost]), "--json").lines()
    assert line["explanations"][0] == {
        "cells": ["right_total"],
        "stated": ["64 7/8"],
        "proposed": ["65 7/8"],
        "kind": "carried",
        "net": "142 1/8",
        "why": "The right total was worked out wrong (an inch was lost in carrying): it comes to 65 7/8, not 64 7/8; "
        "every figure then agrees, and the net is 142 1/8.",
        "tie": False,
        "follows": ["gross", "net"],
        "follows_proposed": ["147 7/8", "142 1/8"],
    }
    assert [
        (why["cells"], why["stated"], why["proposed"], why["net"], why["tie"]) for why in line["explanations"][1:]
    ] == [
        (["g2_r"], ["9 1/8"], ["8 1/8"], "141 1/8", True),
        (["g4_r"], ["5 2/8"], ["4 2/8"], "141 1/8", True),
    ]
    assert line["score_certain"] is False


def test_findings_state_what_was_found_and_expected(night: Path) -> None:
    _, asked, wrong, lost, _ = run("check", night, "--json").lines()
    assert [(one["code"], one["severity"], one["cells"], one["stated"]) for one in asked["findings"]] == [
        ("weapon-unclear", "question", ["weapon"], "gun")
    ]
    assert [tuple(one[key] for key in FINDING[:5]) for one in wrong["findings"]] == [
        ("gross", "error", ["gross"], "999 1/8", wrong["text"]["gross"]),
        ("net", "error", ["net"], "998 2/8", wrong["text"]["net"]),
    ]
    assert "999 1/8" in wrong["findings"][0]["message"]
    assert ("unreadable", "error", ["beam_r"], "2z") in [
        tuple(one[key] for key in FINDING[:4]) for one in lost["findings"]
    ]


def test_figures_that_rest_on_an_unread_cell_are_null_though_the_others_solve_it(night: Path) -> None:
    clean, asked, wrong, lost, other = run("check", night, "--json").lines()
    assert lost["recomputed"]["right_total"] is lost["recomputed"]["gross"] is lost["recomputed"]["net"] is None
    assert isinstance(lost["recomputed"]["left_total"], int)
    assert lost["text"] == {"gross": None, "net": None}
    why = lost["explanations"][0]
    assert (why["cells"], why["stated"], why["proposed"], why["kind"]) == (["beam_r"], [None], ["22 1/8"], "unread")
    assert [line["score_certain"] for line in (clean, asked, lost, other)] == [True] * 4
    assert wrong["score_certain"] is False  # no manner of adding wrong comes to a gross of 999 1/8
    assert wrong["recomputed"]["net"] == wrong["recomputed"]["gross"] - wrong["recomputed"]["deductions"]
    figures = other["recomputed"]
    assert figures["net"] == figures["gross"] - figures["diff_total"] + figures["abnormal_total"]  # non-typical adds


def test_a_column_is_reported_once_for_the_file(tmp_path: Path) -> None:
    rows = [
        {name: text for name, text in sheet.items() if name != "tag_no"} | {"Landowner": "x"} for sheet in heads(1, 3)
    ]
    ran = run("check", file_of(tmp_path / "a.csv", rows), "--json")
    of_file, *sheets = ran.lines()
    assert (of_file["row"], of_file["entry_no"], of_file["status"]) == (None, None, "questions")
    assert list(of_file) == KEYS
    assert of_file["recomputed"] == NONE
    assert [(one["code"], one["cells"]) for one in of_file["findings"]] == [("column-unmatched", ["Landowner"])]
    assert [(line["row"], line["findings"]) for line in sheets] == [(2, []), (3, []), (4, [])]
    assert ran.err.count("tag_no") == 1
    assert ran.err.count("Landowner") == ran.out.count("Landowner' matches") * 2 == 2
    assert ran.code == 1


def test_row_numbers_are_those_of_the_file(tmp_path: Path) -> None:
    data = file_of(tmp_path / "a.csv", heads(1, 2)).read_bytes().splitlines(keepends=True)
    (tmp_path / "b.csv").write_bytes(b"Antler night,,\r\n" + data[0] + data[1] + b",,\r\n" + data[2])
    assert [line["row"] for line in run("check", tmp_path / "b.csv", "--json").lines()] == [3, 5]


def test_a_cell_that_holds_nothing_but_blanks_is_no_number(tmp_path: Path) -> None:
    (line,) = run("check", file_of(tmp_path / "a.csv", [clean_sheet(entry_no="")]), "--json").lines()
    assert line["entry_no"] is None
    assert line["status"] in ("clean", "questions")


def test_a_clean_file_ends_with_code_0(tmp_path: Path) -> None:
    path = file_of(tmp_path / "a.csv", heads(1, 3))
    ran = run("check", path)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines() == [
        f"{path}: 3 sheets; 3 clean",
        "A book's own rules and local law outrank this program.",
    ]
    assert run("check", path, "--json").code == 0


def test_the_report_names_each_finding_under_its_row(night: Path) -> None:
    ran = run("check", night)
    lines = ran.out.splitlines()
    assert ran.code == 1
    assert lines[0] == f"{night}: 5 sheets; 2 clean, 1 with questions, 1 with errors, 1 not scored"
    assert "  row 4, entry 3" in lines
    assert [line.split()[0] for line in lines if line.startswith("    ")][:3] == ["question", "error", "error"]


def test_a_heading_is_named_by_the_sender(tmp_path: Path) -> None:
    rows = [{("Pole R" if name == "beam_r" else name): text for name, text in sheet.items()} for sheet in heads(1, 1)]
    path = file_of(tmp_path / "a.csv", rows)
    assert run("check", path, "--json").code == 1
    mapped = run("check", path, "--json", "--map", "Pole R=beam_r")
    assert (mapped.code, mapped.lines()[0]["status"]) == (0, "clean")
    aside = run("check", file_of(tmp_path / "b.csv", [heads(2, 2)[0] | {"Land": "x"}]), "--map", "Land=-")
    assert aside.code == 0
