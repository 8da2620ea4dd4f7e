"""What changed from the edition before: entry by entry in the list of all time of each record book and category."""

import duckdb
import polars as pl

from warehouse.book.editions import gone, reasons
from warehouse.book.editions.printed import ALL_TIME, FIGURES, WORDS
from warehouse.book.length_text import length_text

CHANGE = pl.Schema({
    "book": pl.String(), "category": pl.String(), "kind": pl.String(), "entry_id": pl.Int64(), "entry_no": pl.String(),
    "hunter": pl.String(), "place_was": pl.Int32(), "place_is": pl.Int32(), "what": pl.String(),
})  # fmt: skip
_KEYS = ("book", "category", "entry_id")
_COMPARED = ("place", *FIGURES)
_LENGTHS = ("net", "gross")


def since_edition_before(connection: duckdb.DuckDBPyConnection, number: int, lines: pl.DataFrame) -> pl.DataFrame:
    """Columns of CHANGE: the edition `number`, whose `lines` are given, held against the edition before it.

    An entry whose place and figures both changed of themselves has one row, `corrected`; one whose place changed beside
    a corrected name has two. The first edition has no changes.
    """
    before = connection.execute("SELECT max(edition_no) FROM edition WHERE edition_no < ?", [number]).fetchall()[0][0]
    if before is None:
        return pl.DataFrame(schema=CHANGE)
    was: pl.DataFrame = connection.sql(
        "SELECT * FROM edition_line WHERE edition_no = $before", params={"before": before}
    ).pl()
    both = _side(was, "was").join(_side(lines, "is"), on=_KEYS, how="full", coalesce=True)
    since = reasons.publishing_event(connection, before)
    corrected = _corrected(both)
    left = both.filter(pl.col("place_is").is_null())
    asked = pl.concat([corrected["entry_id"], left["entry_id"]])
    states = reasons.entry_states(connection, asked, since)
    parts = [_new(both), _moved(both), _corrected_words(corrected, states), gone.withdrawn(connection, left, states)]
    return pl.concat(part.select(pl.col(name).cast(dtype) for name, dtype in CHANGE.items()) for part in parts)


def _side(lines: pl.DataFrame, side: str) -> pl.DataFrame:
    """The lists of all time, lengths as text, every column but the keys marked with its side: net_was, net_is."""
    texts = lines.filter(pl.col("span") == ALL_TIME).with_columns(
        length_text("net").alias("net"), length_text("gross").alias("gross")
    )
    return texts.select(*_KEYS, *(pl.col(name).alias(f"{name}_{side}") for name in _COMPARED))


def _differs(name: str) -> pl.Expr:
    return pl.col(f"{name}_was").ne_missing(pl.col(f"{name}_is"))


def _in_both(both: pl.DataFrame) -> pl.DataFrame:
    return both.filter(pl.col("place_was").is_not_null(), pl.col("place_is").is_not_null())


def _named(frame: pl.DataFrame, kind: str, side: str, what: pl.Expr) -> pl.DataFrame:
    return frame.with_columns(
        pl.lit(kind).alias("kind"), what.alias("what"),
        pl.col(f"entry_no_{side}").alias("entry_no"), pl.col(f"hunter_{side}").alias("hunter"),
    )  # fmt: skip


def _new(both: pl.DataFrame) -> pl.DataFrame:
    told = map(_known, ("net_is", "gross_is", "season_is"))
    what = pl.format("New at place {}, with a net of {} and a gross of {}, season {}.", "place_is", *told)
    return _named(both.filter(pl.col("place_was").is_null()), "new", "is", what)


def _moved(both: pl.DataFrame) -> pl.DataFrame:
    """Those whose place changed while their score did not. A place is one more than the heads above it, so the
    difference of places is how many came or went there.
    """
    moved = _in_both(both).filter(_differs("place"), ~_differs("net"), ~_differs("gross"))
    by = pl.col("place_is") - pl.col("place_was")
    more = pl.when(by > 0).then(pl.lit("more")).otherwise(pl.lit("fewer"))
    stand = pl.when(by.abs() == 1).then(pl.lit("head stands")).otherwise(pl.lit("heads stand"))
    # "1 fewer head stands above it": who came and who went is told of themselves
    what = pl.format(
        "Place {} is now place {}: its score is as it was, and {} {} {} above it.",
        "place_was", "place_is", by.abs(), more, stand,
    )  # fmt: skip
    return _named(moved, "moved", "is", what)


def _corrected(both: pl.DataFrame) -> pl.DataFrame:
    return _in_both(both).filter(pl.any_horizontal(map(_differs, FIGURES)))


def _corrected_words(corrected: pl.DataFrame, states: pl.DataFrame) -> pl.DataFrame:
    """Was -> is of each figure that changed, the place where it changed too, and why."""
    told = [_change(name, WORDS[name]) for name in FIGURES]
    place = pl.when(_differs("place")).then(pl.format("; place {} is now place {}", "place_was", "place_is"))
    figures = pl.concat_str(told, separator="; ", ignore_nulls=True)
    first, rest = figures.str.slice(0, 1).str.to_uppercase(), figures.str.slice(1)
    what = pl.format("{}{}{}. Reason: {}", first, rest, place.otherwise(pl.lit("")), reasons.sentence(reasons.REASON))
    joined = corrected.join(states, on="entry_id", how="left", maintain_order="left")
    return _named(joined, "corrected", "is", what)


def _change(name: str, word: str) -> pl.Expr:
    was, now = f"{name}_was", f"{name}_is"
    quoted = (_known(was), _known(now)) if name in _LENGTHS else (_quoted(was), _quoted(now))
    return pl.when(_differs(name)).then(pl.format(f"{word} {{}} is now {{}}", *quoted))


def _known(column: str) -> pl.Expr:
    return pl.col(column).fill_null("(not known)")


def _quoted(column: str) -> pl.Expr:
    return pl.format("“{}”", column).fill_null("(not known)")
