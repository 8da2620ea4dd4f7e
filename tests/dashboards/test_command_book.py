from pathlib import Path
from typing import Any

import pytest

from tests.book_builder import file_of, heads, new_book, query
from tests.dashboards.run_command import run
from tests.dashboards.test_command_check import KEYS

ENTRY = [
    "entry_no", "status", "category", "hunter", "tag_no", "area_written", "area_code", "area", "district", "region",
    "season", "weapon", "age", "taken_on", "measured_on", "measurer", "gross", "net", "gross_text", "net_text", "revision_no",
]  # fmt: skip


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return new_book(tmp_path)


def test_init_says_what_it_made(tmp_path: Path) -> None:
    bare = run("init", tmp_path / "bare.duckdb")
    assert bare == (
        0,
        f"{tmp_path / 'bare.duckdb'}: an empty book, with no reference tables (names are kept as written)\n",
        "",
    )
    demo = run("init", tmp_path / "demo.duckdb", "--demo")
    counts = {table: query(tmp_path / "demo.duckdb", f"SELECT count(*) FROM {table}")[0][0]
              for table in ("area", "area_alias", "measurer", "season", "record_book", "minimum", "effort", "panel_measure")}  # fmt: skip
    assert demo.out == (
        f"{tmp_path / 'demo.duckdb'}: an empty book, with {counts['area']} areas, {counts['area_alias']} area aliases, "
        f"{counts['measurer']} measurers' certificates, {counts['season']} seasons, {counts['record_book']} record books, "
        f"{counts['minimum']} minimums, {counts['effort']} rows of effort, {counts['panel_measure']} measures of panels\n"
    )
    assert min(counts.values()) > 0


def test_init_takes_areas_alone(tmp_path: Path) -> None:
    (tmp_path / "areas.csv").write_text("area_code,name,state\n07001,Abberlow,ZZ\n")
    ran = run("init", tmp_path / "book.duckdb", "--areas", tmp_path / "areas.csv")
    assert ran == (0, f"{tmp_path / 'book.duckdb'}: an empty book, with 1 areas\n", "")
    assert query(tmp_path / "book.duckdb", "SELECT area_code, name, kind FROM area") == [
        ("07001", "Abberlow", "county")
    ]


def last(lines: list[dict[str, Any]]) -> list[tuple[str, Any]]:
    return list(lines[-1].items())


def summary(rows: int, new: int, unchanged: int, revised: int, held: int, *found: int) -> list[tuple[str, Any]]:
    counts = {"rows": rows, "new": new, "unchanged": unchanged, "revised": revised, "held": held}
    return [
        ("summary", True),
        *counts.items(),
        ("findings", dict(zip(("error", "question", "note"), found, strict=True))),
    ]


def test_load_ends_with_its_summary(book: Path, tmp_path: Path) -> None:
    path = file_of(tmp_path / "a.csv", [*heads(1, 3), heads(4, 4)[0] | {"net": "1 0/8"}])
    ran = run("load", path, "--book", book, "--json")
    assert ran.code == 1
    assert last(ran.lines()) == summary(4, 3, 0, 0, 1, 1, 0, 0)
    assert [(line["row"], line["status"]) for line in ran.lines()[:-1]] == [
        (2, "clean"),
        (3, "clean"),
        (4, "clean"),
        (5, "errors"),
    ]
    assert all(list(line) == KEYS for line in ran.lines()[:-1])
    again = run("load", path, "--book", book, "--json")
    assert (again.code, len(again.lines())) == (0, 1)
    assert last(again.lines()) == summary(4, 0, 4, 0, 0, 0, 0, 1)
    assert again.err.startswith(f"note: {path}: already received as a.csv on ")


def test_a_dry_run_prints_the_same_lines(book: Path, tmp_path: Path) -> None:
    path = file_of(tmp_path / "a.csv", [*heads(1, 2), heads(4, 4)[0] | {"net": "1 0/8"}])
    dry = run("load", path, "--book", book, "--json", "--dry-run")
    assert query(book, "SELECT count(*) FROM load") == [(0,)]
    assert run("load", path, "--book", book, "--json") == dry
    other = file_of(tmp_path / "b.csv", heads(5, 6))
    words = run("load", other, "--book", book, "--dry-run").out.splitlines()
    assert words[0] == "2 rows received: 2 would be new, 0 would be revised, 0 would be held for a person, 0 unchanged"
    assert words[-2] == "nothing was written (dry run)"


