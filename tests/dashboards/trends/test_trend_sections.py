"""The sentences beside a trend: minimum, effort, median, seasons, places. Figures by hand: tests/dashboards/trends/trend_book.py."""

import math
from dataclasses import replace
from typing import Any

import polars as pl
import pytest

from dashboards.trends import trend_effort_words as effort
from dashboards.trends import trend_median_words as median
from dashboards.trends import trend_minimum_words as minimum
from dashboards.trends import trend_place_words as places
from dashboards.trends import trend_season_words as seasons
from tests.dashboards.trends.trend_book import settings, trend_of, with_season
from warehouse.book.trend_figures.trend import Trend
from warehouse.trends.rate_models import Sensitivity
from warehouse.trends.regional_kendall import RegionalTrend
from warehouse.trends.spread_trend import SpreadTrend

COUNTED = "entries are only counted, and more hunters, or more deer taken, would look like more large heads."


def test_the_minimum_is_told_with_every_change_and_shorter_windows() -> None:
    assert minimum.sentences(trend_of(), settings()) == [
        "Common minimum: net 130 0/8, the highest in force in these seasons. 40 entries at or above it are kept, 1 below it set "
        "aside.",
        "The minimum changed in 2019-20 from 125 0/8 to 130 0/8. The cut takes that out of the counts; it does not take out what "
        "people sent in otherwise since.",
        "A lower cut goes with a shorter window: 2014-15 to 2018-19 from 125 0/8 on (5 seasons, too few for a trend). Two windows, "
        "never one line.",
        "1 entry of the record book at or above the cut, of an area that is not known or not covered, is in no figure.",
    ]


def test_a_cut_that_was_asked_for_is_held_against_the_minimum() -> None:
    """By hand: 137 0/8 or more are the 5 of 2021-22, the 6 of 2022-23 and the 6 of 2023-24."""
    told = minimum.sentences(trend_of(cut=1096), settings(cut=1096))
    assert told[0] == (
        "Cut: net 137 0/8, as asked for, above the highest minimum in force, 130 0/8. 17 entries at or above it are kept, 24 "
        "below it set aside."
    )
    assert not [sentence for sentence in told if "window" in sentence]


def test_one_minimum_is_said_to_be_one() -> None:
    asked = {"first_season": "2019-20"}
    assert minimum.sentences(trend_of(**asked), settings(**asked))[1] == "The minimum was the same in all of them."


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        ("harvest", "Effort: antlered deer harvested, known for every area and season."),
        ("area", "Effort: square miles, known for every area and season."),
        ("none", f"No effort, as asked for; {COUNTED}"),
        ("licences", f"Licences sold are not known here; {COUNTED}"),
    ],
)
def test_what_rates_are_per(asked: str, first: str) -> None:
    told = effort.sentences(trend_of(effort=asked), settings(effort=asked))
    assert told[0] == first
    assert (effort.DENSITY in told) == (asked == "area")


def test_unknown_effort_is_told_as_such() -> None:
    unknown = trend_of(effort="none")
    assert effort.sentences(unknown, settings())[0] == (
        f"No measure of effort is known for half of the areas and seasons; {COUNTED}"
    )


def test_ground_that_comes_or_goes_is_left_out_and_said() -> None:
    seasons = trend_of().seasons.with_columns(areas=pl.lit(1, pl.UInt32), entries=pl.col("all_entries") - 1)
    half = replace(trend_of(), seasons=seasons, effort=replace(trend_of().effort, known=0.95))
    assert effort.sentences(half, settings())[:3] == [
        "Effort: antlered deer harvested, known for 95 % of the areas and seasons.",
        "Heads that were found dead are among the entries, and were never harvested.",
        "The rate is of 1 of 2 areas: those that were covered by the book, and their effort known, in each of its seasons; 10 entries of the "
        "others are in no rate of this place: ground that comes or goes would look like a trend.",
    ]


def test_of_some_weapons_it_is_said_that_effort_is_of_all() -> None:
    words = "The antlered deer harvested are those of every weapon: hunters who go over to another weapon would look like a trend."
    assert words in effort.sentences(trend_of(weapons=("firearm",)), settings(weapons=("firearm",)))
    assert words not in effort.sentences(trend_of(), settings())
    assert not any("found dead" in said for said in effort.sentences(trend_of(weapons=("firearm",)), settings()))


