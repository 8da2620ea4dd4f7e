"""Read distinct length texts: one expression pipeline from text to every reading the text allows.

States of a reading: a *measured* length has one value; *blank* says nothing; *absent* says there is none ("-",
"none"); *open* has two readings that only the sheet or a person can choose between; *date* is a length that a
spreadsheet turned into a date; *hidden* is a number that a fraction format shows as another; *unreadable* is none
of these.
"""

from dataclasses import dataclass

import polars as pl

from loaders.cell_format import format_of, without_format
from loaders.notation.decimals import digit_readings

MEASURED, BLANK, ABSENT, OPEN, DATE, HIDDEN, UNREADABLE = range(7)

LONGEST_IMPROPER_INCHES = 60  # "277/8" may be 34 5/8 written as one fraction; "2310/16" would be 144 inches
SERIAL_FROM, SERIAL_TO = 20_000, 60_000  # spreadsheet days of the years 1954 to 2064

VULGAR = {
    "⅛": " 1/8", "¼": " 1/4", "⅜": " 3/8", "½": " 1/2", "⅝": " 5/8", "¾": " 3/4", "⅞": " 7/8",
    "⅓": " 1/3", "⅔": " 2/3", "⅕": " 1/5", "⅖": " 2/5", "⅗": " 3/5", "⅘": " 4/5", "⅙": " 1/6", "⅚": " 5/6",
}  # fmt: skip
ABSENT_WORDS = ("-", "--", "---", "n/a", "na", "none", "nil", "absent", "x", "no")
MONTHS = {
    "jan": 1, "feb": 2, "mar": 3, "apr": 4, "may": 5, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "oct": 10, "nov": 11, "dec": 12,
}  # fmt: skip


@dataclass(frozen=True)
class Reading:
    """One text's reading: `value` in units where it is sure, else the `first` and `second` reading the text allows.

    `first` takes digits as counted units ("8.5" is 8 5/8), `second` as a decimal (8 4/8).
    """

    state: int
    value: int | None
    first: int | None
    second: int | None


def read_text(text: str | None, unit: int = 8) -> Reading:
    """Read one cell. The same pipeline as a whole file goes through, on a frame of one row."""
    row = spell(pl.Series([text], dtype=pl.String), unit).row(0, named=True)
    return Reading(row["state"], row["value"], row["first"], row["second"])


def spell(texts: pl.Series, unit: int = 8) -> pl.DataFrame:
    """Every reading of each text: a frame of `state` (UInt8), `value`, `first`, `second` (Int32), in the same order."""
    state, *values = _verdict()
    return shapes(texts, unit).with_columns(_candidates(unit)).with_columns(state).select("state", *values)


def shapes(texts: pl.Series, unit: int) -> pl.DataFrame:
    """The parts of each text that a length can be read from (see `_parts`), with what its decimal digits can mean."""
    frame = pl.DataFrame({"text": texts.cast(pl.String)}).with_columns(_body(), _format())
    frame = frame.with_columns(t=_plain(pl.col("body")))
    frame = frame.with_columns(*_parts())
    return frame.join(digit_readings(unit), left_on="dec_digits", right_on="digits", how="left", maintain_order="left")


def is_exact_decimal(unit: int) -> pl.Expr:
    """Over `shapes`: the decimal is a whole number of units as it stands, not a rounded one."""
    return _exact_decimal(unit).is_not_null()


# Text made plain -----------------------------------------------------------------------------------------------


def _body() -> pl.Expr:
    return without_format(pl.col("text")).fill_null("").alias("body")


def _format() -> pl.Expr:
    return format_of(pl.col("text")).alias("format")


def _plain(body: pl.Expr) -> pl.Expr:
    """One blank between parts, plain strokes and dashes, no inch marks, lower case."""
    return (
        body.str.replace_many(list(VULGAR), list(VULGAR.values()))
        .str.replace_all(r"[\s\p{Zs}\u200b\ufeff]+", " ")
        .str.replace_all(r"[⁄∕]", "/")
        .str.replace_all(r"[–—−‐‑]", "-")
        .str.strip_chars(" ")
        .str.to_lowercase()
        .str.replace(r"^'", "")
        .str.replace(r"^(.*[0-9]) ?(?:[\"”“″'′’]+|inches|inch|in\.?)$", "$1")
        .str.replace(r"([0-9]) ?(?:&|\+|and) ?([0-9])", "$1 $2")
        .str.replace_all(r" ?/ ?", "/")
        .str.replace(r"^([0-9]+) ?- ?([0-9])", "$1-$2")
        .str.replace(r"^([0-9]+)- ([0-9])", "$1-$2")
        .str.strip_chars(" ")
    )


# Shapes a text may have ------------------------------------------------------------------------------------------


def _int(pattern: str, group: int) -> pl.Expr:
    return pl.col("t").str.extract(pattern, group).cast(pl.Int32, strict=False)


