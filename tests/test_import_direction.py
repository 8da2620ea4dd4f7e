"""Loaders and dashboards import the warehouse, dashboards may import loaders, and nothing goes the other way."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGES = ("warehouse", "loaders", "dashboards")
MODULES = [path.relative_to(ROOT) for package in PACKAGES for path in sorted((ROOT / package).rglob("*.py"))]
PURE = (
    "warehouse/eighths.py",
    "warehouse/scoring.py",
    "warehouse/plain_text.py",
    "warehouse/categories/",
    "warehouse/audit/",
)
FORBIDDEN = {
    "warehouse": ("loaders", "dashboards", "sample_data"),
    "loaders": ("dashboards", "sample_data"),
    "dashboards": (),
}


def _imports(tree: ast.AST) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide the direction"
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def _tree(module: Path) -> ast.Module:
    return ast.parse((ROOT / module).read_text(encoding="utf-8"))


def _connects(tree: ast.AST) -> bool:
    attributes = [node for node in ast.walk(tree) if isinstance(node, ast.Attribute)]
    called = any(a.attr == "connect" and isinstance(a.value, ast.Name) and a.value.id == "duckdb" for a in attributes)
    return called or "duckdb.connect" in _imports(tree)


@pytest.mark.parametrize("module", MODULES, ids=str)
def test_imports_go_one_way(module: Path) -> None:
    tops = {name.split(".")[0] for name in _imports(_tree(module))}
    assert tops.isdisjoint({*FORBIDDEN[module.parts[0]], "tests"})
    assert module.parts[0] == "dashboards" or "streamlit" not in tops


@pytest.mark.parametrize("module", [module for module in MODULES if module.as_posix().startswith(PURE)], ids=str)
def test_the_pure_domain_knows_no_book(module: Path) -> None:
    names = _imports(_tree(module))
    assert not [name for name in names if name.startswith(("warehouse.book", "duckdb"))]


def test_one_place_opens_the_database() -> None:
    assert [module.as_posix() for module in MODULES if _connects(_tree(module))] == ["warehouse/book/database.py"]


def test_the_folders_were_found() -> None:
    assert {module.parts[0] for module in MODULES} == set(PACKAGES)
    assert len(MODULES) > 60
