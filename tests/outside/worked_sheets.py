"""Writes a worked example down as the published sheet has it, and gives the figures this program makes of it."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from tests.plain_scoring import inches, sheet_text
from tests.warehouse.scoring_frames import figures_in_inches
from warehouse.categories import Category, category_of, read_category

HERE = Path(__file__).parent


def category(code: str) -> Category:
    """A category that ships, or one of the test categories beside this file."""
    path = HERE / f"{code}.toml"
    return read_category(path, HERE) if path.exists() else category_of(code)


def sides(names: Sequence[str], right: str, left: str) -> dict[str, Fraction]:
    """Measures of both sides, written in a row and separated by commas."""
    measures: dict[str, Fraction] = {}
    for side, texts in (("r", right), ("l", left)):
        values = [inches(text) for text in texts.split(",")]
        measures |= {f"{name}_{side}": value for name, value in zip(names, values, strict=True)}
    return measures


def figures(code: str, measures: dict[str, Fraction]) -> dict[str, str]:
    """Every figure of one sheet as text."""
    chosen = category(code)
    (found,) = figures_in_inches([measures], chosen)
    return {name: sheet_text(value, chosen.unit) for name, value in found.items()}
