"""Many places on one page."""

import numpy as np
import polars as pl
import pytest

from warehouse.trends.many_series import Combined
from warehouse.trends.places import LEVEL_SEASONS, levels, place_trends, together

YEARS = np.arange(2006, 2026)


def series(**counts: list[int]) -> pl.DataFrame:
    """One place a keyword: its entries by season; a fifth of them are above the second cut."""
    frames = [
        pl.DataFrame({"series": name, "year": YEARS[: len(entries)], "entries": entries, "all_entries": entries,
                      "above_second": [count // 5 for count in entries], "effort": [1000.0] * len(entries)})
        for name, entries in counts.items()
    ]  # fmt: skip
    return pl.concat(frames)


def both(counts: pl.DataFrame) -> tuple[Combined | None, pl.DataFrame]:
    return together(counts, place_trends(counts))


RISING = [round(20 * 1.05**t) for t in range(20)]
LEVEL = [30, 31] * 10


def test_every_place_has_its_trend_and_those_that_are_refused_say_why() -> None:
    told = place_trends(series(up=RISING, level=LEVEL, short=[9] * 7, none=[0] * 20))
    assert told["series"].to_list() == ["up", "level", "short", "none"]
    assert told["refused"].to_list() == [None, None, "few-seasons", "no-entries"]
    assert told["percent"][0] == pytest.approx(5, abs=0.2)
    assert told["verdict"].to_list() == ["rate-up-alone", "neither", "unknown", "unknown"]


def test_p_is_adjusted_for_the_places_that_have_one() -> None:
    told = place_trends(series(up=RISING, level=LEVEL, short=[9] * 7))
    up, level, short = told["p_adjusted"].to_list()
    assert up == pytest.approx(2 * told["p"][0])  # Benjamini & Hochberg 1995: the smaller of two p, times two
    assert level == pytest.approx(told["p"][1])
    assert short is None


def test_places_are_drawn_towards_what_they_come_to_together() -> None:
    combined, drawn = both(series(up=RISING, level=LEVEL, short=[9] * 7))
    assert combined is not None
    assert (combined.members, combined.left_out) == (2, 1)
    up, level, short = drawn["shrunk_percent"].to_list()
    assert drawn["percent"][1] < level < up <= drawn["percent"][0]
    assert short is None


def test_one_place_alone_comes_to_nothing_together() -> None:
    combined, drawn = both(series(up=RISING))
    assert combined is None
    assert drawn["shrunk_percent"].to_list() == [None]


def test_the_level_is_of_the_newest_seasons() -> None:
    told = levels(series(up=RISING, level=LEVEL), "harvest")
    assert told["level_entries"].to_list() == [sum(RISING[-LEVEL_SEASONS:]), sum(LEVEL[-LEVEL_SEASONS:])]
    assert told["level_effort"].to_list() == [5000.0, 5000.0]
    assert told["smoothed"].is_between(told["level"].min(), told["level"].max()).all()


def test_counts_of_unequal_ground_are_not_held_against_each_other() -> None:
    counts = series(up=RISING, level=LEVEL).with_columns(effort=pl.lit(1.0))
    told = levels(counts, None)
    assert told["level"].to_list() == [
        sum(RISING[-LEVEL_SEASONS:]) / LEVEL_SEASONS,
        sum(LEVEL[-LEVEL_SEASONS:]) / LEVEL_SEASONS,
    ]
    assert told.select("smoothed", "expected", "upper_998", "funnel_phi").null_count().row(0) == (2, 2, 2, 2)
    assert told["flag"].to_list() == ["", ""]


def test_a_second_way_of_smoothing_stands_beside_the_first() -> None:
    """Both draw the levels towards each other; the gamma's is (count + nu)/(expected + alpha) times the pooled level."""
    told = levels(series(up=RISING, level=LEVEL, third=[14] * 20), "harvest")
    assert told["smoothed_gamma"].is_between(told["level"].min(), told["level"].max()).all()
    assert (told["smoothed_gamma"] - told["smoothed"]).abs().max() < 0.2 * told["level"].max()  # type: ignore[operator]


def test_where_no_place_has_an_entry_nothing_is_smoothed_otherwise() -> None:
    assert levels(series(none=[0] * 20), "harvest")["smoothed_gamma"].to_list() == [None]


def test_of_many_places_without_a_trend_hardly_one_is_said_to_have_any() -> None:
    draw = np.random.default_rng(6)
    told = place_trends(series(**{f"place {n}": draw.poisson(12, 20).tolist() for n in range(100)}))
    assert (told["p"] < 0.05).sum() >= 2
    assert (told["verdict"] != "neither").sum() <= 1