_FRACTION = r"^-?(?:([0-9]{1,4})[ -])?([0-9]{1,4})/([0-9]{1,2})$"  # 8 5/8, 8-5/8, 5/8
_NO_STROKE = r"^([0-9]{1,3})[ -]([0-9]{1,2})$"  # 8 5: the eighths alone
_LOST_STROKE = r"^([0-9]{1,3})[ -]([0-9]{1,2}?)-?(8|16)$"  # 23 78, 23 916, 17-3-8: the stroke was lost in print
_DECIMAL = r"^-?([0-9]{0,4})[.,]([0-9]{1,18})$"
_ISO = r"^[0-9]{4}-([0-9]{2})-([0-9]{2})(?:[t ]00:00:00)?$"
_SLASHED = r"^([0-9]{1,2})/([0-9]{1,2})/(?:[0-9]{2}|[0-9]{4})$"
_DAY_MONTH = r"^([0-9]{1,2})-([a-z]{3})(?:-[0-9]{2,4})?$"
_MONTH_DAY = r"^([a-z]{3})-([0-9]{1,2})$"


def _parts() -> list[pl.Expr]:
    digits = pl.col("t").str.extract(_DECIMAL, 2)
    trimmed = digits.str.strip_chars_end("0")
    # "8.50" is the decimal written out, "8.5" may be eighths: so one zero stays where one digit would be left
    kept = pl.when(trimmed.str.len_chars() == 1).then(trimmed + "0").otherwise(trimmed)
    return [
        _int(r"^-?([0-9]{1,4})[.,]?$", 1).alias("whole"),
        _int(r"^([0-9]{5})$", 1).alias("serial"),
        _int(_FRACTION, 1).alias("fr_whole"),
        _int(_FRACTION, 2).alias("fr_num"),
        _int(_FRACTION, 3).alias("fr_den"),
        pl.col("t").str.extract(_FRACTION, 2).alias("fr_digits"),
        *(_int(_NO_STROKE, group).alias(name) for group, name in ((1, "ns_whole"), (2, "ns_num"))),
        *(_int(_LOST_STROKE, group).alias(name) for group, name in ((1, "ls_whole"), (2, "ls_num"), (3, "ls_den"))),
        pl.col("t").str.extract(_DECIMAL, 1).replace("", "0").cast(pl.Int32).alias("dec_whole"),
        pl.when(digits.str.len_chars() == 1).then(digits).when(trimmed == "").then(pl.lit("0")).otherwise(kept)
        .alias("dec_digits"),
        digits.alias("dec_all"),
        pl.col("t").str.starts_with("-").alias("signed"),
    ]  # fmt: skip


# What each shape is worth ------------------------------------------------------------------------------------------


