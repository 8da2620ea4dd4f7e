"""Read a category's TOML file: the lines of its sheet, which pair, which count, how the spread is treated.

A new antlered, horned or skull category is a new file here; no code changes. Lengths in the file are text in the
category's own unit ("36 0/8", "18 12/16").
"""

import re
import tomllib
from dataclasses import MISSING, dataclass, fields
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from warehouse.eighths import EIGHTHS, SIXTEENTHS, units_of
from warehouse.errors import CategoryRefused

FOLDER = Path(__file__).parent
# Checked by hand, not by a validation library: its import would be a third of the time that a check of one sheet takes.
CHOICES: dict[str, tuple[Any, ...]] = {
    "line.kind": ("spread", "beam", "horn", "point", "circumference", "skull"),
    "line.sides": ("pair", "single"),
    "line.use": ("scored", "credited", "deducted", "recorded"),
    "category.kind": ("antlered", "horned", "skull"),
    "category.unit": (EIGHTHS, SIXTEENTHS),
    "category.abnormal": ("subtracted", "added", "none"),
}


@dataclass(frozen=True)
class Line:
    """One line of the sheet. A pair has a right and a left measure; a single line has one.

    `use`: "scored" adds to the score; a spread line is "credited" (added, never more than the longer side of
    `capped_by`), "deducted" or only "recorded". `needed`: must be measured on every head (a point need not be).
    `least` and `most`: what the species grows, as text in the category's unit; outside them is a question.
    """

    name: str
    label: str
    kind: str
    sides: str
    use: str = "scored"
    capped_by: str | None = None
    at_least_line: str | None = None
    needed: bool = False
    order: int | None = None
    least: str | None = None
    most: str | None = None

    @cached_property
    def columns(self) -> tuple[str, ...]:
        """The measure columns of this line: `beam_r`, `beam_l` for a pair, the bare name for a single."""
        return (f"{self.name}_r", f"{self.name}_l") if self.sides == "pair" else (self.name,)

    @property
    def difference(self) -> str:
        """The column of the stated side-to-side difference of a pair."""
        return f"{self.name}_diff"


@dataclass(frozen=True)
class Category:
    """A category of heads and the lines of its sheet, in the order the sheet prints them."""

    code: str
    name: str
    species: str
    kind: str
    unit: int
    abnormal: str
    bounds_source: str
    lines: tuple[Line, ...]
    point_least: str | None = None
    abnormal_most: str | None = None

    def check(self) -> None:
        """Raise ValueError for lines that do not hang together or lengths that are none."""
        names = [line.name for line in self.lines]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f"line names must differ; twice: {', '.join(twice)}")
        for text in (self.point_least, self.abnormal_most):
            if text is not None:
                units_of(text, self.unit)
        for line in self.lines:
            self._check_line(line)

    def _check_line(self, line: Line) -> None:
        for key, other in (("capped_by", line.capped_by), ("at_least_line", line.at_least_line)):
            if other is not None and other not in {known.name for known in self.lines}:
                raise ValueError(f"line {line.name}: {key} names {other!r}, which is no line of this category")
        if line.use == "credited" and line.kind != "spread":
            raise ValueError(f"line {line.name}: only a spread can be credited; other lines are scored or recorded")
        if line.use in ("credited", "deducted") and line.sides != "single":
            raise ValueError(f"line {line.name}: a spread that is {line.use} is a single measure, not a pair")
        if (line.kind == "point") != (line.order is not None):
            raise ValueError(f"line {line.name}: points, and only points, carry an order (1, 2, 3 ...)")
        for text in (line.least, line.most):
            if text is not None:
                units_of(text, self.unit)

    def units(self, text: str) -> int:
        """A length of this category's rule file in whole units."""
        return units_of(text, self.unit)

    def of_kind(self, *kinds: str) -> tuple[Line, ...]:
        """The lines of these kinds, in sheet order."""
        return tuple(line for line in self.lines if line.kind in kinds)

    @cached_property
    def pairs(self) -> tuple[Line, ...]:
        """The scored lines that have a right and a left side: they make the side totals and the differences."""
        return tuple(line for line in self.lines if line.sides == "pair" and line.use == "scored")

    @cached_property
    def measures(self) -> tuple[str, ...]:
        """Every measure column of the sheet, in sheet order, abnormal points left out."""
        return tuple(column for line in self.lines for column in line.columns)


def read_category(path: Path, folder: Path = FOLDER) -> Category:
    """Read and check one category file; `lines_of` takes the lines of another category of `folder`.

    Raises CategoryRefused, naming the file, the key and what was expected.
    """
    try:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
        if "lines_of" in content:
            shared = tomllib.loads((folder / f"{content.pop('lines_of')}.toml").read_text(encoding="utf-8"))
            content["lines"] = shared["lines"]
        rows = content.get("lines")
        if not isinstance(rows, list):
            raise KeyError("lines")
    except (OSError, tomllib.TOMLDecodeError, KeyError) as refusal:
        raise CategoryRefused(f"{path.name}: cannot be read as a category: {refusal}") from refusal
    try:
        lines = tuple(Line(**_checked(Line, row, f"lines.{place}", "line")) for place, row in enumerate(rows))
        category = Category(**_checked(Category, content | {"lines": lines}, "category", "category"))
        category.check()
    except ValueError as refusal:
        raise CategoryRefused(f"{path.name}: {refusal}") from refusal
    return category


def _checked(kind: "type[Line] | type[Category]", row: Any, where: str, what: str) -> dict[str, Any]:
    """The row with every key known, none missing, and each value of its key's type. Raises ValueError."""
    known = {field.name: field for field in fields(kind)}
    if not isinstance(row, dict):
        raise ValueError(f"{where}: expected a table of keys")
    unknown = [key for key in row if key not in known]
    missing = [name for name, field in known.items() if field.default is MISSING and name not in row]
    if unknown or missing:
        said = [f"unknown key {key!r}" for key in unknown] + [f"missing key {name!r}" for name in missing]
        raise ValueError(f"{where}: {'; '.join(said)}; expected: {', '.join(known)}")
    for key, value in row.items():
        _check_value(f"{where}.{key}", value, CHOICES.get(f"{what}.{key}"), str(known[key].type))
    if not re.fullmatch(r"[a-z][a-z0-9_-]*", str(row.get("name" if what == "line" else "code"))):
        raise ValueError(f"{where}: a name is small letters, digits and _ (a code may have -)")
    return row


def _check_value(where: str, value: Any, choices: tuple[Any, ...] | None, annotation: str) -> None:
    if choices is not None and value not in choices:
        raise ValueError(f"{where}: found {value!r}; expected one of: {', '.join(map(str, choices))}")
    expected = {"bool": bool, "int": int, "str": str, "tuple": tuple}
    kind = next(type_ for name, type_ in expected.items() if re.match(rf"(<class '{name}'|{name})", annotation))
    if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
        raise ValueError(f"{where}: found {value!r}; expected {kind.__name__}")


@cache
def all_categories() -> dict[str, Category]:
    """Every category that ships with the program, by code, in code order."""
    found = [read_category(path) for path in sorted(FOLDER.glob("*.toml"))]
    return {category.code: category for category in found}


def category_of(code: str) -> Category:
    """The category of this code. Raises CategoryRefused listing the known ones."""
    known = all_categories()
    if code not in known:
        raise CategoryRefused(f"category {code!r} is not known; expected one of: {', '.join(known)}")
    return known[code]
