import re
import shlex
import shutil
from pathlib import Path

import pytest

from dashboards.arguments import EXAMPLES, make_parser
from tests.dashboards.run_command import ROOT, run

CODES = {"init": 0, "load": 1, "check": 1, "findings": 1, "entries": 0}  # the sample data holds planted errors


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that looks like the repository to the examples: it holds some of the sample data."""
    folder = tmp_path_factory.mktemp("examples")
    for part in ("messy", "reference"):
        shutil.copytree(ROOT / "sample_data" / part, folder / "sample_data" / part)
    (folder / "sample_data" / "sheets").mkdir()
    shutil.copy(ROOT / "sample_data/sheets/sheets_2024-25.csv", folder / "sample_data/sheets")
    return folder


def example_in_help(command: str) -> list[str]:
    ran = run(command, "--help")
    assert (ran.code, ran.err) == (0, "")
    found = re.search(r"\nexample: (beamledger .*)\Z", ran.out, re.DOTALL)
    assert found is not None
    return shlex.split(found[1])


def test_every_command_has_an_example() -> None:
    listed = re.findall(r"^    (\w+)(?: |$)", run("--help").out, re.MULTILINE)
    assert sorted(listed) == sorted(EXAMPLES)
    for command in listed:
        name, *arguments = example_in_help(command)
        assert [name, *arguments] == shlex.split(EXAMPLES[command])
        assert make_parser().parse_args(arguments).command == command


@pytest.mark.parametrize("command", CODES)
def test_the_example_runs(folder: Path, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    """`init` makes the book that the later ones use; the example of `demo` is run by its own test."""
    monkeypatch.chdir(folder)
    monkeypatch.setenv("COLUMNS", "200")
    if command != "init" and not Path("region.duckdb").exists():
        run(*shlex.split(EXAMPLES["init"])[1:])
    if command in ("findings", "entries"):
        run(*shlex.split(EXAMPLES["load"])[1:])
    if command == "init":
        Path("region.duckdb").unlink(missing_ok=True)
    ran = run(*example_in_help(command)[1:])
    assert (ran.code, ran.err) == (CODES[command], "")
    assert len(ran.out.splitlines()) >= 1
    assert Path("region.duckdb").exists()


def test_the_version_and_the_exit_codes_are_told() -> None:
    assert re.fullmatch(r"beamledger \d+\.\d+\.\d+\n", run("--version").out)
    told = " ".join(run("--help").out.split())
    assert "Exit codes: 0 done and clean, 1 done with findings that need a person, 2 not done." in told