def test_load_tells_what_was_revised(book: Path, tmp_path: Path) -> None:
    run("load", file_of(tmp_path / "a.csv", heads(1, 2)), "--book", book)
    changed = file_of(tmp_path / "b.csv", [heads(1, 1)[0], heads(2, 2)[0] | {"hunter": "Some\x1bone"}])
    ran = run("load", changed, "--book", book, "--by", "Marda")
    assert ran.out.splitlines() == [
        "2 rows received: 0 new, 1 revised, 0 held for a person, 1 unchanged",
        "findings: 0 errors, 0 questions, 0 notes",
        f"  revised {changed}, row 3: hunter: Hunter 2 -> Some\\x1bone",
        "A book's own rules and local law outrank this program.",
    ]
    assert query(book, "SELECT loaded_by FROM load ORDER BY load_id")[1] == ("Marda",)


def test_entries(book: Path, tmp_path: Path) -> None:
    assert run("entries", "--book", book) == (0, "no entries; load some with: beamledger load FILE --book BOOK\n", "")
    assert run("entries", "--book", book, "--json") == (0, "", "")
    one, two = heads(1, 2)
    run("load", file_of(tmp_path / "a.csv", [one, two | {"age": "4½"}]), "--book", book)
    ran = run("entries", "--book", book, "--json")
    assert ran.code == 0
    first, second = ran.lines()
    assert list(first) == list(second) == ENTRY
    assert {key: second[key] for key in ENTRY if key not in ("gross", "net", "gross_text", "net_text")} == {
        "entry_no": "2", "status": "accepted", "category": "whitetail-typical", "hunter": "Hunter 2", "tag_no": "T-4",
        "area_written": "Abberlow", "area_code": None, "area": None, "district": None, "region": None, "season": "2025-26",
        "weapon": "rifle", "age": 4.5, "taken_on": "2025-11-08", "measured_on": "2026-01-20", "measurer": "M-12", "revision_no": 1,
    }  # fmt: skip
    assert (second["gross_text"], second["net_text"]) == (heads(2, 2)[0]["gross"], heads(2, 2)[0]["net"])
    assert (second["gross"], second["net"]) == (1166, 1103)
    table = run("entries", "--book", book).out.splitlines()
    assert table[0].split() == ["number", "status", "category", "area", "season", "weapon", "gross", "net"]
    assert table[2].split() == [
        "2",
        "accepted",
        "whitetail-typical",
        "Abberlow",
        "2025-26",
        "rifle",
        "145",
        "6/8",
        "137",
        "7/8",
    ]


def test_findings(book: Path, tmp_path: Path) -> None:
    assert run("findings", "--book", book) == (0, "no open findings\n", "")
    path = file_of(
        tmp_path / "a.csv", [*heads(1, 2), heads(3, 3)[0] | {"net": "1 0/8"}, heads(4, 4)[0] | {"weapon": "gun"}]
    )
    checked = {line["row"]: line for line in run("load", path, "--book", book, "--json").lines()[:-1]}
    ran = run("findings", "--book", book, "--json")
    assert ran.code == 1
    assert [(line["row"], line["status"]) for line in ran.lines()] == [(4, "errors"), (5, "questions")]
    for line in ran.lines():
        assert line == checked[line["row"]] | {"file": "a.csv"}
        assert list(line) == KEYS
    words = run("findings", "--book", book).out.splitlines()
    assert words[0].split()[:2] == ["1", "error"]
    assert words[2] == "a.csv"
    assert words[3] == "  row 4, entry 3"


def test_findings_of_a_file_come_first(book: Path, tmp_path: Path) -> None:
    run("load", file_of(tmp_path / "a.csv", [heads(1, 1)[0] | {"Land": "x", "net": "1 0/8"}]), "--book", book)
    of_file, sheet = run("findings", "--book", book, "--json").lines()
    assert (of_file["file"], of_file["row"], of_file["status"]) == ("a.csv", None, "questions")
    assert [one["code"] for one in of_file["findings"]] == ["column-unmatched"]
    assert (sheet["row"], list(of_file)) == (2, KEYS)