def test_the_newest_seasons_are_held_against_the_first() -> None:
    """By hand: 2, 2, 3, 3, 4 and 4, 5, 5, 6, 6 entries on the same harvest: 26/14."""
    told = [sentence for sentence in effort.sentences(trend_of(), settings()) if sentence.startswith("The newest 5")]
    assert told[0].startswith("The newest 5 seasons of it against the first 5: 1.86 times the rate (0.9")


def test_other_rules_that_changed_are_told() -> None:
    changes = pl.DataFrame({"season": ["2018-19"], "what": [["districts", "areas", "drying_days"]]})
    changed = replace(trend_of(), counted=replace(trend_of().counted, rule_changes=changes))
    told = minimum.sentences(changed, settings())
    assert (
        "Other rules of the book changed in 2018-19 (the area covered, days of drying). No cut takes that out: entries before and after were "
        "let in by different rules, so look at the seasons around it." in told
    )
    assert not any("Other rules" in sentence for sentence in minimum.sentences(trend_of(), settings()))


@pytest.mark.parametrize(
    ("exponent", "words"),
    [
        ((0.9, 0.4, 1.4), "entries went with it to the power of 0.90 (95 % interval 0.40 to 1.40); a rate takes 1 for granted, which "
         "the interval holds."),
        ((0.9, -0.4, 2.2), "entries went with it to the power of 0.90 (95 % interval -0.40 to 2.20); a rate takes 1 for granted, which "
         "the interval holds, but 0 as well, so that this tells little."),
        ((0.1, -0.4, 0.6), "entries went with it to the power of 0.10 (95 % interval -0.40 to 0.60), where a rate takes 1 for granted: "
         "antlered deer harvested are a poor measure here; compare with another effort."),
        (None, "antlered deer harvested differ too little from season to season to tell whether entries go with them."),
        ((math.nan,) * 3, "antlered deer harvested differ too little from season to season to tell whether entries go with them."),
    ],
)  # fmt: skip
def test_the_effort_is_checked(exponent: tuple[float, float, float] | None, words: str) -> None:
    assert f"Check of the effort: {words}" in effort.sentences(replace(trend_of(), exponent=exponent), settings())


@pytest.mark.parametrize(
    ("phi", "words"),
    [
        (0.9, "Scatter (phi 0.90): from season to season the counts differ no more than chance makes them."),
        (
            2.5,
            "Scatter (phi 2.50): the counts vary 2.5 times as much as chance alone makes them, and the interval allows for it.",
        ),
    ],
)
def test_scatter_is_told(phi: float, words: str) -> None:
    assert effort.dispersion(replace(trend_of(), rate=trend_of().rate | {"phi": phi})) == words


@pytest.mark.parametrize(
    ("other", "words"),
    [
        (Sensitivity(3.0, -1.0, 7.0, 0.01), "3.0 % more a year (95 % interval 1.0 % fewer to 7.0 % more); both say the same."),
        (Sensitivity(3.0, 1.0, 7.0, 0.01), "3.0 % more a year (95 % interval 1.0 to 7.0 % more); the two do not say the same: do not rest "
         "much on either."),
        (None, "the counts scatter too little for one to be fitted."),
    ],
)  # fmt: skip
def test_the_trend_is_held_against_another_model(other: Sensitivity | None, words: str) -> None:
    """The book's own interval holds no change (0.8 % fewer to 29.2 % more)."""
    assert (
        effort.sensitivity(replace(trend_of(), sensitivity=other)) == f"Held against a negative-binomial model: {words}"
    )


def test_the_median_is_told_with_what_the_test_cannot_tell() -> None:
    """Closed form: the medians rise by an inch each season."""
    assert median.sentences(trend_of())[:3] == [
        "The median entry: +1.00 inches a year (Theil and Sen; 95 % interval +1.00 to +1.00); Mann and Kendall’s test: p below 0.001, "
        "counted out, 10 seasons.",
        "The median of entries moves far less than the deer do, for only the top of them is in the book; a clear change says "
        "something, no change hardly anything.",
        "A minimum or another rule changed in these seasons: this test cannot tell a step from a trend, so look at the seasons around the change.",
    ]


def test_few_seasons_have_no_rank_trend() -> None:
    assert median.sentences(trend_of(first_season="2017-18")) == [
        "The median entry has no trend: 7 seasons with an entry, and fewer than 8 tell nothing by their ranks."
    ]


def regional(**changes: Any) -> Trend:
    found = trend_of().regional
    assert isinstance(found, RegionalTrend)
    return replace(trend_of(), regional=replace(found, **changes))


