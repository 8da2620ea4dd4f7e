"""What is said of a trend. The book's figures are worked out by hand in tests/dashboards/trends/trend_book.py."""

from dataclasses import replace
from typing import Any, get_args

import pytest

from dashboards.trends.trend_words import (
    BRIEFLY,
    REFUSALS,
    VERDICTS,
    as_of,
    headline,
    sections,
    share_sentence,
    subject,
    verdict_sentence,
)
from tests.dashboards.trends.trend_book import TODAY, book_of_tests, settings, trend_of
from warehouse.book.trend_figures.trend import read_trend
from warehouse.trends.verdict import Verdict


def test_the_subject_says_what_the_trend_is_of() -> None:
    asked = {"first_season": "2016-17", "weapons": ("rifle",), "district": "South"}
    assert subject(trend_of(), settings()) == (
        "State Book, White-tailed deer, typical, the 2 areas it covers, 2014-15 to 2023-24"
    )
    assert subject(trend_of(**asked), settings(**asked)) == (
        "State Book, White-tailed deer, typical, rifle only, South, 2016-17 to 2023-24"
    )


def rate(percent: float, lower: float, upper: float) -> dict[str, Any]:
    figures = {
        "percent": percent,
        "percent_lower": lower,
        "percent_upper": upper,
        "slope": percent,
        "lower": lower,
        "upper": upper,
    }
    return trend_of().rate | figures


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ((3.66, 2.2, 5.2), "3.7 % more a year (95 % interval 2.2 to 5.2 % more)"),
        ((-3.66, -5.2, -2.2), "3.7 % fewer a year (95 % interval 5.2 to 2.2 % fewer)"),
        ((0.8, -1.2, 2.9), "no clear change; 0.8 % more a year (95 % interval 1.2 % fewer to 2.9 % more)"),
    ],
)
def test_the_headline_is_of_entries_with_what_they_are_per(figures: tuple[float, float, float], words: str) -> None:
    assert headline(replace(trend_of(), rate=rate(*figures))) == (
        f"Trend among entries per 1,000 antlered deer harvested: {words}, from 40 entries of 10 seasons."
    )


@pytest.mark.parametrize(
    ("effort", "per"), [("area", " per 100 square miles"), ("none", ", only counted"), ("licences", ", only counted")]
)
def test_the_headline_of_other_efforts(effort: str, per: str) -> None:
    assert headline(trend_of(effort=effort)).startswith(f"Trend among entries{per}: ")


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("few-seasons", "fewer than 8 seasons that a trend may rest on"),
        ("no-entries", "no entry, or all of them at one end of the seasons"),
        ("no-effort", "what stands behind the entries is not known"),
    ],
)
def test_a_refusal_is_said_in_words(code: str, why: str) -> None:
    refused = replace(trend_of(), rate=trend_of().rate | {"refused": code})
    assert headline(refused) == f"No trend among entries is told: {why} (40 entries of 10 seasons)."
    assert code in REFUSALS


VERDICT_SENTENCES = {
    "both-up": "More entries, and a larger share of them at or above 145 0/8: among the entries large heads become commoner, which "
    "more zeal in sending in, alike for every size, would not bring about.",
    "both-down": "Fewer entries, and a smaller share of them at or above 145 0/8: among the entries large heads become rarer, which "
    "less zeal in sending in, alike for every size, would not bring about.",
    "rate-up-alone": "More entries; whether they are larger cannot be told, for the share of them at or above 145 0/8 has no trend. More "
    "zeal in sending in would look the same; this is not read as more big deer.",
    "rate-down-alone": "Fewer entries; whether they are smaller cannot be told, for the share of them at or above 145 0/8 has no trend. "
    "Less zeal in sending in would look the same; this is not read as fewer big deer.",
    "share-up-alone": "No clear change in how many entries there are, but a larger share of them is at or above 145 0/8: the "
    "entries grow larger, not more numerous.",
    "share-down-alone": "No clear change in how many entries there are, but a smaller share of them is at or above 145 0/8: the "
    "entries grow smaller, not fewer.",
    "opposed": "The rate of entries and the share of them at or above 145 0/8 go opposite ways (more entries, a smaller share of "
    "large ones): this is not read as one trend of the deer.",
    "neither": "The rate of entries does not change clearly, and the share of them at or above 145 0/8 has no trend.",
    "unknown": "As the rate has no trend, nothing is said of more or fewer, larger or smaller heads.",
}