def _parts_of_inch(num: pl.Expr, den: pl.Expr, unit: int) -> pl.Expr:
    """num/den inch in whole units; null where it is no whole number of them, or not less than an inch."""
    fits = den.is_in([2, 4, 8, 16]) & (num < den) & (num * unit % den == 0)
    return pl.when(fits).then(num * unit // den)


def _sure_value(unit: int) -> pl.Expr:
    """Shapes with one meaning: a whole number, a fraction, eighths without their stroke."""
    col = pl.col
    plain = col("fr_whole").fill_null(0) * unit + _parts_of_inch(col("fr_num"), col("fr_den"), unit)
    no_stroke = pl.when(col("ns_num") < unit).then(col("ns_whole") * unit + col("ns_num"))
    lost = col("ls_whole") * unit + _parts_of_inch(col("ls_num"), col("ls_den"), unit)
    formatted = col("format").str.contains("/").fill_null(False)  # then the number is a decimal, whatever it shows
    decimal = pl.when(col("sure") & ~formatted).then(_counted(unit).fill_null(_as_decimal(unit)))
    fraction_format = pl.when(formatted).then(_exact_decimal(unit))
    return pl.coalesce(fraction_format, col("whole") * unit, plain, no_stroke, lost, decimal)


def _counted(unit: int) -> pl.Expr:
    return pl.col("dec_whole") * unit + pl.col("in_units")


def _as_decimal(unit: int) -> pl.Expr:
    return pl.col("dec_whole") * unit + pl.col("as_decimal")


def _millionths(unit: int) -> pl.Expr:
    """The decimal's fraction times a million times the unit, from its first six digits."""
    return pl.col("dec_all").str.pad_end(6, "0").str.slice(0, 6).cast(pl.Int64) * unit


def _exact_decimal(unit: int) -> pl.Expr:
    exact = _millionths(unit) % 1_000_000 == 0
    return pl.when(exact).then(pl.col("dec_whole") * unit + (_millionths(unit) // 1_000_000).cast(pl.Int32))


def _shown_decimal(unit: int) -> pl.Expr:
    """What a fraction format shows for a number that is no whole unit: the nearest one."""
    shown = ((_millionths(unit) + 500_000) // 1_000_000).cast(pl.Int32)
    return pl.when(pl.col("format").str.contains("/")).then(pl.col("dec_whole") * unit + shown)


def _split_readings(unit: int) -> tuple[pl.Expr, pl.Expr]:
    """ "277/8": 27 7/8 with its blank lost, or 277 eighths. A reading too long for any head is left out."""
    digits, den = pl.col("fr_digits"), pl.col("fr_den")
    bare = pl.col("fr_whole").is_null() & (pl.col("fr_num") >= den) & den.is_in([8, 16])
    two = digits.str.slice(-2).cast(pl.Int32, strict=False)
    takes_two = (den == 16) & two.is_between(10, 15) & (digits.str.len_chars() > 2)
    num = pl.when(takes_two).then(two).otherwise(digits.str.slice(-1).cast(pl.Int32, strict=False))
    cut = pl.when(takes_two).then(digits.str.len_chars() - 2).otherwise(digits.str.len_chars() - 1)
    whole = digits.str.slice(0, cut).cast(pl.Int32, strict=False)
    split = whole * unit + pl.when(num > 0).then(_parts_of_inch(num, den, unit))
    even = pl.col("fr_num") * unit % den == 0
    improper = pl.when(even & (pl.col("fr_num") <= LONGEST_IMPROPER_INCHES * den)).then(pl.col("fr_num") * unit // den)
    return pl.when(bare).then(split), pl.when(bare).then(improper)


def _date_value(unit: int) -> pl.Expr:
    """n/8 that became a date: month and day in either order, the smaller over the larger."""
    t = pl.col("t")
    serial_day = pl.date(1899, 12, 30) + pl.duration(days=pl.col("serial"))
    in_range = pl.col("serial").is_between(SERIAL_FROM, SERIAL_TO)
    month_word = t.str.extract(_DAY_MONTH, 2).fill_null(t.str.extract(_MONTH_DAY, 1))
    one = pl.coalesce(
        t.str.extract(_ISO, 1).cast(pl.Int32, strict=False),
        t.str.extract(_SLASHED, 1).cast(pl.Int32, strict=False),
        month_word.replace_strict(MONTHS, default=None, return_dtype=pl.Int32),
        pl.when(in_range).then(serial_day.dt.month().cast(pl.Int32)),
    )
    other = pl.coalesce(
        t.str.extract(_ISO, 2).cast(pl.Int32, strict=False),
        t.str.extract(_SLASHED, 2).cast(pl.Int32, strict=False),
        t.str.extract(_DAY_MONTH, 1).cast(pl.Int32, strict=False),
        t.str.extract(_MONTH_DAY, 2).cast(pl.Int32, strict=False),
        pl.when(in_range).then(serial_day.dt.day().cast(pl.Int32)),
    )
    return _parts_of_inch(pl.min_horizontal(one, other), pl.max_horizontal(one, other), unit)


def _candidates(unit: int) -> list[pl.Expr]:
    split, improper = _split_readings(unit)
    return [
        _sure_value(unit).alias("sure_value"),
        _date_value(unit).alias("date_value"),
        _shown_decimal(unit).alias("shown_value"),
        pl.coalesce(split, _counted(unit)).alias("first_value"),
        pl.coalesce(improper, _as_decimal(unit)).alias("second_value"),
    ]


def _verdict() -> list[pl.Expr]:
    col = pl.col
    either = col("first_value").fill_null(col("second_value"))
    one_sided = col("fr_num").is_not_null() & (col("first_value").is_null() | col("second_value").is_null())
    state = (
        pl.when(col("t") == "").then(BLANK)
        .when(col("t").is_in(list(ABSENT_WORDS))).then(ABSENT)
        .when(col("signed") & col("sure_value").ne_missing(0)).then(UNREADABLE)  # no length is less than nothing
        .when(col("sure_value").is_not_null()).then(MEASURED)
        .when(col("shown_value").is_not_null()).then(HIDDEN)
        .when(either.is_not_null() & one_sided).then(MEASURED)
        .when(either.is_not_null()).then(OPEN)
        .when(col("date_value").is_not_null()).then(DATE)
        .otherwise(UNREADABLE)
    )  # fmt: skip
    one_reading = pl.coalesce(col("shown_value"), col("date_value"))
    frame_value = (
        pl.when(col("state") == ABSENT)
        .then(0)
        .when(col("state") == MEASURED)
        .then(pl.coalesce(col("sure_value"), either))
    )
    open_state, single = col("state") == OPEN, col("state").is_in([DATE, HIDDEN])
    return [
        state.cast(pl.UInt8).alias("state"),
        frame_value.cast(pl.Int32).alias("value"),
        pl.when(open_state).then(col("first_value")).when(single).then(one_reading).alias("first"),
        pl.when(open_state).then(col("second_value")).when(single).then(one_reading).alias("second"),
    ]
