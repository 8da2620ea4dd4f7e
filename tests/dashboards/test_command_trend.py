"""`trend` on the book of tests/dashboards/trends/trend_book.py: rates are counts there, medians go up by an inch each season.

Limits of 2, 3, 4, 5 and 6 counted: Garwood 1936, Biometrika 28:437-442 (0.242 to 7.22, 0.619 to 8.77, 1.09 to 10.2, 1.62 to
11.7, 2.20 to 13.1; 4 and 6 from memory).
"""

import json
import math
from dataclasses import replace
from pathlib import Path

import pytest

from dashboards.trends.trend_lines import json_lines
from tests.book_builder import new_book
from tests.dashboards.run_command import Ran, run
from tests.dashboards.trends.trend_book import book_of_tests, settings, trend_of

NOTICE = "A book's own rules and local law outrank this program."


def trend(*options: str) -> Ran:
    return run("trend", "--book", book_of_tests(), "--in", "state book", *options)


def after(ran: Ran, beginning: str, count: int) -> list[str]:
    lines = ran.out.splitlines()
    start = next(place for place, line in enumerate(lines) if line.startswith(beginning))
    return lines[start : start + count]


def test_the_report_begins_with_what_it_is_of_and_ends_with_the_notice() -> None:
    ran = trend()
    lines = ran.out.splitlines()
    assert (ran.code, ran.err, lines[-1]) == (0, "", NOTICE)
    assert lines[:4] == [
        "State Book, White-tailed deer, typical, the 2 areas it covers, 2014-15 to 2023-24",
        "",
        "Trend",
        "  Trend among entries per 1,000 antlered deer harvested: no clear change; 13.2 % more a year (95 %",
    ]
    assert max(map(len, lines)) <= 100


def test_seasons_are_told_with_their_minimum_and_its_changes() -> None:
    assert after(trend(), "Entries at or above", 13) == [
        "Entries at or above 130 0/8 per 1,000 antlered deer harvested, season by season",
        "    season   entries rate (95 % interval)     >= 145 0/8  share     median  minimum",
        "    2014-15        2 2.00 (0.24 to 7.22)               0    0 %    130 0/8  125 0/8",
        "    2015-16        2 2.00 (0.24 to 7.22)               0    0 %    131 0/8  125 0/8",
        "    2016-17        3 3.00 (0.62 to 8.77)               0    0 %    132 0/8  125 0/8",
        "    2017-18        3 3.00 (0.62 to 8.77)               0    0 %    133 0/8  125 0/8",
        "    2018-19        4 4.00 (1.09 to 10.2)               0    0 %    134 0/8  125 0/8",
        "    2019-20        4 4.00 (1.09 to 10.2)               0    0 %    135 0/8  130 0/8*",
        "    2020-21        5 5.00 (1.62 to 11.7)               0    0 %    136 0/8  130 0/8",
        "    2021-22        5 5.00 (1.62 to 11.7)               0    0 %    137 0/8  130 0/8",
        "    2022-23        6 6.00 (2.20 to 13.1)               0    0 %    138 0/8  130 0/8",
        "    2023-24        6 6.00 (2.20 to 13.1)               0    0 %    139 0/8  130 0/8",
        "  o  a season in no trend, its state behind it;  *  the minimum or another rule changed",
    ]


def test_areas_stand_under_their_districts_by_name() -> None:
    """Levels of the newest five seasons, by hand: 5 entries and 21, of 2,500 harvested."""
    rows = after(trend(), "By area", 6)
    assert rows[0] == "By area, in order of district and name (never of rate)"
    assert [row.split()[0] for row in rows[2:]] == ["North", "Abberlow", "South", "Brackwater"]
    assert [" 2.00 (0.65 to 4.67) " in rows[3], " 8.40 (5.20 to 12.8) " in rows[5]] == [True, True]


