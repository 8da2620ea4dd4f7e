"""The command `publish`: freezes once, writes the same bytes for ever, and says what it wrote."""

import csv
import io
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.book_builder import copy_of, query
from tests.dashboards.run_command import ROOT, run, run_apart
from tests.warehouse.book.editions.edition_book import (
    a_year_later,
    add,
    decide,
    edition_book,
    published_book,
    sheet,
)
from warehouse.book import database

NOTICE = "A book's own rules and local law outrank this program."
CANARIES = ("TAG-CANARY", "MEASURER-CANARY", "AREA-CANARY", "LOGIN-CANARY", "FILE-CANARY", "2025-11-09", "2026-01-21")


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_the_first_edition(tmp_path: Path) -> None:
    book, folder = edition_book(tmp_path), tmp_path / "out"
    ran = run(
        "publish", "--book", book, "--edition", "2026", "--to", folder, "--by", "Una Reed", "--why", "of the year"
    )
    head = query(book, "SELECT hash FROM event WHERE event_no = 1")[0][0]
    sizes = {name: len(content) for name, content in contents(folder).items()}
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines() == [
        "edition '2026' frozen and written",
        "6 accepted entries; 6 lines in the lists of all time, 4 lines in those of season 2025-26",
        *(f"    {folder}/{name}: {sizes[name]:,} bytes"
          for name in ("rankings.html", "rankings.csv", "changes.csv", "errata.csv")),
        "the first edition: no changes, no errata",
        f"This edition rests on 1 event of the log; the hash of the last one is {head}.",
        NOTICE,
    ]  # fmt: skip
    assert query(book, "SELECT kind, author, reason, about FROM event WHERE event_no = 2") == [
        ("publish", "Una Reed", "of the year", "2026")
    ]
    assert query(book, "SELECT published_on FROM edition") == [(datetime.now(UTC).date(),)]


def test_a_second_edition_and_the_first_one_again(tmp_path: Path) -> None:
    book = published_book(tmp_path)
    assert run("publish", "--book", book, "--edition", "2026", "--to", tmp_path / "first").code == 0
    a_year_later(book)
    ran = run("publish", "--book", book, "--edition", "2027", "--to", tmp_path / "second")
    typical = "Quillmark Record, White-tailed deer, typical, place"
    assert ran.code == 0
    assert ran.out.splitlines()[6:12] == [
        "since edition '2026': 2 new, 2 corrected, 2 withdrawn, 3 moved; 4 errata",
        f"    {typical} 5, entry 2, Hunter 2: Net 137 7/8 is now 138 7/8; gross 145 6/8 is now 146 2/8; "
        "place 5 is now place 2. Reason: the left beam was misread.",
        f"    {typical} 3, entry 4, Tarn Oxtrell: Hunter “Hunter 4” is now “Tarn Oxtrell”; place 3 is now place 4. "
        "Reason: the name was written by ear.",
        f"    {typical} 1, entry 6, Hunter 6: Withdrawn: the owner asked for it.",
        f"    {typical} 4, entry 3, Hunter 3: No longer in this list: net 138 1/8 is now 137 3/8; gross 145 7/8 is now "
        "145 4/8; it is below the minimum of 137 6/8. Reason: the tape was read from its end.",
        next(line for line in ran.out.splitlines() if line.startswith("This edition rests on 7 events of the log; ")),
    ]
    again = run("publish", "--book", book, "--edition", "2026", "--to", tmp_path / "again")
    assert again.code == 0
    assert again.out.splitlines()[0] == (
        "edition '2026' of 2026-03-01 written again as it was frozen; the log holds 6 events since then"
    )
    assert contents(tmp_path / "again") == contents(tmp_path / "first")
    assert contents(tmp_path / "second") != contents(tmp_path / "first")
    assert query(book, "SELECT count(*) FROM event WHERE kind = 'publish'") == [(2,)]


def test_the_same_bytes_in_every_time_zone_locale_and_on_any_number_of_threads(tmp_path: Path) -> None:
    book = published_book(tmp_path)
    a_year_later(book)
    run("publish", "--book", book, "--edition", "2027", "--to", tmp_path / "here")
    surroundings: list[dict[str, str]] = [
        {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "1", "POLARS_MAX_THREADS": "1"},
        {"TZ": "America/Adak", "LC_ALL": "tr_TR.UTF-8", "PYTHONHASHSEED": "4242", "POLARS_MAX_THREADS": "7"},
    ]
    for number, around in enumerate(surroundings):
        folder = tmp_path / f"there{number}"
        ran = run_apart("publish", "--book", book, "--edition", "2027", "--to", folder, folder=ROOT, **around)
        assert (ran.code, ran.err) == (0, "")
        assert contents(folder) == contents(tmp_path / "here")


