"""Which entry of the book a received row is: a new head, one the book holds already, or one sent before and changed.

A row is an entry of the book where it has the same number and two more things in common (hunter, date taken, area,
measures); a number alone is not enough, for every club begins at 1, and each season again: heads taken on different
days are different heads, unless every measure is the same. Without a number, the measures and two more must agree.
"""

import polars as pl

IDENTITY = ("hunter", "taken_on", "area_written", "measure_key")
ALIKE = 2
MOST_ROUNDS = 20  # rows that share a number and are alike; more than so many are new heads, and asked about


def match_rows(rows: pl.DataFrame, heads: pl.DataFrame, received: pl.DataFrame | None = None) -> pl.DataFrame:
    """Pair rows ("id", "entry_no" and IDENTITY) with heads ("entry_id", "revision_no", "row_id" and the same).

    `received`: those of the heads that a person corrected, as they were received, for so they may be sent again. A
    head that is the same throughout comes before one that is alike, a head as it stands before one as received.
    Returns one row for each row given, in order: `entry_id`, `revision_no`, `before` (row_id of the current
    revision), null for a head the book does not hold. No entry is given to two rows.
    """
    pairs = pl.DataFrame(schema={"id": pl.UInt32, "entry_id": pl.Int64})
    kinds = [known for known in (heads, received) if known is not None and known.height]
    for pair in (_same_throughout, _alike):
        for known in kinds:
            left, right = rows, known
            if pairs.height:
                left, right = rows.join(pairs, on="id", how="anti"), known.join(pairs, on="entry_id", how="anti")
            pairs = pl.concat([pairs, pair(left, right)])
    found = rows.select("id").join(pairs, on="id", how="left", maintain_order="left")
    known = heads.select("entry_id", "revision_no", pl.col("row_id").alias("before"))
    return found.join(known, on="entry_id", how="left", maintain_order="left").drop("id")


def _same_throughout(rows: pl.DataFrame, heads: pl.DataFrame) -> pl.DataFrame:
    """Equal in number and everything else; the second of two equal rows is the second of two equal heads."""
    columns = ["entry_no", *IDENTITY]
    numbered = [frame.with_columns(nth=pl.int_range(pl.len()).over(columns)) for frame in (rows, heads)]
    joined = numbered[0].join(numbered[1], on=[*columns, "nth"], nulls_equal=True)
    enough = sum((pl.col(column).is_not_null().cast(pl.Int8) for column in IDENTITY), pl.lit(0))
    by_measures = (enough >= len(IDENTITY) - 1) & pl.col("measure_key").is_not_null()
    named = pl.when(pl.col("entry_no").is_null()).then(by_measures).otherwise(enough >= ALIKE)
    return joined.filter(named).select("id", "entry_id")


def _alike(rows: pl.DataFrame, heads: pl.DataFrame) -> pl.DataFrame:
    """Equal in number and alike in two more things, the most alike first."""
    left, right = rows.drop_nulls("entry_no"), heads.drop_nulls("entry_no")
    points = sum(
        ((pl.col(column) == pl.col(f"{column}_right")).fill_null(False).cast(pl.Int8) for column in IDENTITY), pl.lit(0)
    )
    # another day is another head (a club begins at 1 each season), unless every measure is the same
    other_day = (pl.col("taken_on") != pl.col("taken_on_right")).fill_null(False)
    same_measures = (pl.col("measure_key") == pl.col("measure_key_right")).fill_null(False)
    candidates = (
        left.join(right, on="entry_no")
        .select("id", "entry_id", "measure_key", "measure_key_right", other_day=other_day, points=points)
        .filter((pl.col("points") >= ALIKE) & (~pl.col("other_day") | same_measures))
        .select("id", "entry_id", "points")
        .sort("points", "id", "entry_id", descending=[True, False, False])
    )
    pairs = candidates.clear().select("id", "entry_id")
    for _ in range(MOST_ROUNDS):
        if not candidates.height:
            break
        best = candidates.unique("id", keep="first", maintain_order=True).unique(
            "entry_id", keep="first", maintain_order=True
        )
        pairs = pl.concat([pairs, best.select("id", "entry_id")])
        candidates = candidates.join(best, on="id", how="anti").join(best, on="entry_id", how="anti")
    return pairs
