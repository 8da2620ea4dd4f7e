"""Files whose names would act on a terminal, or read as an option."""

import json
import os
import unicodedata
from pathlib import Path

import pytest

from tests.book_builder import file_of, heads, load, new_book, query
from tests.dashboards.run_command import Ran, run

HOSTILE = [
    "\u202egpj.csv",
    "two\nlines.csv",
    "\x1b[2J\x1b]0;mine\x07.csv",
    "e\u0301\u200b.csv",
    "-rf.csv",
    "a" * 251 + ".csv",
]
ACTING = {"Cc", "Cf", "Cs", "Zl", "Zp"}


def acting(ran: Ran) -> set[str]:
    """The signs of an output that act instead of being seen, line ends apart."""
    return {sign for sign in ran.out + ran.err if sign != "\n" and unicodedata.category(sign) in ACTING}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_shown_and_does_not_act(tmp_path: Path, name: str) -> None:
    path, broken = file_of(tmp_path / name, [heads(1, 1)[0] | {"net": "1 0/8", "Land": "x"}]), tmp_path / f"x{name[1:]}"
    broken.write_text("no sheets here\n")
    book = new_book(tmp_path)
    ran = [
        run("check", path), run("check", path, "--json"), run("check", broken),
        run("load", path, "--book", book, "--json"), run("load", path, "--book", book), run("findings", "--book", book),
        run("findings", "--book", book, "--json"), run("entries", "--book", book),
    ]  # fmt: skip
    assert [one.code for one in ran] == [1, 1, 2, 1, 0, 1, 1, 0]
    assert set().union(*map(acting, ran)) == set()
    assert len(ran[2].err.splitlines()) == 1
    assert [line["file"] for line in ran[1].lines()] == [str(path)] * 2
    assert [line["file"] for line in ran[6].lines()] == [name] * 2
    assert query(book, "SELECT name FROM received_file") == [(name,)]  # the name itself is kept as it is


def test_a_hostile_cell_does_not_act_either(tmp_path: Path) -> None:
    odd = "\u202etxt\x1b[2J\u2028\x85\u2066x"
    row = heads(1, 1)[0] | {"hunter": odd, "area": odd, "entry_no": odd, "net": odd, "weapon": odd}
    path, book = file_of(tmp_path / "a.csv", [row]), new_book(tmp_path)
    ran = [
        run("check", path), run("check", path, "--json"), run("load", path, "--book", book, "--json"),
        run("findings", "--book", book), run("findings", "--book", book, "--json"),
        run("entries", "--book", book), run("entries", "--book", book, "--json"),
    ]  # fmt: skip
    assert [one.code for one in ran] == [1, 1, 1, 1, 1, 0, 0]
    assert set().union(*map(acting, ran)) == set()
    assert ran[6].lines()[0]["hunter"] == "\u202etxt\x1b[2J \u2066x"  # line ends became a blank
    assert len(ran[6].out.splitlines()) == 1


def test_a_file_that_begins_with_a_dash_is_named_behind_two(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    file_of(Path("-rf.csv"), heads(1, 2))
    assert run("check", "-rf.csv").code == 2
    assert run("check", "--json", "--", "-rf.csv").lines()[0]["file"] == "-rf.csv"
    assert run("check", "./-rf.csv").code == 0


def test_a_name_that_is_no_utf8_is_taken_and_shown(tmp_path: Path) -> None:
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/club\xff.csv"))
    file_of(path, [heads(1, 1)[0] | {"net": "1 0/8"}])
    book = new_book(tmp_path)
    ran = run("check", path, "--json")
    assert ran.code == 1
    assert json.loads(ran.out)["file"] == f"{tmp_path}/club\\xff.csv"
    assert run("check", path).out.startswith(f"{tmp_path}/club\\xff.csv: 1 sheet; 1 with errors")
    assert load(book, path).counts()["held"] == 1
    assert query(book, "SELECT name FROM received_file") == [("club\\xff.csv",)]
