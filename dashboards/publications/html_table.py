"""Frames as HTML tables, whole columns at once; every text of a frame is escaped here, and nowhere else."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

import polars as pl

_ESCAPES = {sign: escape(sign) for sign in "&<>\"'"}
UNKNOWN = "–"


@dataclass(frozen=True)
class Column:
    """A column of a table: its name in the frame, its heading, and the class that its cells get ('' for none)."""

    name: str
    heading: str
    kind: str = ""


def escaped(column: str) -> pl.Expr:
    """A text column as HTML text, as `html.escape` writes it; a dash for what is not known."""
    return pl.col(column).fill_null(UNKNOWN).str.replace_many(list(_ESCAPES), list(_ESCAPES.values()))


def table(frame: pl.DataFrame, columns: Sequence[Column], caption: str, key: str, kind: str = "list") -> str:
    """A table in a box that scrolls by itself where the page is narrow.

    `frame` holds text columns; the first of `columns` heads its row. `caption` is text; `key` is an id, `kind` a class of ours.
    """
    heads = "".join(f'<th scope="col"{_class(one)}>{escape(one.heading)}</th>' for one in columns)
    return (
        f'<div class="box" role="region" tabindex="0" aria-labelledby="{key}">\n<table class="{kind}">\n'
        f'<caption id="{key}"><span>{escape(caption)}</span></caption>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n'
        + "\n".join(_rows(frame, columns))
        + "\n</tbody>\n</table>\n</div>\n"
    )


def _rows(frame: pl.DataFrame, columns: Sequence[Column]) -> list[str]:
    first, *others = columns
    cells = [f'<th scope="row"{_class(first)}>{{}}</th>', *(f"<td{_class(one)}>{{}}</td>" for one in others)]
    row = pl.format(f"<tr>{''.join(cells)}</tr>", *(escaped(one.name) for one in columns))
    return frame.select(row.alias("row"))["row"].to_list()


def _class(column: Column) -> str:
    return f' class="{column.kind}"' if column.kind else ""
