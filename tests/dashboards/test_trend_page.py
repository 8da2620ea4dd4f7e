"""The trends page on the book of tests/dashboards/trends/trend_book.py, whose figures are worked out by hand."""

from pathlib import Path

import pytest

from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import figures, said, table
from tests.dashboards.trends.trend_book import book_of_tests


def test_the_cut_and_the_entries_are_in_sight(open_page: OpenPage) -> None:
    assert figures(open_page(book_of_tests(), "trend")) == {
        "Common minimum, inches": "130 0/8", "Entries (n)": "40", "Of them 145 0/8 or more": "0", "Set aside below it": "1",
        "Seasons in the trend": "10",
    }  # fmt: skip


def test_the_trend_is_said_first_and_never_of_the_herd(open_page: OpenPage) -> None:
    told = said(open_page(book_of_tests(), "trend"))
    assert (
        "Only heads that somebody sent in, that reached a minimum and that qualify are here: every trend is one among entries, never of "
        "the herd."
    ) in told
    assert (
        "- Trend among entries per 1,000 antlered deer harvested: no clear change; 13.2 % more a year (95 % interval 0.8 % fewer to 29.2 % "
        "more), from 40 entries of 10 seasons.\n"
        "- The rate of entries does not change clearly, and the share of them at or above 145 0/8 has no trend."
    ) in told
    assert "The book as it is known on" in " ".join(told)


def test_every_chart_has_its_reading_beside_it(open_page: OpenPage) -> None:
    app = open_page(book_of_tests(), "trend")
    assert [heading.value for heading in app.subheader] == [
        "The trend", "The common minimum", "The share of entries at or above 145 0/8", "The median entry", "Districts and areas",
        "The level of each area", "Which areas differ by more than chance", "The figures",
    ]  # fmt: skip
    assert len(app.get("vega_lite_chart")) == 5
    assert len(app.get("download_button")) == 1


def test_districts_and_areas_stand_by_name(open_page: OpenPage) -> None:
    app = open_page(book_of_tests(), "trend")
    assert [(row["District"], row["Entries"]) for row in table(app, 0)] == [("North", 10), ("South", 30)]
    assert [(row["Area"], row["Level (95 %)"], row["Rate and share"]) for row in table(app, 1)] == [
        ("Abberlow", "2.00 (0.65 to 4.67)", "no clear change"), ("Brackwater", "8.40 (5.20 to 12.8)", "no clear change"),
    ]  # fmt: skip
    assert table(app, 2)[5]["Rate (95 % interval)"] == "4.00 (1.09 to 10.2)"


@pytest.mark.parametrize(
    ("asked", "entries"),
    [
        ({"place": "District South"}, "30"), ({"place": "Abberlow"}, "10"), ({"from": "2019-20", "to": "2022-23"}, "20"),
        ({"effort": "Square miles (a density)"}, "40"),
    ],
)  # fmt: skip
def test_filters_come_from_the_address(open_page: OpenPage, asked: dict[str, str], entries: str) -> None:
    assert figures(open_page(book_of_tests(), "trend", **asked))["Entries (n)"] == entries


def test_the_second_cut_comes_from_the_address(open_page: OpenPage) -> None:
    """By hand: 135 0/8 or more are the 4, 5, 5, 6 and 6 of the last five seasons."""
    app = open_page(book_of_tests(), "trend", second="5 inches above it")
    assert figures(app)["Of them 135 0/8 or more"] == "26"


def test_a_shorter_window_is_offered_with_its_lower_cut(open_page: OpenPage) -> None:
    (link,) = open_page(book_of_tests(), "trend", effort="None: only counts").get("page_link")
    assert link.proto.label == "Look at 2014-15 to 2018-19 from 125 0/8 on"
    assert sorted(link.proto.query_string.split("&")) == ["effort=None%3A+only+counts", "from=2014-15", "to=2018-19"]


def test_counts_have_no_funnel(open_page: OpenPage) -> None:
    app = open_page(book_of_tests(), "trend", effort="None: only counts")
    assert "Which areas differ by more than chance" not in [heading.value for heading in app.subheader]
    assert "Counts of unequal areas are not drawn to one mean." in " ".join(said(app))


def test_few_seasons_are_refused_in_words_and_still_drawn(open_page: OpenPage) -> None:
    app = open_page(book_of_tests(), "trend", **{"from": "2019-20"})
    assert (
        "No trend among entries is told: fewer than 8 seasons that a trend may rest on (26 entries of 5 seasons)."
        in " ".join(said(app))
    )
    assert len(app.get("vega_lite_chart")) == 5


def test_nothing_to_count_is_said(open_page: OpenPage, book: Path) -> None:
    app = open_page(book, "trend", book="Bowstave Register", weapon="Firearm")
    assert "Nothing is counted under these filters. Take one away, or look at another record book or category." in said(
        app
    )
    assert figures(app)["Common minimum, inches"] == "none"


def test_a_value_that_the_book_does_not_have_is_said(open_page: OpenPage) -> None:
    told = said(open_page(book_of_tests(), "trend", place="Nix"))
    assert "The address asks for place “Nix”, which this book does not have; it was left out." in told


@pytest.mark.parametrize("day", ["soon", "2999-01-01", "2026-02-30"])
def test_a_day_that_cannot_be_had_is_said(open_page: OpenPage, day: str) -> None:
    told = said(open_page(book_of_tests(), "trend", **{"as-of": day}))
    assert f"The address asks for as-of “{day}”, which is no day like 2026-03-14 up to today; it was left out." in told


def test_a_day_before_the_book_is_refused_in_words(open_page: OpenPage) -> None:
    told = said(open_page(book_of_tests(), "trend", **{"as-of": "2013-01-01"}))
    assert (
        "trends.duckdb: cannot tell what was known on 2013-01-01, for it has no event yet; expected a later day" in told
    )


def test_an_empty_book_says_which_command_fills_it(open_page: OpenPage, bare_book: Path) -> None:
    assert open_page(bare_book, "trend").code[0].value == "beamledger load SHEETS.csv --book bare.duckdb"
