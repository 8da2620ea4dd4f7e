import re
import shlex
from pathlib import Path

import pytest

from dashboards.arguments import EXAMPLES
from tests.book_builder import query
from tests.dashboards.run_command import ROOT, Ran, run

TABLES = ("load", "received_file", "received_row", "entry", "entry_revision", "measurement", "finding")


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Ran]:
    """The demo's book and what the command said, run as its help says."""
    folder = tmp_path_factory.mktemp("demo")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        return folder / "demo.duckdb", run(*shlex.split(EXAMPLES["demo"])[1:])


def figure(ran: Ran, label: str) -> int:
    found = re.search(rf"^  {label} +([\d,]+)\b", ran.out, re.MULTILINE)
    assert found is not None, label
    return int(found[1].replace(",", ""))


def one(book: Path, sql: str) -> int:
    return int(query(book, sql)[0][0])


def counts(book: Path) -> dict[str, int]:
    return {table: one(book, f"SELECT count(*) FROM {table}") for table in TABLES}


def test_its_figures_are_those_of_the_book(demo: tuple[Path, Ran]) -> None:
    book, ran = demo
    assert (ran.code, ran.err) == (1, "")
    received = one(book, "SELECT count(*) FROM received_row")
    held = one(book, "SELECT count(*) FROM current_entry WHERE status = 'held'")
    accepted = one(book, "SELECT count(*) FROM current_entry WHERE status = 'accepted'")
    assert figure(ran, "rows received") == received
    assert (figure(ran, "accepted"), figure(ran, "held")) == (accepted, held)
    assert received == accepted + held  # nothing was sent before
    assert "the balance holds: received = accepted + held" in ran.out
    files = [*(ROOT / "sample_data/sheets").glob("*.csv"), *(ROOT / "sample_data/messy").glob("*.*")]
    assert f"was built from {len(files) - 1} files of an invented region." in ran.out  # messy has a README
    assert received == one(book, "SELECT sum(row_count) FROM received_file")


def test_its_open_findings_are_those_of_the_book(demo: tuple[Path, Ran]) -> None:
    book, ran = demo
    found = {severity: one(book, f"SELECT count(*) FROM open_finding WHERE severity = '{severity}'")
             for severity in ("error", "question", "note")}  # fmt: skip
    assert min(found.values()) > 0
    line = f"Open findings: {found['error']:,} errors, {found['question']:,} questions, {found['note']:,} notes. The worst:"
    assert line in ran.out.splitlines()


def test_the_worst_findings_are_in_the_book_and_worst_first(demo: tuple[Path, Ran]) -> None:
    book, ran = demo
    worst = re.findall(r"^ *(\d+)\. (\w+) in entry (.+) \((.+), row (\d+)\)\n     (.+)$", ran.out, re.MULTILINE)
    assert [int(place) for place, *_ in worst] == list(range(1, 11))
    known = {(severity, number, file, row, message) for severity, number, file, row, message in query(
        book, "SELECT severity, entry_no, file, row, message FROM open_finding WHERE row IS NOT NULL")}  # fmt: skip
    assert all(
        (severity, number, file, int(row), message) in known for _, severity, number, file, row, message in worst
    )
    off = dict(
        query(
            book,
            "SELECT entry_no, abs(stated_net - net) FROM current_entry WHERE net IS NOT NULL AND stated_net IS NOT NULL",
        )
    )
    distances = [off.get(number, 0) for _, _, number, *_ in worst]
    assert distances == sorted(distances, reverse=True)
    assert distances[0] > 0


def test_the_other_reports_agree_with_it(demo: tuple[Path, Ran]) -> None:
    book, ran = demo
    entries = run("entries", "--book", book, "--json").lines()
    assert len(entries) == figure(ran, "rows received")
    assert sum(entry["status"] == "held" for entry in entries) == figure(ran, "held")
    sheets = [line for line in run("findings", "--book", book, "--json").lines() if line["row"] is not None]
    assert sum(line["status"] != "clean" for line in sheets) == figure(ran, "held")


def test_run_again_it_adds_nothing(demo: tuple[Path, Ran]) -> None:
    book, first = demo
    before = counts(book)
    again = run("demo", "--book", book, "--no-serve")
    assert counts(book) == before
    assert (again.code, again.err) == (0, "")
    assert again.out == first.out.replace("The book demo.duckdb", f"The book {book}")
