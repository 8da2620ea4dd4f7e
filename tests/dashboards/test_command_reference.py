"""The command `reference`: what it replaces, what it prints, and that a refusal leaves the book as it was."""

import shutil
from pathlib import Path

import pytest

from dashboards.arguments import NOTICE
from dashboards.commands import make_book
from loaders.reference_files import files_in
from tests.book_builder import beside, new_book, query
from tests.dashboards.run_command import ROOT, run

DEMO = ROOT / "sample_data" / "reference"
AREAS = "area_code,name,state\n07001,Abberlow,QM\n"
EVENTS = "SELECT event_no, author, kind, reason, about FROM event ORDER BY event_no"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return new_book(tmp_path)


def test_tables_are_replaced_and_the_change_is_told(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "areas.csv"
    path.write_text(AREAS + "07003,Brindmoor,QM\n")
    ran = run("reference", path, "--book", book, "--why", "the areas of 2026", "--by", "Una Reed")
    assert ran == (
        0,
        f"{book}: 1 of 1 table put in place of the book's\n  areas: 0 before, 2 now: 2 added, 0 removed, 0 changed\n{NOTICE}\n",
        "",
    )
    path.write_text(AREAS.replace("Abberlow", "Abberlowe") + "07005,Corrowick,QM\n07007,Dunvessel,QM\n")
    told = run("reference", path, "--book", book, "--why", "corrected", "--by", "Una Reed").out.splitlines()
    assert told[1] == "  areas: 2 before, 3 now: 2 added, 1 removed, 1 changed"
    assert query(book, EVENTS) == [
        (1, "Una Reed", "reference", "the areas of 2026", "area"), (2, "Una Reed", "reference", "corrected", "area"),
    ]  # fmt: skip
    assert query(book, "SELECT event_no, table_name FROM reference_version ORDER BY 1") == [(1, "area"), (2, "area")]


def test_what_is_there_already_is_not_written(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "areas.csv"
    path.write_text(AREAS)
    run("reference", path, "--book", book, "--why", "first")
    before = book.read_bytes(), beside(book, ".anchor").read_bytes()
    ran = run("reference", path, "--book", book, "--why", "again")
    assert ran.out.splitlines() == [
        f"{book}: 0 of 1 table put in place of the book's", "  areas: 1 as before; nothing was written", NOTICE,
    ]  # fmt: skip
    assert (book.read_bytes(), beside(book, ".anchor").read_bytes()) == before


def test_minimums_alone_bring_the_usual_rules(book: Path) -> None:
    told = run("reference", DEMO / "minimums.csv", "--book", book, "--why", "minimums").out.splitlines()
    assert told[:3] == [
        f"{book}: 2 of 2 tables put in place of the book's",
        "  record books: 0 before, 3 now: 3 added, 0 removed, 0 changed (default rules of the books that have minimums)",
        "  minimums: 0 before, 13 now: 13 added, 0 removed, 0 changed",
    ]


def test_a_folder_means_every_table_in_it(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "reference")
    book = tmp_path / "demo.duckdb"
    make_book(book, files_in(DEMO))
    effort = tmp_path / "reference" / "effort.csv"
    effort.write_text(effort.read_text().replace("07001,2006-07,535,3236,579", "07001,2006-07,535,,"))
    ran = run("reference", tmp_path / "reference", "--book", book, "--why", "no counts for that season")
    assert [line for line in ran.out.splitlines() if "as before" not in line] == [
        f"{book}: 1 of 8 tables put in place of the book's",
        "  rows of effort: 480 before, 480 now: 0 added, 0 removed, 1 changed",
        NOTICE,
    ]
    assert query(
        book, "SELECT licences_sold, antlered_harvest FROM effort WHERE area_code = '07001' ORDER BY season LIMIT 1"
    ) == [(None, None)]


def test_a_refusal_leaves_the_book_as_it_was(tmp_path: Path) -> None:
    book = tmp_path / "demo.duckdb"
    make_book(book, files_in(DEMO))
    before = book.read_bytes()
    (tmp_path / "areas.csv").write_text(AREAS)
    (tmp_path / "area_aliases.csv").write_text("alias,area_code\nOld Abberlow,07001\n")
    both = [tmp_path / "areas.csv", tmp_path / "area_aliases.csv"]
    ran = run("reference", *both, "--book", book, "--why", "fewer areas")
    assert (ran.code, ran.out) == (2, "")
    lines = ran.err.splitlines()
    assert lines[0] == (
        "beamledger: the book's table effort (07003, 2006-07), area_code: found '07003'; expected the code of an area"
    )
    assert len(lines) == 21
    assert lines[-1] == "... and 442 more"
    assert book.read_bytes() == before


def test_a_reason_is_needed_and_files_that_are_there(book: Path, tmp_path: Path) -> None:
    (tmp_path / "areas.csv").write_text(AREAS)
    blank = run("reference", tmp_path / "areas.csv", "--book", book, "--why", " ")
    assert blank == (2, "", "beamledger: a change of reference tables needs a reason; nothing was changed\n")
    missing = run("reference", tmp_path / "minimums.csv", "--book", book, "--why", "x")
    assert missing.code == 2
    assert missing.err.startswith(f"beamledger: {tmp_path / 'minimums.csv'}: cannot be read as a UTF-8 CSV file: ")
    assert query(book, EVENTS) == []


def test_init_reads_a_list_of_the_census(tmp_path: Path) -> None:
    path = tmp_path / "counties.txt"
    path.write_text(
        "STATE|STATEFP|COUNTYFP|COUNTYNS|COUNTYNAME|CLASSFP|FUNCSTAT\nLA|22|071|01629492|Orleans Parish|H6|C\n"
    )
    ran = run("init", tmp_path / "book.duckdb", "--areas", path)
    assert ran.out == f"{tmp_path / 'book.duckdb'}: an empty book, with 1 areas\n"
    assert query(tmp_path / "book.duckdb", "SELECT * FROM area") == [("22071", "Orleans", "parish", "LA", "", "")]
