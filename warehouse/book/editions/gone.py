"""What became of the entries that the edition before lists and this one does not: withdrawn, refused, one head with
another, held again, in another category, or no longer qualifying.
"""

import duckdb
import polars as pl

from warehouse.book.editions.reasons import REASON, sentence
from warehouse.book.length_text import length_text
from warehouse.book.named_query import frame
from warehouse.categories import all_categories


def withdrawn(connection: duckdb.DuckDBPyConnection, left: pl.DataFrame, states: pl.DataFrame) -> pl.DataFrame:
    """The columns of CHANGE (`changes.py`) for the entries of `left`, each with a sentence that says what became of it."""
    joined = left.join(states, on="entry_id", how="left", maintain_order="left")
    now = joined.with_columns(unit=pl.col("unit_now"), net=pl.col("counted_net"), gross=pl.col("counted_gross"))
    told = _with_failings(connection, now.with_columns(length_text("net"), length_text("gross")))
    return told.with_columns(
        pl.lit("withdrawn").alias("kind"), pl.col("entry_no_was").alias("entry_no"), pl.col("hunter_was").alias("hunter"),
        sentence(_BECAME).alias("what"),
    )  # fmt: skip


def _with_failings(connection: duckdb.DuckDBPyConnection, told: pl.DataFrame) -> pl.DataFrame:
    """Adds `failing`: what an accepted entry fails by in the book, in words; null where it is not accepted."""
    entries = told["entry_id"].unique().sort().to_list()
    marks = frame(connection, "failings", {"entries": entries}, "editions").with_columns(length_text("minimum"))
    words = pl.concat_str(
        [pl.when(mark).then(words) for mark, words in _FAILINGS.items()], separator="; ", ignore_nulls=True
    )
    failing = marks.select("entry_id", "book", words.alias("failing"))
    return told.join(failing, on=["entry_id", "book"], how="left", maintain_order="left")


def _category_name() -> pl.Expr:
    names = {code: category.name for code, category in all_categories().items()}
    return pl.col("category_now").replace(names).fill_null("(not known)")


def _was_and_is(figure: str) -> pl.Expr:
    was, now = pl.col(f"{figure}_was").fill_null("(not known)"), pl.col(f"{figure}_text").fill_null("(not known)")
    return pl.when(was != now).then(pl.format(f"{figure} {{}} is now {{}}; ", was, now)).otherwise(pl.lit(""))


# In other words than those of `warehouse.book.standing`, which name the measurer and dates: those are never published.
_FAILINGS: dict[str, pl.Expr] = {
    "no_rules": pl.lit("the book has no rules for its season"),
    "no_minimum": pl.lit("the book has no minimum for such a head"),
    "weapon_unknown": pl.lit("its weapon is not known"),
    "weapon_not_taken": pl.lit("the book does not take its weapon"),
    "found_not_taken": pl.lit("it was found dead, and the book takes no found heads"),
    "score_unknown": pl.lit("its score is not known"),
    "below_minimum": pl.format("it is below the minimum of {}", "minimum_text"),
    "not_dried": pl.lit("it is not known to have dried long enough"),
    "not_certified": pl.lit("it was not measured as the book asks"),
    "outside_area": pl.lit("it was not taken in the area that the book covers"),
    "late": pl.lit("it was measured or received too late"),
}
_DECIDED = pl.col("decision_reason")
_STATUS, _DECISION = pl.col("status"), pl.col("decision")
_BECAME: pl.Expr = (
    pl.when(_STATUS == "withdrawn")
    .then(pl.format("Withdrawn: {}", _DECIDED))
    .when(_STATUS == "refused")
    .then(pl.format("Refused: {}", _DECIDED))
    .when(_STATUS == "merged")
    .then(pl.format("One head with entry {}, which stands for both: {}", pl.col("into_no").fill_null("without a number"), _DECIDED))
    .when((_STATUS == "held") & (_DECISION == "panel"))
    .then(pl.format("Held again, until a panel has measured the head: {}", _DECIDED))
    .when((_STATUS == "held") & (_DECISION == "hold"))
    .then(pl.format("Held again: {}", _DECIDED))
    .when(_STATUS == "held")
    .then(pl.format("Held again by the audit of its newest state: {}", REASON))
    .when(pl.col("category_now").ne_missing(pl.col("category")))
    .then(pl.format("Now in the category {}: {}", _category_name(), REASON))
    .otherwise(pl.format("No longer in this list: {}{}. Reason: {}", pl.concat_str(_was_and_is("net"), _was_and_is("gross")),
                         pl.col("failing").fill_null("it no longer qualifies"), REASON))
)  # fmt: skip
