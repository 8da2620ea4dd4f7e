"""The documents say what the program does: tables, commands and examples are held to the code."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from dashboards.arguments import EXAMPLES
from dashboards.documents import README, with_tables
from loaders.fields import all_fields
from warehouse.audit.codes import CODES, code_of, title_of
from warehouse.glossary import TERMS, term_of

ROOT = README.parent
TEXT = README.read_text(encoding="utf-8")


def test_the_tables_of_the_readme_are_the_codes() -> None:
    assert with_tables(TEXT) == TEXT, "run: python -m dashboards.documents"


@pytest.mark.parametrize("code", CODES)
def test_every_code_stands_in_the_readme(code: str) -> None:
    assert f"| `{code}` | {CODES[code].severity} |" in TEXT


def test_every_field_has_one_term_and_every_term_a_field() -> None:
    named = [field for term in TERMS for field in term.fields]
    assert sorted(named) == sorted(all_fields())
    assert term_of("g3_l").meaning.startswith("points G1")


@pytest.mark.parametrize("field", ["gross", "beam_diff", "g2_diff", "diff_total"])
def test_stated_figures_share_one_entry_of_the_table(field: str) -> None:
    assert code_of(field).severity == "error"
    assert title_of(field).endswith(" does not add up")


@pytest.mark.parametrize("command", EXAMPLES)
def test_every_command_stands_in_the_readme_and_has_an_example(command: str) -> None:
    assert f"beamledger {command}" in TEXT
    assert EXAMPLES[command].startswith(f"beamledger {command} ")


def test_the_example_of_a_finding_is_what_the_command_prints() -> None:
    command = [sys.executable, "-m", "dashboards.command", "check", "sample_data/messy/parish_list.csv"]
    printed = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False).stdout
    quoted = [line[4:] for line in TEXT.splitlines() if line.startswith("    ") and not line.startswith("    $")]
    assert quoted == printed.splitlines()[: len(quoted)]
    assert len(quoted) == 6


def test_the_readme_says_that_books_and_law_come_first() -> None:
    assert "A book's own rules and local law outrank this program" in TEXT


@pytest.mark.parametrize("name", re.findall(r"\((\w+/[\w./-]+\.(?:png|md))\)|`(\w+/[\w./-]+\.md)`", TEXT))
def test_files_that_the_readme_names_are_there(name: tuple[str, str]) -> None:
    assert (ROOT / (name[0] or name[1])).is_file()


def test_no_module_is_a_drawer_for_anything() -> None:
    parts = {
        part for path in ROOT.rglob("*.py") if ".venv" not in path.parts for part in Path(path).with_suffix("").parts
    }
    assert not parts & {"utils", "util", "helpers", "common", "misc"}
