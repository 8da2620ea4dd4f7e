"""What the book tells of its measurers."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import duckdb
import numpy as np
import polars as pl
import pytest

from tests.record_books import BOOK, MINIMUM, decided, head, insert
from warehouse.book import database
from warehouse.book.trend_figures.measurers import Measurers, read_measurers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.trends.higher_minimum import HigherMinimum

SESSION = {"session": "Panel", "measured_on": date(2026, 8, 1), "unit": 8}
NETS = {"M-1": (1100, 1120, 1150), "M-2": (1102, 1123, 1151), "M-3": (1100, 1120, 1152)}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three heads measured by M-1, two of which a panel measured again; a session of three measurers and three heads."""
    path = tmp_path_factory.mktemp("measurers") / "book.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        insert(connection, "record_book", BOOK)
        insert(connection, "minimum", MINIMUM)
        insert(connection, "measurer", {"measurer_no": "M-1", "name": "Una Reed", "certified_from": "2000-01-01"})
        for number in (1, 2, 3):
            head(connection, number, measurer="M-1", net=1000 + number, gross=1046 + number)
            insert(connection, "measurement", {"revision_id": number, "line": "g2", "right_units": 65, "left_units": 0})
            insert(connection, "measurement", {"revision_id": number, "line": "inside_spread", "single_units": 143})
        decided(connection, "panel-result", 1, net=1003, gross=1049)
        decided(connection, "panel-result", 2, net=1000, gross=1046)
        for measurer, nets in NETS.items():
            for number, net in enumerate(nets):
                insert(
                    connection,
                    "panel_measure",
                    {**SESSION, "head": f"H{number}", "measurer_no": measurer, "line": "net", "length_units": net},
                )
                insert(
                    connection,
                    "panel_measure",
                    {**SESSION, "head": f"H{number}", "measurer_no": measurer, "line": "beam_r", "length_units": 180},
                )
    return path


def measurers(book: Path, **asked: Any) -> Measurers:
    return read_measurers(book, TrendSettings("State Book", "whitetail-typical", date(2026, 11, 26), **asked))


def test_a_session_tells_each_ones_bias_in_inches_the_net_first(book: Path) -> None:
    """By hand: the heads' means are 1100 2/3, 1121 and 1151 eighths; M-2 is +1 1/3, +2 and 0 off."""
    net, beam = measurers(book).panels
    assert (net.session, net.line, beam.line) == ("Panel", "net", "beam_r")
    assert net.agreement is not None
    assert (net.agreement.heads, net.agreement.measurers, net.agreement.few_heads) == (3, 3, True)
    biases = dict(net.biases.select("measurer", "bias").rows())
    assert biases["M-2"] == pytest.approx((4 / 3 + 2) / 3 / 8)


def test_sheets_are_held_against_what_a_panel_measured(book: Path) -> None:
    """By hand: the sheets read 1001 and 1002, the panel 1003 and 1000: -2 and +2 eighths."""
    found = measurers(book)
    assert found.scores.select("entry_id", "measurer", "sheet_net", "panel_net").rows() == [
        (1, "M-1", 1001, 1003),
        (2, "M-1", 1002, 1000),
    ]
    assert found.against_panel is None  # two of them tell nothing of the others


def test_last_eighths_are_counted_by_kind_of_line_and_a_point_that_is_not_there_is_none(book: Path) -> None:
    rows = measurers(book).digits.select("measurer", "line", "measurements", "refused").rows()
    assert rows == [("M-1", "points", 3, "few-measurements"), ("M-1", "spreads", 3, "few-measurements")]


def test_the_eighths_are_those_of_the_digits_as_shares(book: Path) -> None:
    """A point of 65 eighths ends on 1/8, a spread of 143 on 7/8."""
    rows = measurers(book).eighths.filter(pl.col("count") > 0).select("measurer", "line", "eighth", "count", "share")
    assert rows.rows() == [("M-1", "points", 1, 3, 1.0), ("M-1", "spreads", 7, 3, 1.0)]


def test_too_few_entries_foretell_no_share_of_the_first_inch(book: Path) -> None:
    above = measurers(book).above
    assert (above.entries, above.beyond, above.expected, above.rows.height) == (1, 0, None, 0)


