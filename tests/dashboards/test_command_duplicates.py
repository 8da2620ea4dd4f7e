from pathlib import Path

import pytest

from tests.book_builder import copy_of
from tests.dashboards.run_command import run
from tests.dashboards.small_book import HOSTILE_IMAGE
from warehouse.book.decisions import Decision, decide

FIRST = [
    "  1. The same date and area, and nearly the same measures; no measure differs",
    "     =1  2023-001, Tarn Holtquarry, Abberlow, 2022-11-05, White-tailed deer, typical, net 143 0/8, measured by M-001, accepted",
    "     =2  2023-002, Bettany Inglebrand, Abberlow, 2022-11-05, White-tailed deer, typical, net 143 0/8, measured by M-001, accepted",
]
ENDING = [
    "merge: the entry becomes one with the other, which counts; distinct: they are two heads. Look at both sheets first.",
    "A book's own rules and local law outrank this program.",
]


@pytest.fixture
def own_book(book: Path, tmp_path: Path) -> Path:
    """A copy of the small book, in a folder whose name a shell would take apart."""
    folder = tmp_path / "two words"
    folder.mkdir()
    return copy_of(book, folder / "own.duckdb")


def test_each_pair_is_a_block_that_says_how_to_decide(own_book: Path) -> None:
    ran = run("duplicates", "--book", own_book)
    lines = ran.out.splitlines()
    how = f"     beamledger decide --book '{own_book}' =2 merge --with =1 --by NAME --why TEXT   (two heads: distinct in place of merge)"
    assert (ran.code, ran.err) == (1, "")
    assert lines[:6] == [f"{own_book}: 5 pairs of entries may be one head", "", *FIRST, how]
    assert lines[-2:] == ENDING


def test_a_held_entry_goes_into_the_accepted_one(own_book: Path) -> None:
    ran = run("duplicates", "--book", own_book, "--entry", "2023-007")
    assert [line.split("own.duckdb' ")[1][:20] for line in ran.out.splitlines() if "decide" in line] == [
        "=7 merge --with =3 -", "=9 merge --with =7 -",
    ]  # fmt: skip


def test_the_pairs_of_one_entry_in_json(book: Path) -> None:
    ran = run("duplicates", "--book", book, "--entry", "=9", "--json")
    assert ran.code == 1
    assert [(line["first"]["entry_id"], line["second"]["entry_id"]) for line in ran.lines()] == [(3, 9), (7, 9)]
    line = ran.lines()[0]
    assert {key: line[key] for key in ("kinds", "near", "decided")} == {
        "kinds": ["near-head"],
        "near": 4,
        "decided": None,
    }
    assert line["first"] == {
        "entry_id": 3, "entry_no": "2023-003", "status": "accepted", "hunter": "Marn Osselby", "area": "Abberlow",
        "taken_on": "2023-11-05", "season": "2023-24", "category": "whitetail-typical", "tag_no": None,
        "measured_on": "2024-02-10", "measurer": "M-001", "unit": 8, "gross": 1152, "net": 1140,
        "gross_text": "144 0/8", "net_text": "142 4/8",
    }  # fmt: skip
    assert (line["second"]["hunter"], line["second"]["net"], line["second"]["net_text"]) == (HOSTILE_IMAGE, None, None)


def test_decided_pairs_are_listed_where_asked_for_and_leave_nothing_to_do(own_book: Path) -> None:
    decide(own_book, Decision("merge", 2, "Una Reed", "one rack", other_entry_id=1))
    ran = run("duplicates", "--book", own_book, "--entry", "=1")
    assert (ran.code, ran.out.splitlines()) == (0, [f"{own_book}: 0 pairs of entries may be one head", ENDING[1]])
    ran = run("duplicates", "--book", own_book, "--entry", "=1", "--all")
    assert ran.code == 0
    assert ran.out.splitlines() == [
        f"{own_book}: 0 pairs of entries may be one head; 1 pair decided", "", *FIRST[:2],
        FIRST[2].replace("accepted", "merged"), "     Decided: one head", ENDING[1],
    ]  # fmt: skip
    (line,) = run("duplicates", "--book", own_book, "--entry", "=1", "--all", "--json").lines()
    assert line["decided"] == "one head"


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ("=99", "beamledger: entry =99: the book has no such entry\n"),
        (f"={'9' * 30}", f"beamledger: entry ={'9' * 30}: the book has no such entry\n"),
        ("99", "beamledger: no entry of the book has the number '99'; for the entry with the ID 99 write =99\n"),
    ],
)
def test_an_entry_that_is_not_there_is_refused(book: Path, entry: str, message: str) -> None:
    ran = run("duplicates", "--book", book, "--entry", entry)
    assert (ran.code, ran.out, ran.err) == (2, "", message)
