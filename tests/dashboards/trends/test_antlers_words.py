"""Sentences on antlers above the cut, from figures set by hand."""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import polars as pl
import pytest

from dashboards.trends import antlers_words, quantile_words, tail_words
from dashboards.trends.antlers_frames import frames_of
from dashboards.trends.antlers_report import json_lines, lines
from dashboards.trends.measures import amount_text
from tests.measured_region import BOOK
from warehouse.book.trend_figures.antlers import Antlers, read_antlers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.trends.effort import ChosenEffort
from warehouse.trends.pareto_tail import ParetoTail, ReturnLevel
from warehouse.trends.quantile_trend import QuantileTrend

DAY = date(2026, 11, 26)
TAIL = ParetoTail(500, 8.0, -0.1, -1500.0, None)

SETTINGS = TrendSettings(BOOK, "whitetail-typical", DAY)


@pytest.fixture(scope="module")
def antlers(measured: Path) -> Antlers:
    return read_antlers(measured, SETTINGS)


def with_tail(antlers: Antlers, *, kind: str | None = "harvest", tail: ParetoTail | None = TAIL, above: float | None = 0.002,
              level: ReturnLevel | None = None) -> Antlers:  # fmt: skip
    effort = ChosenEffort(kind, 1.0)  # type: ignore[arg-type]
    return replace(antlers, effort=effort, tail=replace(antlers.tail, tail=tail, above=above, one_in_thousand=level))


def of_two_classes(antlers: Antlers) -> Antlers:
    bows = antlers.by_weapon.with_columns(weapon_class=pl.lit("bow"))
    return replace(antlers, by_weapon=pl.concat([antlers.by_weapon, bows]))


@pytest.mark.parametrize(
    ("kind", "level", "sentence"),
    [
        ("harvest", ReturnLevel(143.3, 142.6, 144.01), "One head in 1,000 harvested bucks is above 143 2/8 (95 % interval 142 5/8 to 144 0/8)."),
        ("licences", ReturnLevel(143.3, 142.6, 144.01), "One head for 1,000 licences sold is above 143 2/8 (95 % interval 142 5/8 to 144 0/8)."),
        ("harvest", ReturnLevel(150.0, None, None), "One head in 1,000 harvested bucks is above 150 0/8 (without an interval, for so short a tail gives none)."),
    ],
)  # fmt: skip
def test_the_level_of_one_in_a_thousand(antlers: Antlers, kind: str, level: ReturnLevel, sentence: str) -> None:
    assert tail_words.sentences(with_tail(antlers, kind=kind, level=level))[:2] == [sentence, tail_words.SENT_IN]


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"kind": "area", "above": None}, "square miles are no heads; it takes the antlered deer harvested, or the licences sold."),
        ({"kind": None, "above": None}, "neither the antlered deer harvested nor the licences sold are known enough."),
        ({"tail": None}, "a tail is fitted to no fewer than 30 entries of complete seasons, not all alike."),
        ({"above": None}, "no complete season has both entries and a known effort."),
        ({"above": 1.5}, "the book holds as many entries as harvested bucks, or more; one of the two is wrong."),
        ({"above": 0.0004}, "only one in 2,500 is at or above the cut, so that it lies below, where the book holds nothing."),
    ],
)  # fmt: skip
def test_why_there_is_no_level(antlers: Antlers, changes: dict[str, object], why: str) -> None:
    told = tail_words.sentences(with_tail(antlers, **changes))  # type: ignore[arg-type]
    assert told[0] == f"How large one head in 1,000 is cannot be said: {why}"


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (QuantileTrend(0.9, 0.0, 0.286, 0.034, 0.473), "Upper tenth: +0.29 inches a year (95 % interval +0.03 to +0.47)."),
        (QuantileTrend(0.5, 0.0, 0.08, -0.01, 0.18), "Median: no clear change; +0.08 inches a year (95 % interval -0.01 to +0.18)."),
        (QuantileTrend(0.5, 0.0, 0.08, 1e-12, 0.18), "Median: no clear change; +0.08 inches a year (95 % interval 0.00 to +0.18)."),
        (QuantileTrend(0.75, None, None, None, None, "few-seasons"), "Upper quarter: no line, for fewer than 8 complete seasons have entries."),
        (QuantileTrend(0.9, None, None, None, None, "few-beyond"), "Upper tenth: no line, for fewer than 5 entries are to be expected beyond it."),
    ],
)  # fmt: skip
def test_lines_of_quantiles_and_their_refusals(line: QuantileTrend, sentence: str) -> None:
    assert quantile_words.line_sentence(line) == sentence


def test_quantiles_of_entries_are_said_to_be_those_of_a_tail(antlers: Antlers) -> None:
    assert quantile_words.SMALL_PART in quantile_words.sentences(antlers)
    assert quantile_words.SMALL_PART.startswith(
        "Quantiles of entries are quantiles of the tail above the cut, and show only a small part"
    )