@pytest.mark.parametrize(
    ("correlated", "words"),
    [(0.06, "p = 0.060, corrected for shared weather (p = 0.021 without)"), (None, "p = 0.021, not corrected for shared weather, so rather too small")],
)  # fmt: skip
def test_the_p_that_counts_is_the_corrected_one(correlated: float | None, words: str) -> None:
    assert median.which_chance(regional(p=0.021, p_correlated=correlated)) == words


@pytest.mark.parametrize(
    ("p", "words"),
    [
        (0.6, "No sign that the areas go different ways (test of unlike trends: p = 0.60)."),
        (
            0.01,
            "The areas go different ways (test of unlike trends: p = 0.010): no single trend of the median is to be told.",
        ),
    ],
)
def test_unlike_areas_have_no_single_trend_of_the_median(p: float, words: str) -> None:
    assert median.sentences(regional(heterogeneity_p=p))[-1] == words


@pytest.mark.parametrize(
    ("clock", "words"),
    [
        ("accepted", "How complete a season is, is told by the days on which entries of earlier seasons were first accepted."),
        ("measured", "How complete a season is, is told by the days of official measuring, for the book has not yet watched 3 seasons "
         "from their end on; measuring comes before acceptance, so completeness is told rather too high."),
    ],
)  # fmt: skip
def test_the_clock_is_told_with_its_reason(clock: Any, words: str) -> None:
    assert seasons.clock(replace(trend_of(), filling=replace(trend_of().filling, clock=clock))) == words


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"state": "running"}, ["In no trend: 2023-24, not ended yet on that day."]),
        ({"state": "unknown"}, ["In no trend: 2023-24, of which too little was seen to tell how complete it is."]),
        ({"state": "missing"}, ["In no trend: 2023-24, of which the book holds nothing at all (missing, not zero)."]),
        ({"state": "incomplete", "completeness": 0.6, "nowcast": 10.0, "nowcast_lower": 8.0, "nowcast_upper": 13.0},
         ["Under 95 % complete, drawn hollow and in no trend: 2023-24 (60 %).", "2023-24: 6 entries so far; it will come to about 10 (8 to 13)."]),
        ({"state": "incomplete", "completeness": 0.2},
         ["Under 95 % complete, drawn hollow and in no trend: 2023-24 (20 %).",
          "2023-24: 6 entries so far, under 25 % of what is to come: too little to say how many it will come to."]),
    ],
)  # fmt: skip
def test_a_season_in_no_trend_is_named_with_the_reason(changes: dict[str, Any], words: list[str]) -> None:
    left_out = replace(trend_of(), seasons=with_season(trend_of(), "2023-24", used=False, whole=False, **changes))
    assert seasons.sentences(left_out)[1:] == [
        "The trends rest on 9 seasons of 10, each at least 95 % complete.",
        *words,
    ]


def test_a_season_without_effort_is_in_no_rate_but_in_the_other_trends() -> None:
    without = replace(trend_of(), seasons=with_season(trend_of(), "2023-24", used=False, state="no-rate"))
    assert seasons.sentences(without)[1:] == [
        "The trends rest on 9 seasons (those of the share and the median on 10) of 10, each at least 95 % complete.",
        "In no rate: 2023-24, of which the areas that the rate is of were not covered, or their effort is not known.",
    ]


def test_two_seasons_are_they() -> None:
    first = replace(trend_of(), seasons=with_season(trend_of(), "2022-23", used=False, whole=False, state="unknown"))
    both = replace(first, seasons=with_season(first, "2023-24", used=False, whole=False, state="unknown"))
    assert seasons.sentences(both)[-1] == (
        "In no trend: 2022-23 and 2023-24, of which too little was seen to tell how complete they are."
    )


def together(**changes: Any) -> str:
    found = trend_of().combined
    assert found is not None
    return places.sentences(replace(trend_of(), combined=replace(found, **changes)))[0]


def test_like_areas_have_one_trend() -> None:
    """Closed form: a slope of ln 1.02 is 2 % a year."""
    slopes = {"slope": math.log(1.02), "lower": math.log(1.01), "upper": math.log(1.03)}
    assert together(i2=12.3, q_p=0.33, members=24, left_out=2, **slopes) == (
        "The trends of 24 areas as one: 2.0 % more entries a year (95 % interval 1.0 to 3.0 % more; I-squared 12 %, test of unlike "
        "trends: p = 0.33, 2 areas without a trend left out)."
    )


