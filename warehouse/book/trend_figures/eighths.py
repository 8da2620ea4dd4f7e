"""The last eighths that measurers write, counted: what a chart beside `Measurers.digits` draws."""

from pathlib import Path

import polars as pl

from warehouse.book import database
from warehouse.book.as_of import reading_as_of
from warehouse.book.named_query import frame
from warehouse.book.trend_figures.counting import FOLDER
from warehouse.book.trend_figures.settings import TrendSettings

EIGHTHS = pl.Schema({"measurer": pl.String, "line": pl.String, "eighth": pl.Int64, "count": pl.Int64, "share": pl.Float64,
                     "others": pl.Float64})  # fmt: skip


def read_eighths(path: Path, settings: TrendSettings, wait: float = database.WAIT_SECONDS) -> pl.DataFrame:
    """Eight rows a measurer and kind of line -> EIGHTHS: how many measures end so, their `share` of the measurer's own,
    and `others`, the share of all other measurers' that end so (null without others). Raises as `read_measurers` does.
    """
    asked = {"category": settings.category, "first_season": settings.first_season, "last_season": settings.last_season}
    with reading_as_of(path, settings.as_of, wait) as connection:
        counts = frame(connection, "digits", asked, folder=FOLDER)
    return with_shares(counts)


def with_shares(counts: pl.DataFrame) -> pl.DataFrame:
    """As `read_eighths`, of measurer, line, eighth (0 to 7), count; an eighth that does not occur may be left out."""
    every = pl.DataFrame({"eighth": range(8)}, schema={"eighth": pl.Int64})
    grid = counts.select("measurer", "line").unique().join(every, how="cross")
    filled = grid.join(counts.cast({"eighth": pl.Int64}), on=["measurer", "line", "eighth"], how="left")
    count = pl.col("count").fill_null(0).cast(pl.Int64)
    own, of_line, all_of_line = (
        count.sum().over("measurer", "line"),
        count.sum().over("line", "eighth"),
        count.sum().over("line"),
    )
    others = pl.when(all_of_line > own).then((of_line - count) / (all_of_line - own))
    told = filled.select("measurer", "line", "eighth", count, (count / own).alias("share"), others.alias("others"))
    return told.cast(EIGHTHS).sort("measurer", "line", "eighth")
