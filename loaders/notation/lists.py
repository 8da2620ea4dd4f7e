"""Read lists of abnormal points ("1 2/8; 2 3/8"): their sum, how many there are, and whether all could be read."""

import polars as pl

from loaders.distinct import distinct
from loaders.notation.habits import DATED, traits_of
from loaders.notation.spellings import ABSENT, BLANK, DATE, HIDDEN, MEASURED, OPEN, UNREADABLE, spell

SEPARATOR = ";"


def read_lists(cells: pl.Series, unit: int = 8) -> pl.DataFrame:
    """Read each text as a `;`-separated list of lengths.

    Returns, in the same order (an empty cell lists nothing): `value` (sum in units, null where any item is open or unreadable, 0 for none),
    `count` (points longer than nothing), `least` (the shortest of them, null for none), `state` (the worst of its
    items; blank for an empty cell), the sums `first` and `second` under either reading, and `traits` (what the
    spelling of any item tells, see `habits`; 0 where no list of the column is open).
    """
    lists = distinct(cells)
    items = (
        pl.DataFrame({"list": lists.texts})
        .with_columns(item=pl.col("list").fill_null("").str.split(SEPARATOR))
        .explode("item")
        .with_columns(pl.col("item").str.strip_chars())
    )
    read = items.hstack(spell(items["item"], unit))
    read = read.with_columns(_traits(read, unit))
    # an empty item beside others is a trailing separator, not a missing point
    several = (pl.len() > 1).over("list")
    read = read.filter(~(several & (pl.col("state") == BLANK)) | (pl.int_range(pl.len()).over("list") == 0))
    table = read.group_by("list").agg(
        state=_worst(pl.col("state")).cast(pl.UInt8),
        value=_sum(pl.when(pl.col("state") == BLANK).then(0).otherwise(pl.col("value"))),
        least=pl.coalesce("value", "first", "second").replace(0, None).min().cast(pl.Int32),
        count=(pl.coalesce("value", "first", "second").fill_null(0) != 0).sum().cast(pl.Int16),
        first=_sum(pl.coalesce("value", "first", pl.when(pl.col("state") == BLANK).then(0))),
        second=_sum(pl.coalesce("value", "second", pl.when(pl.col("state") == BLANK).then(0))),
        traits=pl.col("traits").bitwise_or(),
    )
    ordered = pl.DataFrame({"list": lists.texts}).join(table, on="list", how="left", maintain_order="left")
    blank = {"value": 0, "count": 0, "least": None, "state": BLANK, "first": 0, "second": 0, "traits": 0}
    return pl.DataFrame([lists.spread(ordered[name]).alias(name) for name in blank]).with_columns(
        pl.when(lists.codes.is_null()).then(pl.lit(blank[name])).otherwise(name).cast(ordered[name].dtype).alias(name)
        for name in blank
    )


def _traits(read: pl.DataFrame, unit: int) -> pl.Series:
    """What the spelling of each item tells; an item that a spreadsheet hid marks its list as dated."""
    if not (read["state"] == OPEN).any():
        return pl.zeros(read.height, pl.UInt8, eager=True).alias("traits")
    hidden = read["state"].is_in([DATE, HIDDEN]).cast(pl.UInt8) * DATED
    return (traits_of(read["item"], unit) | hidden).alias("traits")


def _sum(values: pl.Expr) -> pl.Expr:
    return pl.when(values.null_count() == 0).then(values.sum()).cast(pl.Int32)


def _worst(state: pl.Expr) -> pl.Expr:
    """The state that decides for the list: unreadable before open before the others; blank only where all are."""
    worst = pl.lit(BLANK)
    for rank in (ABSENT, MEASURED, HIDDEN, DATE, OPEN, UNREADABLE):
        worst = pl.when((state == rank).any()).then(rank).otherwise(worst)
    return worst
