"""Every code of the one table is named by a test of the audit, and nothing can be found under any other."""

import ast
from pathlib import Path

import pytest

from warehouse.audit.codes import CODES, FIGURE_TITLES, SEVERITIES, code_of, title_of
from warehouse.scoring import TOTALS

HERE = Path(__file__).parent


def _strings(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}


def test_every_code_appears_in_a_test() -> None:
    files = [path for path in HERE.glob("test_*.py") if path.name != Path(__file__).name]
    named = set().union(*map(_strings, files))
    assert set(CODES) - named - {"file-twice"} == set()


@pytest.mark.parametrize("code", CODES)
def test_every_code_is_complete(code: str) -> None:
    entry = code_of(code)
    assert entry.severity in SEVERITIES
    assert entry.what_to_do.endswith(".")
    assert title_of(code) == entry.title
    assert code == code.lower().replace(" ", "-").replace("_", "-")


def test_every_total_has_a_title() -> None:
    assert tuple(FIGURE_TITLES) == TOTALS


def test_a_code_outside_the_table_is_refused() -> None:
    with pytest.raises(KeyError, match="no-such-code"):
        code_of("no-such-code")
