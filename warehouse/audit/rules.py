"""A rule is data: a condition over a frame of sheets, and the words for the rows it holds for.

Every rule of a frame is tried in one pass; only the rows that break one are then put into words. A condition that
rests on an unknown is null, and null is not a finding: what cannot be known is not called wrong.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import polars as pl

from warehouse.audit.codes import code_of, title_of

FINDINGS = pl.Schema(
    {
        "id": pl.UInt32(),  # place of the row in its frame, from 0; null for a finding about the file as a whole
        "code": pl.String(),
        "severity": pl.String(),
        "cells": pl.List(pl.String()),
        "stated": pl.String(),
        "expected": pl.String(),
        "message": pl.String(),
    }
)
NOTHING = pl.lit(None, dtype=pl.String)


@dataclass(frozen=True)
class Rule:
    """`condition` (Boolean) picks the rows; `stated`, `expected` and `message` (String) put them into words."""

    code: str
    cells: tuple[str, ...]
    condition: pl.Expr
    message: pl.Expr
    stated: pl.Expr = NOTHING
    expected: pl.Expr = NOTHING


def apply(rules: Sequence[Rule], frame: pl.DataFrame, texts: pl.DataFrame | None = None) -> pl.DataFrame:
    """Findings (schema FINDINGS) of every rule over `frame`, which holds an "id" beside the columns rules name.

    `texts` holds the cells as received, one row per id of the whole file; its columns may stand in a rule's words
    (not in its condition) and are fetched for the rows that break the rule only.
    """
    if not rules or not frame.height:
        return pl.DataFrame(schema=FINDINGS)
    broken = frame.select(rule.condition.fill_null(False).alias(str(n)) for n, rule in enumerate(rules))
    hit = broken.select(pl.all().any()).row(0)
    parts = [_put_into_words(rule, frame, broken.to_series(n), texts) for n, rule in enumerate(rules) if hit[n]]
    return pl.concat(parts) if parts else pl.DataFrame(schema=FINDINGS)


def _put_into_words(rule: Rule, frame: pl.DataFrame, mask: pl.Series, texts: pl.DataFrame | None) -> pl.DataFrame:
    words = (rule.message, rule.stated, rule.expected)
    needed = {"id"}.union(*(word.meta.root_names() for word in words))
    # one chunk: polars 2.1.0 panics when it formats a string column of several chunks after a filter
    rows = frame.select(sorted(needed & set(frame.columns))).filter(mask).rechunk()
    if texts is not None:
        fetched = [column for column in sorted(needed) if column in texts.columns and column not in rows.columns]
        rows = rows.hstack([texts[column].gather(rows["id"]) for column in fetched]).rechunk()
    return rows.select(
        pl.col("id").cast(pl.UInt32),
        code=pl.lit(rule.code),
        severity=pl.lit(code_of(rule.code).severity),
        cells=pl.lit(list(rule.cells), dtype=pl.List(pl.String)),
        stated=rule.stated.cast(pl.String),
        expected=rule.expected.cast(pl.String),
        message=rule.message.fill_null(title_of(rule.code)),
    )


def together(parts: Iterable[pl.DataFrame]) -> pl.DataFrame:
    """Findings of several sources as one frame."""
    return pl.concat([pl.DataFrame(schema=FINDINGS), *parts])
