"""What a head can and cannot be, whatever its arithmetic: points, circumferences, spreads, bounds of the species."""

from functools import lru_cache, reduce
from itertools import pairwise
from operator import and_, or_

import polars as pl

from warehouse.audit.rules import Rule
from warehouse.audit.sheets import SIDE_NAMES, points_found
from warehouse.categories import Category, Line
from warehouse.eighths import text_expr
from warehouse.scoring import dependencies


@lru_cache(maxsize=64)
def plausibility_rules(category: Category, present: frozenset[str]) -> tuple[Rule, ...]:
    """The rules that the category's definition gives for the fields `present` in the file."""
    rules = [
        *_missing(category, present),
        *_points(category, present),
        *_counts(),
        *_spreads(category, present),
        *_bounds(category, present),
        *_abnormal_bound(category, present),
        *_short_abnormal(category, present),
    ]
    return tuple(rule for rule in rules if set(rule.cells) & present)


def _text(column: str, category: Category) -> pl.Expr:
    return text_expr(pl.col(column), category.unit)


def _column_name(line: Line, column: str) -> str:
    if line.sides == "single":
        return line.label
    return f"{line.label} {SIDE_NAMES[column[-1]]}"


def _missing(category: Category, present: frozenset[str]) -> list[Rule]:
    """A needed measure left blank, written as absent, or as nothing at all."""
    rules = []
    for line in category.lines:
        for column in line.columns:
            if not line.needed or column not in present:
                continue
            four = line.kind == "circumference"
            hint = (
                "a head always has four circumferences (where G4 is missing, H4 is taken half-way from G3 to the beam tip)"
                if four
                else "every head has this measure"
            )
            rules.append(
                Rule(
                    code="circumference-missing" if four else "missing-measure",
                    cells=(column,),
                    condition=pl.col(f"blank.{column}"),
                    stated=pl.col(f"text.{column}"),
                    message=pl.lit(f"{_column_name(line, column)} is not on the sheet; {hint}."),
                )
            )
    return rules


def _points(category: Category, present: frozenset[str]) -> list[Rule]:
    rules = []
    points = category.of_kind("point")
    least = category.units(category.point_least) if category.point_least else 0
    for line in points:
        for column, other in zip(line.columns, reversed(line.columns), strict=True):
            if column not in present:
                continue
            name = _column_name(line, column)
            rules.append(_under_inch(category, name, column, least))
            if other in present:
                rules.append(_blank_point(category, name, column, other, present))
    for lower, upper in pairwise(points):
        rules += _gap(category, lower, upper)
    return rules


def _under_inch(category: Category, name: str, column: str, least: int, cells: tuple[str, ...] = ()) -> Rule:
    return Rule(
        code="point-under-inch",
        cells=cells or (column,),
        condition=(pl.col(column) > 0) & (pl.col(column) < least),
        stated=_text(column, category),
        expected=pl.lit(f"at least {category.point_least}"),
        message=pl.format(f"{name} is {{}}; a point counts from one inch.", _text(column, category)),
    )


def _blank_point(category: Category, name: str, column: str, other: str, present: frozenset[str]) -> Rule:
    """Blank here, measured there: absent where a stated figure that rests on the cell agrees, else a question."""
    figures = [figure for figure, cells in dependencies(category).items() if column in cells and figure in present]
    agree = [(pl.col(f"stated.{figure}") == pl.col(figure)).fill_null(False) for figure in figures]
    return Rule(
        code="blank-point",
        cells=(column,),
        condition=pl.col(f"blank.{column}") & (pl.col(other) > 0) & ~reduce(or_, agree, pl.lit(False)),
        expected=pl.lit("a length, or - for none"),
        message=pl.format(
            f"{name} is blank and the other side has {{}}; scored as absent, but was it forgotten?",
            _text(other, category),
        ),
    )


def _gap(category: Category, lower: Line, upper: Line) -> list[Rule]:
    """One finding a sheet and gap, naming the side or both."""
    right, left = ((pl.col(f"{upper.name}_{side}") > 0) & (pl.col(f"{lower.name}_{side}") == 0) for side in SIDE_NAMES)
    cases = {
        ("r", "l"): ("Both sides have", right & left),
        ("r",): ("The right side has", right & ~left.fill_null(False)),
        ("l",): ("The left side has", left & ~right.fill_null(False)),
    }
    return [
        Rule(
            code="point-gap",
            cells=tuple(f"{lower.name}_{side}" for side in sides),
            condition=condition,
            stated=_text(f"{upper.name}_{sides[0]}", category),
            message=pl.lit(f"{who} {upper.label} without {lower.label}; was a point written one row too far?"),
        )
        for sides, (who, condition) in cases.items()
    ]


