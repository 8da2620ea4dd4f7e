"""Where each entry stands in each record book: it qualifies, or every reason why not, and by how much.

The rules are data (`record_book`, `minimum`, `measurer`); the view `standing` holds the entries against them. Here its
marks become words.
"""

import duckdb
import polars as pl

from warehouse.book.length_text import length_text
from warehouse.book.named_query import frame


def standing(
    connection: duckdb.DuckDBPyConnection, book: str | None = None, entry_id: int | None = None
) -> pl.DataFrame:
    """Every entry (or one) in every record book (or one), in the order of entries and books.

    Columns: `entry_id`, `entry_no`, `book`, `status`, `category`, `season`, `unit`, `score` ("net" or "gross", which the
    book holds against its minimum; null: it has no rules for the season), `score_units`, `minimum_units`, `margin`
    (units, below zero under the minimum), the last three also as `..._text`, `qualifies`, `would_qualify` (it is held, and nothing
    else stands against it), `reasons` (sentences without a full stop, none where it qualifies).
    """
    return in_words(frame(connection, "standing", {"book": book, "entry_id": entry_id}, folder=".")).select(
        "entry_id", "entry_no", "book", "status", "category", "season", "unit", "score", "score_units", "minimum_units",
        "margin", "score_units_text", "minimum_units_text", "margin_text", "qualifies", "would_qualify", "reasons",
    )  # fmt: skip


def in_words(found: pl.DataFrame) -> pl.DataFrame:
    """Rows of `standing.sql` (or of a query with its columns) with their lengths as text and their `reasons`."""
    texts = found.with_columns(length_text(name) for name in ("margin", "score_units", "minimum_units")).rechunk()
    would = pl.col("fits") & (pl.col("status") == "held")
    return texts.with_columns(would.alias("would_qualify"), reasons=_reasons())


def books(connection: duckdb.DuckDBPyConnection) -> list[str]:
    """The names of the record books, in order."""
    return [book for (book,) in connection.execute("SELECT DISTINCT book FROM record_book ORDER BY 1").fetchall()]


def _reasons() -> pl.Expr:
    """The sentences of the marks that are set, in the order of the table below."""
    told = [pl.when(mark).then(words) for mark, words in _told()]
    return pl.concat_list(told).list.drop_nulls()


def _told() -> list[tuple[pl.Expr, pl.Expr]]:
    """(mark, its sentence), the state of the entry first, then the kind of head, its score, its papers."""
    by_itself = {
        "weapon_unknown": pl.lit("its weapon is not known"),
        "found_not_taken": pl.lit("found dead; the book takes no found heads"),
        "weapon_not_taken": pl.format("taken by {}, which the book does not take", "weapon"),
        "score_unknown": pl.format("its {} is not known", "score"),
        "below_minimum": pl.format(
            "the {} of {} is below the minimum of {} by {}",
            "score", "score_units_text", "minimum_units_text", pl.col("margin_text").str.strip_prefix("-"),
        ),
        "dried_short": pl.when(pl.col("dried_days") < 0)
        .then(pl.lit("measured before it was taken"))
        .otherwise(pl.format("dried {} days; the book asks for {}", "dried_days", "drying_days")),
        "drying_unknown": pl.lit("how long it dried is not known, for a date is missing"),
        "not_certified": _not_certified(),
        "outside_area": pl.when(pl.col("area").is_null())
        .then(pl.lit("its area is not known, and the book does not cover every area"))
        .otherwise(pl.format("{} lies outside the area that the book covers", "area")),
        "measured_late": _late("measured", "measured_on", "measured_within_days"),
        "received_late": _late("received", "received_on", "received_within_days"),
        "cut_off_unknown": pl.lit("whether it is late is not known: its day of measuring or the last day of its season is not"),
    }  # fmt: skip
    return [
        (pl.col("status") != "accepted", _unsettled()),
        (pl.col("no_rules"), _no_rules()),
        (pl.col("no_minimum") & ~pl.col("weapon_not_taken") & ~pl.col("found_not_taken"), _no_minimum()),
        *((pl.col(mark), words) for mark, words in by_itself.items()),
    ]


def _counted(column: str, one: str) -> pl.Expr:
    """ "1 error", "2 errors", nothing for none."""
    count = pl.col(column)
    many = pl.when(count == 1).then(pl.lit(one)).otherwise(pl.lit(f"{one}s"))
    return pl.when(count > 0).then(pl.format("{} {}", count, many))


def _unsettled() -> pl.Expr:
    by_a_person = pl.format("{} by {}: {}", "status", "decided_by", "decision_reason")
    counts = pl.concat_str(
        _counted("errors", "error"), _counted("questions", "question"), separator=", ", ignore_nulls=True
    )
    found = pl.format("held for its findings: {}", counts)
    held = (
        pl.when(pl.col("decision") == "panel")
        .then(pl.format("held for a panel measuring, asked for by {}: {}", "decided_by", "decision_reason"))
        .when(pl.col("decision") == "hold")
        .then(by_a_person)
        .when(pl.col("errors") + pl.col("questions") > 0)
        .then(found)
        .otherwise(pl.lit("held for an error of its file"))
    )
    merged = pl.format("one head with entry {}, where it counts: {}", "merged_no", "decision_reason")
    status = pl.col("status")
    return pl.when(status == "held").then(held).when(status == "merged").then(merged).otherwise(by_a_person)


def _no_rules() -> pl.Expr:
    return (
        pl.when(pl.col("season").is_null())
        .then(pl.lit("its season is not known"))
        .otherwise(pl.format("the book has no rules for the season {}", "season"))
    )


def _no_minimum() -> pl.Expr:
    kind = pl.format("{}, taken by {} in {}, {} antlers", "category", "weapon", "season", "antler_state")
    unknown = pl.lit("its category is not known")
    return (
        pl.when(pl.col("category").is_null()).then(unknown).otherwise(pl.format("the book has no minimum for {}", kind))
    )


def _not_certified() -> pl.Expr:
    day = pl.col("measured_on").dt.to_string("%Y-%m-%d")
    return (
        pl.when(pl.col("measurer").is_null())
        .then(pl.lit("its measurer is not known"))
        .when(day.is_null())
        .then(pl.lit("the day it was measured is not known, so that no certificate can be"))
        .otherwise(pl.format("the measurer {} held no certificate that the book accepts on {}", "measurer", day))
    )


def _late(what: str, day: str, within: str) -> pl.Expr:
    date, end = (pl.col(column).dt.to_string("%Y-%m-%d") for column in (day, "ends_on"))
    return pl.format(f"{what} on {{}}, more than {{}} days after the season's end on {{}}", date, within, end)
