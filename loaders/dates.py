"""Dates as written -> calendar dates. ISO 8601 is what is asked for; what has one meaning is read, the rest is not."""

import polars as pl

from loaders.cell_format import without_format
from loaders.notation.spellings import SERIAL_FROM, SERIAL_TO

FIRST_YEAR, LAST_YEAR = 1800, 2199
_FORMATS = ("%Y-%m-%d", "%Y%m%d", "%d %b %Y", "%b %d %Y", "%d %B %Y", "%B %d %Y")


def read_dates(texts: pl.Series) -> pl.DataFrame:
    """Read each text (of a column's distinct ones, best): `date` (Date, null where it cannot be read) and `serial` (a bare spreadsheet day number).

    "11/8/2025" may be the 8th of November or the 11th of August and is not read; "11/25/2025" can only be one day.
    """
    plain = (
        texts.to_frame("t")
        .select(without_format(pl.col("t")))
        .to_series()
        .str.replace_all(r"[\s\p{Zs}\u200b\ufeff,]+", " ")
        .str.strip_chars(" ")
        .str.replace(r"[T ]00:00:00(?:\.0+)?$", "")
    )
    table = pl.DataFrame({"plain": plain}).with_columns(
        serial=pl.col("plain").str.extract(r"^([0-9]{5})(?:\.0+)?$", 1).cast(pl.Int32)
    )
    table = table.with_columns(
        serial_date=pl.when(pl.col("serial").is_between(SERIAL_FROM, SERIAL_TO)).then(
            pl.date(1899, 12, 30) + pl.duration(days=pl.col("serial"))
        )
    )
    written = [pl.col("plain").str.to_date(pattern, strict=False, exact=True) for pattern in _FORMATS]
    return table.select(
        date=_of_this_age(pl.coalesce(*written, _slashed(), "serial_date")),
        serial=pl.col("serial_date").is_not_null(),
    )


def _of_this_age(day: pl.Expr) -> pl.Expr:
    """A year of two digits is read by the calendar as one of the first century; no head was scored before 1800."""
    return pl.when(day.dt.year().is_between(FIRST_YEAR, LAST_YEAR)).then(day)


def _slashed() -> pl.Expr:
    """Month/day/year or day/month/year, where only one of them is a date (or both are the same day)."""
    pattern = r"^([0-9]{1,2})[/.-]([0-9]{1,2})[/.-]([0-9]{4})$"
    one, two, year = (pl.col("plain").str.extract(pattern, n).cast(pl.Int32) for n in (1, 2, 3))
    month = pl.when(one <= 12).then(one).otherwise(two)
    day = pl.when(one <= 12).then(two).otherwise(one)
    single = (one > 12) | (two > 12) | (one == two)
    text = pl.concat_str(year.cast(pl.String), month.cast(pl.String), day.cast(pl.String), separator="-")
    return pl.when(single).then(text.str.to_date("%Y-%m-%d", strict=False, exact=True))


def season_of(dates: pl.Series) -> pl.Series:
    """The season a head belongs to, "2024-25", where a season begins on 1 July (a January kill: the year before)."""
    year = pl.col("date").dt.year() - (pl.col("date").dt.month() < 7).cast(pl.Int32)
    return pl.DataFrame({"date": dates.cast(pl.Date)}).select(_label(year)).to_series()


def read_seasons(texts: pl.Series) -> pl.Series:
    """A stated season in the book's form: "2025", "2025-26", "2025-2026" and "2025/26" are all "2025-26"."""
    text = without_format(pl.col("text")).str.strip_chars()
    first = text.str.extract(r"^([0-9]{4})(?:\s*[-–/]\s*(?:[0-9]{4}|[0-9]{2}))?$", 1).cast(pl.Int32)
    second = text.str.extract(r"^[0-9]{4}\s*[-–/]\s*(?:[0-9]{2})?([0-9]{2})$", 1).cast(pl.Int32)
    follows = second.is_null() | (second == (first + 1) % 100)
    return pl.DataFrame({"text": texts}).select(pl.when(follows).then(_label(first))).to_series()


def _label(year: pl.Expr) -> pl.Expr:
    ending = ((year + 1) % 100).cast(pl.String).str.zfill(2)
    return pl.concat_str(year.cast(pl.String), pl.lit("-"), ending)
