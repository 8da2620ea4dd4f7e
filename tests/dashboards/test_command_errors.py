import subprocess
import sys
from pathlib import Path

import pytest

from tests.book_builder import file_of, heads, new_book
from tests.dashboards.run_command import ROOT, run, run_apart


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["check", "none.csv"], "none.csv: "),
        (["check", "."], ".: "),
        (["check", "empty.csv"], "empty.csv: "),
        (["check", "letter.csv"], "letter.csv: no row of headings was found in the first 40 rows"),
        (
            ["check", "good.csv", "--map", "nothing"],
            "--map 'nothing': expected HEADING=FIELD, like --map 'R Beam=beam_r'",
        ),
        (["check", "good.csv", "--map", "X=beem"], "mapping '--map': unknown field beem; expected one of: entry_no"),
        (
            ["load", "good.csv", "--book", "none.duckdb"],
            "none.duckdb: no book there; make one with `beamledger init none.duckdb`",
        ),
        (["load", "good.csv", "--book", "letter.csv"], "letter.csv: not a book of Beamledger"),
        (["load", "good.csv", "--book", "book.duckdb", "--mapping", "x"], "book.duckdb: no mapping is saved as 'x'"),
        (["load", "good.csv", "none.csv", "--book", "book.duckdb"], "none.csv: "),
        (["findings", "--book", "none.duckdb"], "none.duckdb: no book there"),
        (["entries", "--book", "letter.csv"], "letter.csv: not a book of Beamledger"),
        (["serve", "--book", "none.duckdb"], "none.duckdb: no book there"),
        (["init", "book.duckdb"], "book.duckdb: already exists"),
        (["init", "new.duckdb", "--areas", "none.csv"], "none.csv: cannot be read as a UTF-8 CSV file"),
        (["init", "new.duckdb", "--areas", "good.csv"], "good.csv, row 1: found the columns entry_no"),
        (["init", "new.duckdb", "--reference", "."], ".: holds none of the reference files"),
        (["demo", "--book", "letter.csv", "--no-serve"], "letter.csv: not a book of Beamledger"),
    ],
)
def test_a_refusal_is_one_line_on_stderr_and_code_2(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], message: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty.csv").write_bytes(b"")
    (tmp_path / "letter.csv").write_text("Dear secretary,\nhere are the scores.\n")
    file_of(tmp_path / "good.csv", heads(1, 1))
    new_book(tmp_path)
    before = sorted(path.name for path in tmp_path.iterdir())
    ran = run(*arguments)
    assert (ran.code, ran.out) == (2, "")
    (line,) = ran.err.splitlines()
    assert line.startswith(f"beamledger: {message}")
    assert "Traceback" not in line
    assert sorted(path.name for path in tmp_path.iterdir()) == before


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "beamledger: error: the following arguments are required: COMMAND"),
        (["check"], "beamledger check: error: the following arguments are required: FILE"),
        (["findings"], "beamledger findings: error: the following arguments are required: --book"),
        (
            ["findings", "--book", "x", "--wait", "nan"],
            "beamledger findings: error: argument --wait: invalid seconds value: 'nan'",
        ),
        (
            ["findings", "--book", "x", "--wait", "-1"],
            "beamledger findings: error: argument --wait: invalid seconds value: '-1'",
        ),
        (["check", "a.csv", "--\x1b[2J"], "beamledger: error: unrecognized arguments: --\\x1b[2J"),
    ],
)
def test_wrong_usage_is_code_2_with_the_usage(arguments: list[str], message: str) -> None:
    ran = run(*arguments)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("usage: beamledger")
    assert ran.err.splitlines()[-1] == message


def test_a_reader_that_has_had_enough_sees_no_trace(tmp_path: Path) -> None:
    path = file_of(tmp_path / "a.csv", [sheet for _ in range(6) for sheet in heads(0, 255)])
    command = [sys.executable, "-m", "dashboards.command", "check", str(path), "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        assert child.stdout.readline().startswith('{"file":')
        child.stdout.close()
        assert child.stderr.read() == ""
        assert child.wait() == 2


def test_check_waits_for_no_library_that_it_does_not_use(tmp_path: Path) -> None:
    path = file_of(tmp_path / "a.csv", heads(1, 1))
    code = (
        "import sys; from dashboards.command import main; code = main(['check', sys.argv[1]]); "
        "print(sorted({'duckdb', 'streamlit', 'altair', 'pandas', 'scipy', 'pyarrow', 'openpyxl'} & set(sys.modules))); sys.exit(code)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, cwd=ROOT)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_same_bytes_in_any_time_zone_and_on_any_number_of_threads(tmp_path: Path) -> None:
    rows = [sheet | {"net": "1 0/8"} if number % 3 else sheet for number, sheet in enumerate(heads(0, 60))]
    path = file_of(tmp_path / "a.csv", rows)
    files = (path, ROOT / "sample_data/messy/club_night.xlsx")
    here = run("check", *files, "--json")
    there = run_apart(
        "check", *files, "--json",
        TZ="Pacific/Kiritimati", POLARS_MAX_THREADS="1", PYTHONHASHSEED="1", LC_ALL="C",
    )  # fmt: skip
    assert there == here
    assert here.code == 1
