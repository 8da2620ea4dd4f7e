"""The rules of a record book, as an edition quotes them, in whole sentences."""

import polars as pl

from dashboards.words import category_words, weapon_words
from warehouse.book.length_text import length_text

_SHARED = "share a place, and as many places behind it stay empty (1, 2 =, 2 =, 4)"
TIE_RULES = {
    "shared": f"Heads with equal scores {_SHARED}.",
    "gross": f"Of heads with equal scores, the one with the higher gross goes first; heads equal in both {_SHARED}.",
    "taken": f"Of heads with equal scores, the one that was taken first goes first; heads equal in both {_SHARED}.",
}
NARROWER = "A minimum for the weapon of a head goes before one for any weapon, and then one for its antlers before one for any."
NEWEST_RULES = (
    "A list that spans several of these is ranked by the newest of them; each head is held to those of its season."
)
ANTLERS = {"any": "Hard or velvet", "hard": "Hard", "velvet": "Velvet"}


def seasons_words(first: str, last: str | None) -> str:
    """ "2012-13 to 2018-19", "from 2019-20 on", or the one season."""
    if last is None:
        return f"from {first} on"
    return first if first == last else f"{first} to {last}"


def rule_sentences(minimums: pl.DataFrame) -> list[str]:
    """What is ranked, who goes first among equals and what is asked for; told for each version of the book's rules.

    Takes the rows of `Edition.minimums` of one record book.
    """
    rules = minimums.group_by("score", "tie_rule", "rules").agg(pl.col("first_season").min(), _last_season())
    told = [(f"Ranked by {score}. {TIE_RULES[tie]} What is asked for: {asked}.", seasons_words(first, last))
            for score, tie, asked, first, last in rules.sort("first_season", "score", "tie_rule", "rules").iter_rows()]  # fmt: skip
    ranked = (
        [f"Seasons {seasons}: {words}" for words, seasons in told] if len(told) > 1 else [words for words, _ in told]
    )
    more = [NEWEST_RULES] if len(told) > 1 else []
    return [*ranked, *more, NARROWER] if _has_narrower(minimums) else [*ranked, *more]


def minimums_as_text(minimums: pl.DataFrame) -> pl.DataFrame:
    """Text columns category, weapon, antlers, minimum, score and seasons. Takes rows of `Edition.minimums`."""
    lengths = minimums.rename({"minimum_units": "minimum"}).with_columns(length_text("minimum"))
    return lengths.select(
        pl.col("category").map_elements(category_words, return_dtype=pl.String),
        pl.col("weapon_class").map_elements(weapon_words, return_dtype=pl.String).alias("weapon"),
        pl.col("antler_state").replace(ANTLERS).alias("antlers"),
        pl.col("minimum_text").alias("minimum"),
        "score",
        pl.struct("first_season", "last_season")
        .map_elements(lambda row: seasons_words(row["first_season"], row["last_season"]), return_dtype=pl.String)
        .alias("seasons"),
    )


def _has_narrower(minimums: pl.DataFrame) -> bool:
    """Whether minimums for any weapon or any antlers stand beside narrower ones, so that it must be said which counts."""
    return any("any" in minimums[name] and minimums[name].n_unique() > 1 for name in ("weapon_class", "antler_state"))


def _last_season() -> pl.Expr:
    """The newest last season; null where any of them is still in force."""
    last = pl.col("last_season")
    return pl.when(last.is_null().any()).then(None).otherwise(last.max())