def test_a_crowd_in_the_first_inch_is_told_of_the_measurer_who_has_it(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "crowd.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        insert(connection, "record_book", BOOK)
        insert(connection, "minimum", MINIMUM)
        for number in range(1, 161):
            crowded = number % 2 and number % 4 == 1
            net = 1000 + number % 8 if crowded else 1000 + (number * 37) % 160
            head(connection, number, measurer="M-1" if number % 2 else "M-2", net=net, gross=net + 46)
    rows = {row["measurer"]: row for row in measurers(path).above.rows.iter_rows(named=True)}
    assert (rows["M-1"]["sign"], rows["M-1"]["above"]) == ("more", 80)
    assert rows["M-1"]["adjusted"] < 0.001 < rows["M-2"]["adjusted"]


def test_names_are_the_newest_ones(book: Path) -> None:
    assert measurers(book).names == {"M-1": "Una Reed"}


HIGH: dict[str, Any] = BOOK | {"book": "High Book"}
HIGHER: dict[str, Any] = MINIMUM | {"book": "High Book", "minimum_units": 1080}
AROUND = {-30: 10, -4: 12, -1: 3, 0: 21, 3: 4, 24: 10}  # units from 135 0/8 -> heads


def steps(path: Path, *rows: tuple[str, Mapping[str, Any]], **changes: Any) -> list[tuple[str, int, int, int]]:
    """Book, minimum and counts under and over it, of a lower book whose heads lie `AROUND` 135 0/8."""
    database.create(path)
    with database.writing(path) as connection:
        for table, values in (("record_book", BOOK), ("minimum", MINIMUM), *rows):
            insert(connection, table, values)
        _heads_around(connection, changes)
    return [
        (found.book, found.minimum_units, found.step.below, found.step.above)
        for found in measurers(path).steps
        if found.step is not None
    ]


def _heads_around(connection: duckdb.DuckDBPyConnection, changes: Mapping[str, Any]) -> None:
    nets = [1080 + off for off, heads in AROUND.items() for _ in range(heads)]
    for number, net in enumerate(nets, start=1):
        head(connection, number, **{"measurer": "M-1", "net": net, "gross": net + 46, **changes})


def test_heads_about_a_higher_books_minimum_are_counted_on_both_sides(tmp_path: Path) -> None:
    """By hand: within half an inch 12 + 3 under it and 21 + 4 from it on; the others show what other inches look like."""
    assert steps(tmp_path / "b.duckdb", ("record_book", HIGH), ("minimum", HIGHER)) == [("High Book", 1080, 15, 25)]


@pytest.mark.parametrize("wins", [{"weapon_class": "firearm"}, {"antler_state": "hard"}])
def test_a_minimum_for_the_weapon_or_the_antlers_goes_before_one_for_any(tmp_path: Path, wins: dict[str, str]) -> None:
    rows = [("minimum", HIGHER | {"minimum_units": 1100}), ("minimum", HIGHER | wins)]
    assert steps(tmp_path / "b.duckdb", ("record_book", HIGH), *rows) == [("High Book", 1080, 15, 25)]


def test_a_minimum_for_the_weapon_goes_before_one_for_the_antlers_and_heads_are_counted_once(tmp_path: Path) -> None:
    both = [("minimum", HIGHER | {"weapon_class": "firearm"}), ("minimum", HIGHER | {"antler_state": "hard"})]
    assert steps(tmp_path / "b.duckdb", ("record_book", HIGH), *both) == [("High Book", 1080, 15, 25)]


@pytest.mark.parametrize(
    ("book", "minimum", "head"),
    [
        ({"score": "gross"}, {}, {}), ({"weapons": ["bow"]}, {}, {}), ({"takes_found": False}, {}, {"weapon": "found"}),
        ({"last_season": "2024-25"}, {}, {}), ({}, {"last_season": "2024-25"}, {}), ({}, {"category": "elk-typical"}, {}),
        ({}, {"weapon_class": "bow"}, {}), ({}, {"antler_state": "velvet"}, {}), ({}, {"minimum_units": 1000}, {}),
    ],
)  # fmt: skip
def test_books_and_minimums_that_are_not_the_heads_are_left_out(
    tmp_path: Path, book: dict[str, Any], minimum: dict[str, Any], head: dict[str, Any]
) -> None:
    rows = [("record_book", HIGH | book), ("minimum", HIGHER | minimum)]
    assert steps(tmp_path / "b.duckdb", *rows, **head) == []


def test_a_book_without_higher_minimums_has_no_step(book: Path) -> None:
    assert measurers(book).steps == ()


def test_too_few_heads_about_a_higher_minimum_have_no_step(tmp_path: Path) -> None:
    path = tmp_path / "b.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        for table, values in (("record_book", BOOK), ("minimum", MINIMUM), ("record_book", HIGH), ("minimum", HIGHER)):
            insert(connection, table, values)
        head(connection, net=1080, gross=1126)
    assert measurers(path).steps == (HigherMinimum("High Book", 1080, None),)


def test_each_minimum_has_its_own_expectation(tmp_path: Path) -> None:
    """Guns from 150 up and bows from 125 up of one herd: the tail thins out faster higher up, and nobody helped anybody."""
    draw = np.random.default_rng(3)
    scores = np.rint(draw.normal(880, 120, 30_000)).astype(int)
    path = tmp_path / "weapons.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        insert(connection, "record_book", BOOK)
        insert(connection, "minimum", {**MINIMUM, "minimum_units": 1100})
        insert(connection, "minimum", {**MINIMUM, "weapon_class": "bow", "minimum_units": 1000})
        heads = [("M-1", "rifle", net) for net in scores[:15_000] if net >= 1100] + [
            ("M-2", "bow", net) for net in scores[15_000:] if net >= 1000
        ]
        for number, (measurer, weapon, net) in enumerate(heads[::4], start=1):
            head(connection, number, measurer=measurer, weapon=weapon, net=int(net), gross=int(net) + 46)
    above = measurers(path).above
    assert above.minimums == 2
    expected = dict(above.rows.select("measurer", "expected").rows())
    assert expected["M-1"] > 1.1 * expected["M-2"]
    assert (above.rows["adjusted"] > 0.05).all()
