"""The lists of an edition as the book stands now: every category of every record book, ranked by the book's rules."""

import duckdb
import polars as pl

from warehouse.book import rankings
from warehouse.book.editions.printed import ALL_TIME
from warehouse.book.named_query import frame
from warehouse.categories import all_categories

LINE = pl.Schema({
    "book": pl.String(), "category": pl.String(), "span": pl.String(), "place": pl.Int32(), "tied": pl.Boolean(),
    "entry_id": pl.Int64(), "entry_no": pl.String(), "hunter": pl.String(), "area": pl.String(), "district": pl.String(),
    "season": pl.String(), "weapon": pl.String(), "antler_state": pl.String(), "unit": pl.Int16(), "gross": pl.Int32(),
    "net": pl.Int32(),
})  # fmt: skip


def ranked_lists(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """Columns of LINE: each book's and category's list of all time, and that of the newest season in any of them."""
    books = [name for (name,) in connection.execute("SELECT DISTINCT book FROM record_book ORDER BY book").fetchall()]
    all_time = [_ranked(connection, book) for book in books]
    lines = pl.concat([pl.DataFrame(schema=LINE), *all_time])
    if not lines.height:
        return lines
    season = newest_season(lines)
    return pl.concat([lines, *(_ranked(connection, book, season) for book in books)])


def newest_season(lines: pl.DataFrame) -> str:
    """The newest season of the lists; they hold a line or more, and only heads of a known season qualify."""
    return str(lines["season"].max())


def minimums(connection: duckdb.DuckDBPyConnection) -> pl.DataFrame:
    """Every minimum with the rules that stood beside it, as `edition_minimum` keeps them."""
    units = {code: category.unit for code, category in all_categories().items()}
    found = frame(connection, "minimums_now", folder="editions")
    return found.with_columns(unit=pl.col("category").replace_strict(units, return_dtype=pl.Int16))


def _ranked(connection: duckdb.DuckDBPyConnection, book: str, season: str | None = None) -> pl.DataFrame:
    settings = rankings.RankSettings(book=book, first_season=season, last_season=season)
    ranked = rankings.rank(connection, settings)
    labels = dict(connection.execute("SELECT weapon, label FROM weapon").fetchall())
    worded = ranked.with_columns(
        pl.lit(book).alias("book"),
        pl.lit(season or ALL_TIME).alias("span"),
        pl.col("weapon").cast(pl.String).replace(labels),
    )
    return worded.select(pl.col(name).cast(dtype) for name, dtype in LINE.items())