def test_one_area_has_no_list_of_areas() -> None:
    assert "By area" not in trend("--area", "Brackwater").out


def test_the_summary_comes_first_and_a_line_for_each_season_district_and_area_follows() -> None:
    summary, *lines = trend("--json").lines()
    assert [line["kind"] for line in lines] == ["season"] * 10 + ["district"] * 2 + ["area"] * 2
    assert {key: summary[key] for key in ("kind", "book", "place", "cut", "cut_units", "unit", "second_cut", "kept", "dropped", "unplaced")} == {
        "kind": "summary", "book": "State Book", "place": "all areas that the book covers", "cut": "130 0/8", "cut_units": 1040, "unit": 8,
        "second_cut": "145 0/8", "kept": 40, "dropped": 1, "unplaced": 1,
    }  # fmt: skip
    assert summary["minimum_changes"] == [
        {"season": "2019-20", "before": "125 0/8", "before_units": 1000, "after": "130 0/8", "after_units": 1040}
    ]
    assert summary["shorter_windows"] == [
        {"first_season": "2014-15", "last_season": "2018-19", "cut": "125 0/8", "cut_units": 1000}
    ]
    assert (summary["median_trend"]["slope"], summary["median_trend"]["s"]) == (1.0, 45)
    assert summary["sentences"]["Trend"][0] == summary["headline"]


def test_a_season_as_json() -> None:
    line = trend("--json").lines()[6]
    assert {key: line[key] for key in ("season", "state", "used", "entries", "rate", "median", "median_excess", "minimum", "minimum_units", "effort")} == {
        "season": "2019-20", "state": "complete", "used": True, "entries": 4, "rate": 4.0, "median": "135 0/8", "median_excess": 5.0,
        "minimum": "130 0/8", "minimum_units": 1040, "effort": 1000.0,
    }  # fmt: skip


def test_a_limit_that_is_none_is_null_in_json() -> None:
    ranks = trend_of().ranks
    assert ranks is not None
    endless = replace(trend_of(), ranks=replace(ranks, lower=-math.inf, upper=math.inf))
    summary = json.loads(next(json_lines(endless, settings())))
    assert (summary["median_trend"]["lower"], summary["median_trend"]["upper"]) == (None, None)


def test_one_area_is_put_together_with_nothing() -> None:
    summary = trend("--json", "--area", "Abberlow").lines()[0]
    assert (summary["combined"], summary["regional"]) == (None, None)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--effort", "none"), {"effort": None, "per": 1}), (("--effort", "area"), {"effort": "area", "per": 100}),
        (("--cut", "137"), {"cut": "137 0/8", "kept": 17}), (("--cut", "137 1/8"), {"cut": "137 1/8", "kept": 12}),
        (("--second", "5"), {"second_cut": "135 0/8"}), (("--from", "2019-20", "--to", "2022-23"), {"kept": 20}),
        (("--district", "north"), {"place": "North", "kept": 10}), (("--area", "07003"), {"place": "Brackwater", "kept": 30}),
        (("--weapon", "bow"), {"kept": 0, "verdict": "unknown"}), (("--category", "Typical"), {"category": "whitetail-typical"}),
    ],
)  # fmt: skip
def test_what_is_asked_for_is_told(options: tuple[str, ...], told: dict[str, object]) -> None:
    summary = trend("--json", *options).lines()[0]
    assert {key: summary[key] for key in told} == told


def test_counts_are_of_the_whole_place() -> None:
    lines = trend("--json", "--effort", "none").lines()
    assert [line["rate"] for line in lines if line["kind"] == "season"] == [2, 2, 3, 3, 4, 4, 5, 5, 6, 6]
    assert [line["level"] for line in lines if line["kind"] == "area"] == [1.0, 4.2]