def test_unlike_areas_have_none() -> None:
    assert together(i2=63.0, q_p=0.004, members=24) == (
        "The 24 areas go different ways (I-squared 63 %, test of unlike trends: p = 0.004): no single trend of them is told; each "
        "has its own in the table."
    )


def test_areas_without_trends_are_not_put_together() -> None:
    assert places.sentences(replace(trend_of(), combined=None))[0] == (
        "The areas’ trends are not put together: of fewer than two one can be held against the others."
    )


@pytest.mark.parametrize(
    ("adjusted", "words"),
    [
        ([0.03, 0.2], "Of 2 areas, 1 stands out after allowing for their number: Abberlow."),
        ([0.03, 0.05], "Of 2 areas, 2 stand out after allowing for their number: Abberlow and Brackwater."),
        ([0.06, 0.2], "Of 2 areas, none stand out after allowing for their number."),
    ],
)
def test_how_many_stand_out_is_counted_after_their_number_was_allowed_for(adjusted: list[float], words: str) -> None:
    areas = trend_of().areas.with_columns(pl.Series("p_adjusted", adjusted))
    assert words in places.sentences(replace(trend_of(), areas=areas))


def test_flagged_areas_are_named_without_a_rank() -> None:
    flagged = trend_of().areas.with_columns(pl.Series("flag", ["above", "below"]))
    assert places.sentences(replace(trend_of(), areas=flagged))[-1] == (
        "Outside the 99.8 % limits of the funnel: above Abberlow; below Brackwater. That asks for a look; it is no rank. The limits are "
        "widened, for areas differ more than chance makes them (phi 3.2)."
    )


def test_counts_are_not_held_against_each_other() -> None:
    assert places.sentences(trend_of(effort="none"))[-1] == (
        "Levels are entries a season, 2019-20 to 2023-24. Without an effort areas are not told apart: a large one holds more heads than a "
        "small one, so there is no smoothing and no funnel."
    )


def test_one_area_has_nothing_beside_it() -> None:
    assert places.sentences(trend_of(area="07003")) == []


def test_serial_correlation_is_told_where_it_can_be() -> None:
    words = "With the likeness of seasons that follow each other allowed for (Hamed and Rao): p = 0.035."
    assert words in median.sentences(replace(trend_of(), serial=0.0351))
    assert not any("Hamed" in sentence for sentence in median.sentences(trend_of()))


def test_the_mean_of_all_bucks_is_told_for_spreads_about_the_one_that_is_given() -> None:
    spreads = tuple(
        SpreadTrend(sd, slope, slope - 0.1, slope + 0.1) for sd, slope in ((13.5, -0.3), (15.0, -0.45), (16.5, -0.6))
    )
    told = median.sentences(replace(trend_of(), spreads=spreads))[-1]
    assert told == (
        "If the scores of all bucks are normal with a spread that you know, their mean moves by so many inches a year, for a spread of 13.5 inches: "
        "-0.30 (95 % interval -0.40 to -0.20); 15 inches: -0.45 (95 % interval -0.55 to -0.35); 16.5 inches: -0.60 (95 % interval -0.70 to -0.50). "
        "This uses every entry over its own minimum, and rests on the spread, on the normal shape far out, and on a sending-in alike for every "
        "size: a second opinion, no result of its own."
    )


def test_a_spread_that_is_asked_for_is_read_from_the_book() -> None:
    less, asked, more = trend_of(spread=15.0).spreads
    assert (less.sd, asked.sd, more.sd) == (13.5, 15.0, 16.5)
    assert asked.slope > 0
    assert trend_of().spreads == ()


def test_both_ways_of_smoothing_are_held_against_each_other() -> None:
    """By hand: levels of 2.0 and 8.4 about 5.2; Marshall's weight 8.16/(8.16 + 2.08) draws them to 2.65 and 7.75."""
    trend = trend_of()
    marshall = {"Abberlow": 5.2 - 3.2 * 8.16 / 10.24, "Brackwater": 5.2 + 3.2 * 8.16 / 10.24}
    assert {area: 1000 * level for area, level in trend.areas.select("area", "smoothed").rows()} == pytest.approx(
        marshall
    )
    apart = max(
        abs(1000 * level - marshall[area]) for area, level in trend.areas.select("area", "smoothed_gamma").rows()
    )
    levels = [line for line in places.sentences(trend) if line.startswith("Levels are of")]
    assert levels[0].endswith(
        f"Smoothed in a second way (gamma and Poisson), no level is further off than {apart:.3f}."
    )
