"""The rules of a record book in sentences."""

import polars as pl

from dashboards.publications.rule_words import (
    NARROWER,
    NEWEST_RULES,
    TIE_RULES,
    minimums_as_text,
    rule_sentences,
    seasons_words,
)
from tests.dashboards.publications.hand_edition import MINIMUMS

ASKED = "What is asked for: taken with any weapon; by a certified measurer."
BOW = MINIMUMS.filter(pl.col("book") == "Bow Register")
OTHER = MINIMUMS.filter(pl.col("book") != "Bow Register")


def test_seasons() -> None:
    assert seasons_words("2019-20", None) == "from 2019-20 on"
    assert seasons_words("2012-13", "2018-19") == "2012-13 to 2018-19"
    assert seasons_words("2012-13", "2012-13") == "2012-13"


def test_one_rule_needs_no_seasons_and_two_do() -> None:
    assert rule_sentences(BOW) == [f"Ranked by gross. {TIE_RULES['taken']} {ASKED}"]
    assert rule_sentences(OTHER) == [
        f"Seasons 2018-19 to 2022-23: Ranked by net. {TIE_RULES['shared']} {ASKED}",
        f"Seasons from 2023-24 on: Ranked by net. {TIE_RULES['gross']} {ASKED}",
        NEWEST_RULES,
    ]


def test_which_of_two_minimums_counts_is_said_where_there_are_two() -> None:
    both = pl.concat([BOW, BOW.with_columns(weapon_class=pl.lit("any"))])
    assert rule_sentences(both)[1:] == [NARROWER]
    antlers = pl.concat([BOW, BOW.with_columns(antler_state=pl.lit("velvet"))])
    assert rule_sentences(antlers)[1:] == [NARROWER]


def test_a_book_without_a_minimum_has_no_rules_to_quote() -> None:
    assert rule_sentences(BOW.clear()) == []
    assert minimums_as_text(BOW.clear()).height == 0


def test_lengths_are_written_in_their_own_unit() -> None:
    sixteenths = BOW.with_columns(unit=pl.lit(16), minimum_units=pl.lit(301))
    assert minimums_as_text(sixteenths)["minimum"].to_list() == ["18 13/16"]