def _counts() -> list[Rule]:
    """Stated count against the lengths: normal points, the beam tip, and abnormal points where they are listed.

    One abnormal number may be a sum of several points, so with one only a count that is too small is a finding.
    """
    rules = []
    for side, name in SIDE_NAMES.items():
        stated = pl.col(f"points_{side}")
        counted = points_found(side)
        several = pl.col(f"abnormal_single_{side}")
        rules.append(
            Rule(
                code="point-count",
                cells=(f"points_{side}",),
                condition=pl.when(several).then(stated < counted).otherwise(stated != counted),
                stated=stated.cast(pl.String),
                expected=pl.when(several).then(pl.format("at least {}", counted)).otherwise(counted.cast(pl.String)),
                message=pl.format(
                    f"The {name} side states {{}} points; {{}} normal, the beam tip and {{}} abnormal are recorded.",
                    stated, pl.col(f"count.{side}"), pl.col(f"abnormal_count_{side}"),
                ),
            )
        )  # fmt: skip
    return rules


def _spreads(category: Category, present: frozenset[str]) -> list[Rule]:
    rules = []
    for line in category.lines:
        if line.at_least_line and line.at_least_line in present:
            rules.append(
                Rule(
                    code="greatest-under-inside",
                    cells=(line.name, line.at_least_line),
                    condition=pl.col(line.name) < pl.col(line.at_least_line),
                    stated=_text(line.name, category),
                    expected=pl.format("at least {}", _text(line.at_least_line, category)),
                    message=pl.format(
                        "The greatest spread is {} and the inside spread {}; were the two exchanged?",
                        _text(line.name, category),
                        _text(line.at_least_line, category),
                    ),
                )
            )
        if line.capped_by:
            rules.append(_capped(category, line))
    return rules


def _capped(category: Category, line: Line) -> Rule:
    beams = [pl.col(f"{line.capped_by}_{side}") for side in SIDE_NAMES]
    known = reduce(and_, [beam.is_not_null() for beam in beams])
    return Rule(
        code="spread-over-beam",
        cells=(line.name,),
        condition=known & (pl.col(line.name) > pl.max_horizontal(beams)),
        stated=_text(line.name, category),
        expected=_text("spread_credit", category),
        message=pl.format(
            "The inside spread of {} is longer than the longer beam; {} is credited.",
            _text(line.name, category),
            _text("spread_credit", category),
        ),
    )


def _bounds(category: Category, present: frozenset[str]) -> list[Rule]:
    """Outside what the species grows; a point or needed measure of nothing is another rule's matter."""
    rules = []
    for line in category.lines:
        least = category.units(line.least) if line.least else None
        most = category.units(line.most) if line.most else None
        for column in line.columns:
            value = pl.col(column)
            low = (value > 0) & (value < least) if least is not None else pl.lit(False)
            high = value > most if most is not None else pl.lit(False)
            if column not in present or (least is None and most is None):
                continue
            rules.append(
                Rule(
                    code="out-of-bounds",
                    cells=(column,),
                    condition=low | high,
                    stated=_text(column, category),
                    expected=pl.lit(f"{line.least or '0'} to {line.most}"),
                    message=pl.format(
                        f"{_column_name(line, column)} is {{}}; a {category.species} grows {line.least or '0'} to {line.most} inches there.",
                        _text(column, category),
                    ),
                )
            )
    return rules


def _abnormal_bound(category: Category, present: frozenset[str]) -> list[Rule]:
    """The abnormal points together; a lost blank or stroke ("338" for 3 3/8) makes a tree of them."""
    cells = tuple(name for name in ("abnormal_r", "abnormal_l", "abnormal_total") if name in present)
    if category.abnormal_most is None or not cells:
        return []
    return [
        Rule(
            code="out-of-bounds",
            cells=cells,
            condition=pl.col("abnormal_total") > category.units(category.abnormal_most),
            stated=_text("abnormal_total", category),
            expected=pl.lit(f"0 to {category.abnormal_most}"),
            message=pl.format(
                f"The abnormal points add up to {{}}; a {category.species} grows up to {category.abnormal_most} inches of them.",
                _text("abnormal_total", category),
            ),
        )
    ]


def _short_abnormal(category: Category, present: frozenset[str]) -> list[Rule]:
    """An abnormal point is a point: it counts from one inch."""
    least = category.units(category.point_least) if category.point_least else 0
    names = {f"abnormal_{side}": f"An abnormal point of the {name} side" for side, name in SIDE_NAMES.items()}
    return [
        _under_inch(category, name, f"least.{field}", least, cells=(field,))
        for field, name in names.items()
        if field in present
    ]