def test_the_antlers_are_told_in_place_of_the_rates() -> None:
    """By hand: the two heads of 2014-15 are 130 inches; of 2023-24 six are 139 and the one of no known area 150."""
    ran = trend("--antlers", "--weapon", "rifle", "--to", "2023-24")
    lines = ran.out.splitlines()
    assert (ran.code, ran.err, lines[-1]) == (0, "", NOTICE)
    assert lines[:3] == [
        "Antlers of State Book, White-tailed deer, typical, rifle only, the first season to 2023-24",
        "",
        "Antlers",
    ]
    medians = after(ran, "Medians among entries", 12)
    assert [medians[place].split()[:4] for place in (2, 11)] == [
        ["2014-15", "130", "0/8", "(2)"],
        ["2023-24", "139", "0/8", "(6)"],
    ]
    assert "Trend among entries per" not in ran.out


def test_the_antlers_as_json() -> None:
    summary, *lines = trend("--antlers", "--json", "--district", "South").lines()
    assert {key: summary[key] for key in ("kind", "place", "cut", "kept")} == {
        "kind": "antlers", "place": "South", "cut": "130 0/8", "kept": 30,
    }  # fmt: skip
    assert {"median", "season-quantile", "quantile-line", "tail"} <= {line["kind"] for line in lines}


def test_nothing_to_count_is_a_report_too() -> None:
    ran = trend("--cut", "160")
    assert ran.code == 0
    assert ran.out.splitlines()[3] == "  No trend among entries is told."
    assert (
        ran.out.splitlines()[4]
        == "  No entry of the 2 areas it covers is at or above 160 0/8; 41 entries below it set aside."
    )


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("--in", "Nix"), "--in 'Nix': not in the book; expected one of: State Book"),
        (("--district", "Nix"), "--district 'Nix': not in the book; expected one of: North, South"),
        (("--area", "Nix"), "--area 'Nix': not in the book's table of areas"),
        (("--from", "2020"), "'2020' is no season; expected one like 2024-25"),
        (("--from", "2020-21", "--to", "2019-20"), "--from 2020-21 is after --to 2019-20"),
        (("--category", "moose"), "--category 'moose': not in the book; expected one of: elk-nontypical, elk-typical, whitetail-nontypical, "
         "whitetail-typical"),
        (("--weapon", "gun"), "--weapon 'gun': expected rifle, shotgun, handgun, muzzleloader, bow, crossbow or found, or firearm for the "
         "first three"),
        (("--cut", "137.5"), "--cut '137.5': expected a length like 140 or '140 4/8'"),
        (("--cut", "129"), "a cut of 129 0/8 lies under the highest minimum of these seasons, 130 0/8: under it the rules would show, not the "
         "deer; expected that or more, or a shorter window"),
        (("--antlers", "--spread", "15"), "--spread is of the rates; it does not go with --antlers"),
        (("--as-of", "2013-01-01"), "{book}: cannot tell what was known on 2013-01-01, for it has no event yet; expected a later day"),
    ],
)  # fmt: skip
def test_a_refusal_is_a_sentence(options: tuple[str, ...], message: str) -> None:
    ran = trend(*options)
    assert (ran.code, ran.out, ran.err) == (2, "", f"beamledger: {message.format(book=book_of_tests())}\n")


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("--as-of", "soon"), "argument --as-of: invalid day value: 'soon'"),
        (("--second", "0"), "argument --second: invalid count value: '0'"),
        (("--area", "A", "--district", "B"), "argument --district: not allowed with argument --area"),
    ],
)
def test_arguments_that_are_none_are_named(options: tuple[str, ...], message: str) -> None:
    ran = trend(*options)
    assert (ran.code, ran.err.splitlines()[-1]) == (2, f"beamledger trend: error: {message}")


def test_a_book_without_record_books_says_so(tmp_path: Path) -> None:
    ran = run("trend", "--book", new_book(tmp_path), "--in", "State Book")
    assert (ran.code, ran.err) == (2, "beamledger: --in 'State Book': not in the book; expected one of: none\n")