@pytest.mark.parametrize("code", get_args(Verdict))
def test_every_verdict_is_a_sentence(code: Verdict) -> None:
    way = rate(-2.0, -3.0, -1.0) if code == "rate-down-alone" else trend_of().rate
    assert verdict_sentence(replace(trend_of(), verdict=code, rate=way)) == VERDICT_SENTENCES[code]
    assert code in VERDICTS
    assert BRIEFLY[code]


@pytest.mark.parametrize(("code", "begins"), [
    ("rate-up-alone", "More entries, but no sign that they are larger: "), ("rate-down-alone", "Fewer entries, but no sign that they are smaller: "),
])  # fmt: skip
def test_a_share_that_has_a_trend_and_shows_none_is_no_sign(code: Verdict, begins: str) -> None:
    told = replace(trend_of(), verdict=code, share={**trend_of().share, "refused": None})
    assert verdict_sentence(told).startswith(begins)


def test_opposite_ways_are_named() -> None:
    falling = replace(trend_of(), verdict="opposed", rate=rate(-2.0, -3.0, -1.0))
    assert "(fewer entries, a larger share of large ones)" in verdict_sentence(falling)


def test_neither_changes_where_both_are_known() -> None:
    both = replace(trend_of(), verdict="neither", share=trend_of().share | {"refused": None})
    assert (
        verdict_sentence(both)
        == "Neither the rate of entries nor the share of them at or above 145 0/8 changes clearly."
    )


def test_a_share_is_told_by_its_fitted_ends() -> None:
    """Closed form: a share of one half that goes nowhere is one half at both ends."""
    flat = {
        "refused": None, "percent": 0.0, "percent_lower": -4.0, "percent_upper": 5.0, "slope": 0.0, "se": 0.02, "intercept": 0.0,
        "middle": 2018.5, "var_intercept": 0.01, "cov_intercept_slope": 0.0, "seasons": 10, "entries": 20, "out_of": 40,
    }  # fmt: skip
    assert share_sentence(replace(trend_of(), share=trend_of().share | flat)) == (
        "The share of entries at or above 145 0/8, fitted: 50 % in 2014-15, 50 % in 2023-24; the odds go up by 0.0 % a year "
        "(95 % interval 4.0 % down to 5.0 % up). 20 of 40 entries are so large."
    )


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("few-seasons", "fewer than 8 seasons with an entry"),
        (
            "no-entries",
            "none of the entries reaches it, or all of them do, or all that do come at one end of the seasons",
        ),
    ],
)
def test_a_share_without_a_trend_backs_nothing(code: str, why: str) -> None:
    refused = replace(trend_of(), share=trend_of().share | {"refused": code})
    assert (
        share_sentence(refused) == f"The share of entries at or above 145 0/8 has no trend: {why}; so it backs nothing."
    )


def test_the_day_is_always_said() -> None:
    assert as_of(settings()) == ["The book as it is known on 2026-11-25 (UTC)."]
    assert as_of(settings(as_of=TODAY)) == [
        "The book as it was known when 2026-11-25 (UTC) ended; minimums, efforts and other reference tables are those of today."
    ]


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ({"cut": 1300}, "No entry of the 2 areas it covers is at or above 162 4/8; 41 entries below it set aside."),
        (
            {"cut": 1300, "area": "07003"},
            "No entry of Brackwater is at or above 162 4/8; 30 entries below it set aside.",
        ),
    ],
)
def test_nothing_to_count_is_said_and_no_more(asked: dict[str, Any], why: str) -> None:
    assert sections(trend_of(**asked), settings(**asked)) == {
        "Trend": ["No trend among entries is told.", why], "As of": ["The book as it is known on 2026-11-25 (UTC)."],
    }  # fmt: skip


def test_a_book_without_a_minimum_has_nothing_to_count_from() -> None:
    asked = replace(settings(), category="elk-typical")
    assert sections(read_trend(book_of_tests(), asked), asked)["Trend"][1] == (
        "No entry of American elk, typical qualifies in State Book in these seasons, or it has no minimum for such heads: there is nothing "
        "to count."
    )


def test_no_sentence_speaks_of_the_herd() -> None:
    said = [sentence for part in sections(trend_of(), settings()).values() for sentence in part]
    assert len(said) > 20
    assert not [sentence for sentence in said if "herd" in sentence]
