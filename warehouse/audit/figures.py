"""Every figure a sheet states, held against the one recomputed from its measures."""

from collections.abc import Sequence
from functools import lru_cache, reduce
from operator import add

import polars as pl

from warehouse.audit.codes import FIGURE_TITLES
from warehouse.audit.rules import Rule
from warehouse.categories import Category, Line
from warehouse.checks import checks_of
from warehouse.eighths import text_expr
from warehouse.scoring import TOTALS


@lru_cache(maxsize=64)
def figure_rules(category: Category, present: frozenset[str]) -> tuple[Rule, ...]:
    """One rule for each figure among the fields `present`; its code is the figure's name."""
    rules = [_rule(line.difference, _difference_words(line, category.unit), category) for line in category.pairs]
    rules += [_rule(total, _total_words(total, category), category) for total in TOTALS]
    rules += [*_of_stated(category, present), *_parity(category, present)]
    return tuple(rule for rule in rules if rule.code in present or rule.code == "parity")


def _of_stated(category: Category, present: frozenset[str]) -> list[Rule]:
    """Sums of stated figures, on sheets that lack a measure: what is stated must still hang together."""
    rules = []
    figures = {check.figure for check in checks_of(category)}
    for check in checks_of(category):
        names = [name for name, _ in check.inputs]
        if check.form != "sum" or check.figure not in present or not figures.issuperset(names):
            continue
        known = [pl.coalesce(f"stated.{name}", name) if name in present else pl.col(name) for name in names]
        worked = reduce(add, (sign * value for (_, sign), value in zip(check.inputs, known, strict=True)))
        stated = pl.col(f"stated.{check.figure}")
        rules.append(
            Rule(
                code=check.figure,
                cells=(check.figure,),
                condition=pl.col(check.figure).is_null() & (stated != worked),
                stated=text_expr(stated, category.unit),
                expected=text_expr(worked, category.unit),
                message=pl.format(
                    f"The stated {_and(names)} make {{}}; the sheet says {{}}.",
                    text_expr(worked, category.unit),
                    text_expr(stated, category.unit),
                ),
            )
        )
    return rules


def _and(names: Sequence[str]) -> str:
    if len(names) > 3:
        return "differences of the rows"
    words = [FIGURE_TITLES.get(name, name).lower() for name in names]
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]


def _parity(category: Category, present: frozenset[str]) -> list[Rule]:
    """A record without its rows: net, spread credit and abnormal total together are an even number of units."""
    if "net" not in present:
        return []
    credit = (
        pl.coalesce("stated.spread_credit", "spread_credit") if "spread_credit" in present else pl.col("spread_credit")
    )
    net = pl.col("stated.net")
    # where gross and deductions are stated, too, they say more: what the net must be
    told = [
        pl.col(f"stated.{name}").is_not_null() if name in present else pl.lit(False) for name in ("gross", "deductions")
    ]
    names = {8: "eighths", 16: "sixteenths"}
    return [
        Rule(
            code="parity",
            cells=("net",),
            condition=pl.col("net").is_null()
            & ~(told[0] & told[1])
            & ((net + credit + pl.col("abnormal_total")) % 2 == 1),
            stated=text_expr(net, category.unit),
            message=pl.format(
                f"Net {{}}, spread credit {{}} and abnormal points {{}} cannot belong together: in {names[category.unit]} "
                "their sum is even on every right sheet.",
                *(text_expr(value, category.unit) for value in (net, credit, pl.col("abnormal_total"))),
            ),
        )
    ]


def _rule(figure: str, working: pl.Expr, category: Category) -> Rule:
    stated, computed = pl.col(f"stated.{figure}"), pl.col(figure)
    said = text_expr(stated, category.unit)
    return Rule(
        code=figure,
        cells=(figure,),
        condition=stated != computed,
        stated=said,
        expected=text_expr(computed, category.unit),
        message=pl.concat_str(working, pl.lit("; the sheet says "), said, pl.lit(".")),
    )


def _difference_words(line: Line, unit: int) -> pl.Expr:
    right, left = (text_expr(pl.col(column), unit) for column in line.columns)
    return pl.format(
        f"{line.label}: right {{}} and left {{}} differ by {{}}", right, left, text_expr(pl.col(line.difference), unit)
    )


def _total_words(total: str, category: Category) -> pl.Expr:
    def text(column: str) -> pl.Expr:
        return text_expr(pl.col(column), category.unit)

    added = category.abnormal == "added"
    words = {
        "right_total": ("The right side's beam, points and circumferences add up to {}", total),
        "left_total": ("The left side's beam, points and circumferences add up to {}", total),
        "diff_total": ("The side-to-side differences of the measures add up to {}", total),
        "abnormal_total": ("The abnormal points listed add up to {}", total),
        "gross": ("Spread credit {} plus right {} plus left {} make a gross of {}",
                  "spread_credit", "right_total", "left_total", total),
        "deductions": ("Abnormal points ({}) are added here, so the deductions are the differences alone: {}", "abnormal_total", total) if added
        else ("The differences ({}) and the abnormal points ({}) make deductions of {}", "diff_total", "abnormal_total", total),
        "net": ("Gross {} less differences {} plus abnormal points {} makes a net of {}",
                "gross", "deductions", "abnormal_total", total) if added
        else ("Gross {} less deductions {} makes a net of {}", "gross", "deductions", total),
    }  # fmt: skip
    if total == "spread_credit":
        return _spread_words(category)
    sentence, *columns = words[total]
    return pl.format(sentence, *(text(column) for column in columns))


def _spread_words(category: Category) -> pl.Expr:
    credited = next((line for line in category.lines if line.use == "credited"), None)
    credit = text_expr(pl.col("spread_credit"), category.unit)
    if credited is None:
        return pl.format("No spread is credited in this category, so the credit is {}", credit)
    inside = text_expr(pl.col(credited.name), category.unit)
    if credited.capped_by is None:
        return pl.format("The inside spread of {} is credited in full: {}", inside, credit)
    return pl.format("The inside spread is {}, credited up to the longer beam: {}", inside, credit)
