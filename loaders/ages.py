"""Ages as written -> whole half years: jaws are aged in years and half years ("4.5"). Common practice, no source."""

import polars as pl

from loaders.cell_format import without_format
from loaders.notation.spellings import ABSENT_WORDS

LEAST, MOST = 1, 40  # half years: a fawn of the fall, and more than any buck lives (from memory)
NOT_AGED = (*ABSENT_WORDS, "unknown", "not known", "not aged", "?")
# years; a half behind a blank or a hyphen, or a decimal that is whole or a half; years in words
_AGE = r"^([0-9]{1,4})?(?:(?:^|[ -])(1/2)|[.,](50*|0+))?(?: ?(?:y|yrs?|years?|y/?o)\.?(?: old| of age)?)?$"


def read_ages(texts: pl.Series) -> pl.DataFrame:
    """Read each text (of a column's distinct ones, best): `half_years` (Int16, null where there is none) and `unread`
    (Boolean: it says something, and no age in half years from half a year to twenty years).
    """
    plain = _plain(texts)
    parts = plain.str.extract_groups(_AGE).struct.rename_fields(["years", "half", "decimal"]).struct.unnest()
    told = parts.select(pl.any_horizontal(pl.all().is_not_null())).to_series()
    half = parts["half"].is_not_null() | parts["decimal"].str.starts_with("5").fill_null(False)
    read = pl.DataFrame({"years": parts["years"].cast(pl.Int16).fill_null(0), "half": half, "told": told})
    age = pl.col("years") * 2 + pl.col("half").cast(pl.Int16)
    says_something = (plain != "") & ~plain.is_in(NOT_AGED)
    return read.select(half_years=pl.when(pl.col("told") & age.is_between(LEAST, MOST)).then(age)).with_columns(
        unread=says_something & pl.col("half_years").is_null()
    )


def _plain(texts: pl.Series) -> pl.Series:
    """Small letters, one blank between parts, plain hyphens and strokes, a half sign as " 1/2"."""
    cells = texts.to_frame("t").select(without_format(pl.col("t"))).to_series().str.to_lowercase()
    return (
        cells.str.replace_all(r"\p{Pd}|−", "-")
        .str.replace_all("⁄", "/", literal=True)
        .str.replace_all("½", " 1/2", literal=True)
        .str.replace_all(r"[\s\p{Zs}\u{200b}\u{feff}]+", " ")
        .str.strip_chars(" ")
    )
