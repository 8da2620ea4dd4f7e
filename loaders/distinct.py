"""Each distinct text of a column once: what is slow is done to the few, and every cell looks its result up."""

from dataclasses import dataclass

import polars as pl


@dataclass(frozen=True)
class Distinct:
    """`texts`: each distinct text (no null); `codes`: for each cell its place in `texts`, null where it is null."""

    texts: pl.Series
    codes: pl.Series

    def spread(self, values: pl.Series) -> pl.Series:
        """One value for each text -> one for each cell; null for a null cell."""
        if not len(values):
            return nulls(values.name, len(self.codes), values.dtype)
        return values.gather(self.codes)

    def spread_over(self, codes: pl.Series) -> pl.Series:
        """The text behind each of some codes; null for a null code."""
        return self.texts.gather(codes) if len(self.texts) else nulls("text", len(codes), pl.String)


def distinct(cells: pl.Series) -> Distinct:
    """The distinct texts of a String column, and where each stands."""
    if cells.null_count() == len(cells):
        return Distinct(pl.Series(dtype=pl.String), nulls("codes", len(cells), pl.UInt32))
    pool = pl.Categories.random("texts")
    coded = cells.cast(pl.Categorical(pool))
    texts = pool.to_series()  # the pool lives only as long as a column that uses it
    return Distinct(texts, coded.to_physical())


def nulls(name: str, height: int, dtype: "pl.DataType | type[pl.DataType]") -> pl.Series:
    """A column of nothing."""
    return pl.Series(name, [None], dtype=dtype).new_from_index(0, height)
