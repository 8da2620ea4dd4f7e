"""Rows with more cells than the heading line: nothing is lost, and each is reported."""

import polars as pl

from loaders.readers import limits
from loaders.readers.delimiter import Shape
from loaders.readers.grid import Notice
from loaders.readers.source import Source
from warehouse.plain_text import shown

_LOOK = "Look for a delimiter inside a cell and put that cell in quotation marks"


def extra_cell_notices(source: Source, rows: pl.DataFrame, shape: Shape) -> list[Notice]:
    """Notices `extra-cells` for rows with a filled cell beyond `shape.expected`, the first 20 one by one."""
    beyond = [name for name in rows.columns if name != "row" and int(name[1:]) >= shape.expected]
    if not beyond:
        return []
    last = pl.max_horizontal(pl.when(pl.col(name).is_not_null()).then(int(name[1:]) + 1) for name in beyond)
    wide = rows.select("row", last.alias("cells"), pl.col(beyond[0]).alias("first")).filter(
        pl.col("cells").is_not_null() & (pl.col("row") > shape.heading_row)
    )
    single = wide.head(limits.MAX_SINGLE_NOTICES)
    notices = [_notice(source, shape, *found) for found in single.iter_rows()]
    return notices + _summed_up(source, wide.height - single.height)


def _notice(source: Source, shape: Shape, row: int, cells: int, first: str | None) -> Notice:
    extra = cells - shape.expected
    what = "1 extra cell" if extra == 1 else f"{extra} extra cells"
    begin = f", beginning with '{shown(first, limits.SHOWN_CHARACTERS)}'" if first else ""
    message = (
        f"{shown(source.name)}, row {row}: {cells} cells where the heading line (row {shape.heading_row}) "
        f"has {shape.expected}; {what}{begin}. {_LOOK}."
    )
    return Notice("extra-cells", "error", message, row)


def _summed_up(source: Source, more: int) -> list[Notice]:
    if not more:
        return []
    rows = "1 more row has" if more == 1 else f"{more} more rows have"
    message = f"{shown(source.name)}: {rows} more cells than the heading line. {_LOOK}."
    return [Notice("extra-cells", "error", message)]