@pytest.mark.parametrize(
    ("above", "of_bucks", "part"), [(0.5, "50 %", "36 %"), (0.005, "0.5 %", "9 %"), (0.002, "0.2 %", "7 %")]
)
def test_how_small_a_part_the_mean_of_entries_shows(antlers: Antlers, above: float, of_bucks: str, part: str) -> None:
    """Closed form, 1 + a*h - h^2: 1 - 2/pi above the median; a 2.576 and the hazard h 2.892; a 2.878 and h 3.170."""
    assert quantile_words.how_small(with_tail(of_two_classes(antlers), above=above)) == [
        f"{of_bucks} of the harvested bucks are here, at or above the cut: if scores are normally distributed, of a change of "
        f"the herd’s mean the mean of such entries shows about {part} of it."
    ]


@pytest.mark.parametrize(
    "changes", [{"kind": "licences"}, {"kind": None, "above": None}, {"above": None}, {"above": 1.5}]
)
def test_without_the_share_of_the_harvest_no_part_is_told(antlers: Antlers, changes: dict[str, object]) -> None:
    assert quantile_words.how_small(with_tail(of_two_classes(antlers), **changes)) == []  # type: ignore[arg-type]


def test_of_one_class_of_weapons_alone_no_part_is_told_for_the_harvest_is_of_all(antlers: Antlers) -> None:
    assert tail_words.only_class(antlers) == "firearm"
    assert quantile_words.how_small(with_tail(antlers)) == []


def test_age_is_named_as_a_rival_with_how_many_have_it(antlers: Antlers) -> None:
    told = antlers_words.sections(antlers, frames_of(antlers))["Antlers"]
    aged = antlers.by_age.filter(measure="score")["entries"].sum()
    assert (
        told[0]
        == f"{antlers.kept} entries of {antlers.place} at or above net 135 0/8 (the highest minimum in force in these seasons)."
    )
    assert (
        told[-1]
        == f"{antlers_words.RIVAL} The age is recorded for {aged} of {antlers.kept} entries ({100 * aged / antlers.kept:.0f} %)."
    )
    assert antlers_words.NEVER_OF_THE_HERD.format(cut="135 0/8") in told


def test_without_ages_the_rival_cannot_be_told_apart(antlers: Antlers) -> None:
    unaged = replace(
        antlers, by_season=antlers.by_season.filter(pl.col("measure") != "age"), by_age=antlers.by_age.clear()
    )
    assert antlers_words.age_recorded(unaged) == [
        f"{antlers_words.RIVAL} The age is recorded for none of the entries, so nothing here can tell the two apart."
    ]
    assert antlers_words.sections(unaged, frames_of(unaged))["By age"] == []


def test_a_reading_names_the_least_and_the_greatest_median() -> None:
    weapons = pl.DataFrame({
        "weapon_class": ["bow", "firearm", None], "measure": ["h1"] * 3, "entries": [1200, 30, 2],
        "middle": [4.625, 4.5, 4.5625],
        "middle_text": ["4 5/8", "4 4/8", "4 9/16"],
    })  # fmt: skip
    assert antlers_words.reading("weapon", weapons, "h1") == (
        "H1, 1,232 entries: medians from 4 4/8 (Firearm, n 30) to 4 5/8 (Bow, n 1,200)."
    )
    assert antlers_words.reading("weapon", weapons, "points") == "Points: recorded for no entry."


@pytest.mark.parametrize(
    ("measure", "amount", "text"),
    [
        ("h1", 4.5625, "4 9/16"),
        ("score", 143.0, "143 0/8"),
        ("points", 10.0, "10"),
        ("points", 11.75, "11.8"),
        ("age", 4.5, "4.5"),
        ("age", None, None),
    ],
)
def test_amounts_are_written_as_their_measure_is(measure: str, amount: float | None, text: str | None) -> None:
    frame = pl.DataFrame(
        {"measure": [measure], "amount": [amount]}, schema={"measure": pl.String, "amount": pl.Float64}
    )
    assert frame.select(amount_text(pl.col("amount"), 8)).item() == text


def test_medians_of_the_report_are_those_of_the_entries(antlers: Antlers) -> None:
    newest = next(line for line in lines(antlers) if line.startswith("    2024-25"))
    scores = antlers.scores.filter(season="2024-25")
    entries = scores["score_units"].repeat_by(scores["entries"]).explode()
    assert entries.len() % 2 == 1  # so that the median is an entry's own score
    middle = sorted(entries.to_list())[entries.len() // 2]
    assert f"{middle // 8} {middle % 8}/8 ({entries.len()})" in newest


def test_json_lines_have_kinds(antlers: Antlers) -> None:
    first = json.loads(next(iter(json_lines(antlers, SETTINGS))))
    assert (first["book"], first["category"], first["day"]) == (BOOK, "whitetail-typical", str(DAY))
    kinds = [line.split('"')[3] for line in json_lines(antlers, SETTINGS)]
    assert list(dict.fromkeys(kinds)) == [
        "antlers",
        "median",
        "weapon-median",
        "age-median",
        "season-quantile",
        "quantile-line",
        "tail",
    ]


def test_a_window_without_entries_is_a_sentence(measured: Path) -> None:
    none = read_antlers(measured, TrendSettings(BOOK, "whitetail-nontypical", DAY))
    assert list(lines(none)) == [
        "\nAntlers",
        "  The record book has no minimum for such heads in these seasons, so there is nothing to count from.",
    ]  # fmt: skip
    assert len(list(json_lines(none, SETTINGS))) > 1