def test_freezing_gives_the_same_bytes_wherever_it_is_done(tmp_path: Path) -> None:
    book = published_book(tmp_path)
    a_year_later(book)
    outs = []
    for number, threads in enumerate(("1", "5")):
        mine, folder = copy_of(book, tmp_path / f"book{number}.duckdb"), tmp_path / f"out{number}"
        around = {"PYTHONHASHSEED": str(number), "POLARS_MAX_THREADS": threads, "TZ": ("UTC", "Asia/Tokyo")[number]}
        assert (
            run_apart("publish", "--book", mine, "--edition", "2027", "--to", folder, folder=ROOT, **around).code == 0
        )
        outs.append(contents(folder))
    assert outs[0] == outs[1]


def test_nothing_but_what_may_be_published_comes_out(tmp_path: Path) -> None:
    """Canaries in every other field: of a new entry (7), of one received again (4), of one that fell out for them (5)."""
    book = published_book(tmp_path)
    with database.writing(book) as connection:
        connection.execute("INSERT INTO measurer VALUES ('MEASURER-CANARY', 'x', DATE '2001-01-01', NULL, 'official')")
    hidden = {
        "tag_no": "TAG-CANARY",
        "measurer": "MEASURER-CANARY",
        "taken_on": "2025-11-09",
        "measured_on": "2026-01-21",
    }
    new = sheet(7, None, hunter="Ilse Marrowby", **hidden | {"area": "AREA-CANARY"})
    add(book, new, sheet(4, tag_no="TAG-CANARY", hunter="Tarn Oxtrell"), name="FILE-CANARY.csv")
    add(book, sheet(5, weapon="bow", measurer="MEASURER-CANARY-2"), name="again.csv")
    decide(book, 7, "accept", "seen")
    decide(book, 5, "accept", "seen too")
    ran = run("publish", "--book", book, "--edition", "2027", "--to", tmp_path / "out", "--by", "LOGIN-CANARY")
    assert ran.code == 0
    files = {name: content.decode() for name, content in contents(tmp_path / "out").items()}
    printed = "".join(files.values()) + ran.out
    assert [canary for canary in CANARIES if canary in printed] == []
    assert query(book, "SELECT tag_no, measurer, area_written FROM entry_revision WHERE hunter = 'Ilse Marrowby'") == [
        ("TAG-CANARY", "MEASURER-CANARY", "AREA-CANARY")
    ]
    assert ",1,false,139 1/8,146 3/8,Ilse Marrowby,,,2025-26,Rifle,hard,7\r\n" in files["rankings.csv"]
    day = query(book, "SELECT strftime(max(loaded_at), '%Y-%m-%d') FROM load")[0][0]
    reason = f"Reason: its row was received again, changed, on {day}."
    errata = csv.reader(io.StringIO(files["errata.csv"], newline=""))
    assert [line[-1] for line in errata][1:] == [
        f"No longer in this list: it was not measured as the book asks. {reason}",
        f"Hunter “Hunter 4” is now “Tarn Oxtrell”. {reason}",
        f"No longer in this list: it was not measured as the book asks. {reason}",
    ]


def test_names_of_others_come_out_harmless(tmp_path: Path) -> None:
    book = edition_book(tmp_path)
    names = {7: "<script>alert(1)</script>", 8: "=1+2", 9: "\u202egnp.exe", 10: "+SUM(A1)"}
    add(book, *(sheet(number, hunter=name) for number, name in names.items()))
    assert run("publish", "--book", book, "--edition", "2026", "--to", tmp_path / "out").code == 0
    files = {name: content.decode() for name, content in contents(tmp_path / "out").items()}
    assert "<script" not in files["rankings.html"]
    assert "&lt;script&gt;alert(1)&lt;/script&gt;</td>" in files["rankings.html"]
    assert all("\u202e" not in content for content in files.values())
    assert re.findall(r",('[=+][^,]*|\\u202e[^,]*),", files["rankings.csv"]) == [
        "'+SUM(A1)", r"\u202egnp.exe", "'=1+2", "'+SUM(A1)", r"\u202egnp.exe", "'=1+2",
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["../2027", "", "..", "a" * 41, "=2027", "20\n27"])
def test_a_name_that_is_none_is_refused_before_the_book_is_touched(tmp_path: Path, name: str) -> None:
    book = published_book(tmp_path)
    ran = run("publish", "--book", book, f"--edition={name}", "--to", tmp_path / "out")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("beamledger: edition '")
    assert ran.err.endswith("; nothing was published\n")
    assert not (tmp_path / "out").exists()
    assert query(book, "SELECT count(*) FROM edition") == [(1,)]


def test_a_folder_that_cannot_be_written_is_said_and_the_edition_kept(tmp_path: Path) -> None:
    book = edition_book(tmp_path)
    (tmp_path / "out").write_text("ours")
    ran = run("publish", "--book", book, "--edition", "2026", "--to", tmp_path / "out")
    assert (ran.code, ran.out) == (2, "")
    assert "edition '2026' is kept in the book, but its files cannot be written there: File exists" in ran.err
    again = run("publish", "--book", book, "--edition", "2026", "--to", tmp_path / "elsewhere")
    assert again.out.splitlines()[0].endswith("written again as it was frozen; the log holds 0 events since then")
