"""Read a category's TOML file: the lines of its sheet, which pair, which count, how the spread is treated.

A new antlered, horned or skull category is a new file here; no code changes. Lengths in the file are text in the
category's own unit ("36 0/8", "18 12/16").
"""

import tomllib
from functools import cache, cached_property
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, model_validator

from warehouse.eighths import units_of
from warehouse.errors import CategoryRefused

FOLDER = Path(__file__).parent
LengthText = Annotated[str, Field(pattern=r"^(0|(\d{1,4} )?\d{1,2}/\d{1,2})$")]
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]


def _none_if_blank(value: Any) -> Any:
    return None if value == "" else value


class Line(BaseModel):
    """One line of the sheet. A pair has a right and a left measure; a single line has one.

    `use`: "scored" adds to the score; a spread line is "credited" (added, never more than the longer side of
    `capped_by`), "deducted" or only "recorded". `needed`: must be measured on every head (a point need not be).
    `least` and `most`: what the species grows, as text in the category's unit; outside them is a question.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    name: Name
    label: str
    kind: Literal["spread", "beam", "horn", "point", "circumference", "skull"]
    sides: Literal["pair", "single"]
    use: Literal["scored", "credited", "deducted", "recorded"] = "scored"
    capped_by: Name | None = None
    at_least_line: Name | None = None
    needed: bool = False
    order: Annotated[int | None, BeforeValidator(_none_if_blank)] = None
    least: LengthText | None = None
    most: LengthText | None = None

    @cached_property
    def columns(self) -> tuple[str, ...]:
        """The measure columns of this line: `beam_r`, `beam_l` for a pair, the bare name for a single."""
        return (f"{self.name}_r", f"{self.name}_l") if self.sides == "pair" else (self.name,)

    @property
    def difference(self) -> str:
        """The column of the stated side-to-side difference of a pair."""
        return f"{self.name}_diff"


class Category(BaseModel):
    """A category of heads and the lines of its sheet, in the order the sheet prints them."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    code: str
    name: str
    species: str
    kind: Literal["antlered", "horned", "skull"]
    unit: Literal[8, 16]
    abnormal: Literal["subtracted", "added", "none"]
    point_least: LengthText | None = None
    abnormal_most: LengthText | None = None
    bounds_source: str
    lines: tuple[Line, ...]

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        names = [line.name for line in self.lines]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f"line names must differ; twice: {', '.join(twice)}")
        for line in self.lines:
            self._check_line(line)
        return self

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
        return Category.model_validate(content)
    except ValidationError as refusal:
        problems = "; ".join(
            f"{'.'.join(str(part) for part in problem['loc']) or 'category'}: {problem['msg']}"
            for problem in refusal.errors()
        )
        raise CategoryRefused(f"{path.name}: {problems}") from refusal
    except (OSError, tomllib.TOMLDecodeError, KeyError) as refusal:
        raise CategoryRefused(f"{path.name}: cannot be read as a category: {refusal}") from refusal


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
