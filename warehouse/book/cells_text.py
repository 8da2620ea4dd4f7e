"""A row as received, kept as one text: the cells joined by U+001F, the sign made for it.

A row that itself holds U+001F or U+001E is kept as a JSON list behind U+001E, so that nothing is lost or altered.
"""

import json

import polars as pl

SEPARATOR = "\x1f"
AS_JSON = "\x1e"


def join_cells(cells: pl.DataFrame) -> pl.Series:
    """Each row of String columns as one text; an empty cell (null) is nothing between two separators."""
    joined = cells.select(pl.concat_str(pl.all().fill_null(""), separator=SEPARATOR).alias("cells")).to_series()
    odd = (joined.str.count_matches(SEPARATOR, literal=True) != cells.width - 1) | joined.str.starts_with(AS_JSON)
    if odd.any():
        places = odd.arg_true()
        rows = [AS_JSON + json.dumps(["" if cell is None else cell for cell in row]) for row in cells[places].rows()]
        joined = joined.scatter(places, pl.Series(rows, dtype=pl.String))
    return joined


def split_cells(joined: pl.Series, width: int) -> pl.DataFrame:
    """The cells of rows that all have `width` of them, as columns "c0" ...; empty cells are null again."""
    as_json = joined.str.starts_with(AS_JSON)
    parts = joined.to_frame("cells").select(pl.col("cells").str.split_exact(SEPARATOR, width - 1)).unnest("cells")
    parts = parts.rename({name: f"c{n}" for n, name in enumerate(parts.columns)})
    if as_json.any():
        places = as_json.arg_true()
        rows = [json.loads(text[1:]) for text in joined.gather(places)]
        parts = parts.with_columns(
            parts[f"c{n}"].scatter(places, pl.Series([row[n] for row in rows], dtype=pl.String)) for n in range(width)
        )
    return parts.select(pl.when(pl.all() != "").then(pl.all()))
