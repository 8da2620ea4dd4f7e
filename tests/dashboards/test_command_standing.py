"""`standing` and `rank` on a book of four heads; nets by hand from tests/book_builder.py: 1101, 1103 (held), 1105, 1107."""

from pathlib import Path

import pytest

from tests.book_builder import file_of, heads, load, new_book
from tests.dashboards.run_command import run
from tests.record_books import BOOK, MINIMUM, insert
from warehouse.book import database

NOTICE = "A book's own rules and local law outrank this program."


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("standing")
    book = new_book(folder)
    with database.writing(book) as connection:
        for name, least, weapons in (("State Book", 1103, []), ("Bow Book", 1000, ["bow"])):
            insert(connection, "record_book", BOOK | {"book": name, "weapons": weapons})
            insert(connection, "minimum", MINIMUM | {"book": name, "minimum_units": least})
    rows = heads(1, 4)
    rows[1]["net"] = "1 0/8"
    rows[3] |= {"weapon": "bow", "antler_state": "in velvet"}
    load(book, file_of(folder / "heads.csv", rows))
    return book


def test_one_entry_in_every_record_book(book: Path) -> None:
    assert run("standing", "--book", book, "--entry", "1").out.splitlines() == [
        "entry 1 (whitetail-typical, 2025-26, accepted)",
        "    Bow Book: does not qualify: taken by rifle, which the book does not take",
        "    State Book: does not qualify: the net of 137 5/8 is below the minimum of 137 7/8 by 2/8",
        NOTICE,
    ]
    assert run("standing", "--book", book, "--entry", "2", "--in", "State Book").out.splitlines() == [
        "entry 2 (whitetail-typical, 2025-26, held)",
        "    State Book: does not qualify: held for its findings: 1 error",
        "    would qualify in State Book once it is accepted",
        NOTICE,
    ]
    assert run("standing", "--book", book, "--entry", "4").out.splitlines()[1:3] == [
        "    Bow Book: qualifies: net 138 3/8, 13 3/8 over the minimum of 125 0/8",
        "    State Book: qualifies: net 138 3/8, 4/8 over the minimum of 137 7/8",
    ]


def test_json_has_a_line_for_each_entry_and_book(book: Path) -> None:
    ran = run("standing", "--book", book, "--json")
    lines = ran.lines()
    assert (ran.code, len(lines)) == (0, 8)
    assert lines[1] == {
        "entry_no": "1", "book": "State Book", "qualifies": False,
        "reasons": ["the net of 137 5/8 is below the minimum of 137 7/8 by 2/8"], "margin": "-2/8", "would_qualify": False,
        "entry_id": 1, "status": "accepted", "category": "whitetail-typical", "season": "2025-26", "score": "net",
        "score_text": "137 5/8", "minimum": "137 7/8",
    }  # fmt: skip
    assert [(line["qualifies"], line["would_qualify"], line["margin"]) for line in lines if line["book"] == "State Book"] == [
        (False, False, "-2/8"), (False, True, "0"), (True, False, "2/8"), (True, False, "4/8"),
    ]  # fmt: skip


def test_ranks_for_people(book: Path) -> None:
    assert run("rank", "--book", book, "--in", "State Book").out.splitlines() == [
        "White-tailed deer, typical, by net",
        "  place        net     gross  entry        hunter                   area             season   weapon",
        "     1     138 3/8   146 0/8  4            Hunter 4                 -                2025-26  bow",
        "     2     138 1/8   145 7/8  3            Hunter 3                 -                2025-26  rifle",
        "Ties share a place, and the next place is skipped.",
        NOTICE,
    ]


def test_ranks_as_json(book: Path) -> None:
    (line,) = run(
        "rank", "--book", book, "--top", "1", "--category", "Typical", "--season", "2025-26", "--json"
    ).lines()
    assert line == {
        "place": 1, "tied": False, "entry_no": "4", "category": "whitetail-typical", "area": None, "district": None,
        "season": "2025-26", "weapon": "bow", "gross": "146 0/8", "net": "138 3/8", "entry_id": 4, "book": None,
        "hunter": "Hunter 4", "antler_state": "velvet", "ranked_by": "net",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("options", "places"),
    [
        (("--weapon", "archery"), ["4"]), (("--weapon", "firearm"), ["3", "1"]), (("--from", "2026-27"), []),
        (("--to", "2025-26", "--score", "gross"), ["4", "3", "1"]), (("--in", "bow book "), ["4"]), (("--weapon", "any"), ["4", "3", "1"]),
    ],
)  # fmt: skip
def test_what_is_asked_for_is_ranked(book: Path, options: tuple[str, ...], places: list[str]) -> None:
    assert [line["entry_no"] for line in run("rank", "--book", book, "--json", *options).lines()] == places


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("rank", "--in", "Nix"), "--in 'Nix': not in the book; expected one of: Bow Book, State Book"),
        (("standing", "--in", "Nix"), "--in 'Nix': not in the book; expected one of: Bow Book, State Book"),
        (("standing", "--entry", "=99"), "entry =99: the book has no such entry"),
        (("standing", "--entry", "99"), "no entry of the book has the number '99'; for the entry with the ID 99 write =99"),
        (("rank", "--district", "North"), "--district 'North': not in the book; expected one of: none"),
        (("rank", "--area", "Abberlow"), "--area 'Abberlow': not in the book's table of areas"),
        (("rank", "--season", "2025"), "'2025' is no season; expected one like 2024-25"),
        (("rank", "--season", "2024-26"), "'2024-26' is no season; expected one like 2024-25"),
        (("rank", "--season", "2024-25", "--from", "2020-21"), "--season is one season; it does not go with --from or --to"),
        (("rank", "--from", "2021-22", "--to", "2020-21"), "--from 2021-22 is after --to 2020-21"),
        (("rank", "--category", "moose"), "--category 'moose': not in the book; expected one of: elk-nontypical, elk-typical, "
         "whitetail-nontypical, whitetail-typical"),
        (("rank", "--weapon", "gun"), "--weapon 'gun': expected rifle, shotgun, handgun, muzzleloader, bow, crossbow or found, or "
         "firearm for the first three"),
    ],
)  # fmt: skip
def test_what_the_book_does_not_have_is_a_sentence(book: Path, options: tuple[str, ...], message: str) -> None:
    ran = run(options[0], "--book", book, *options[1:])
    assert (ran.code, ran.out, ran.err) == (2, "", f"beamledger: {message}\n")


def test_a_book_without_record_books_or_heads_says_so(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    assert run("standing", "--book", book).out.splitlines()[0] == (
        "the book has no record books; put some in place with: beamledger reference books.csv minimums.csv --book BOOK"
    )
    assert run("rank", "--book", book).out == "no entry is ranked: none is accepted that fits what was asked for\n"
