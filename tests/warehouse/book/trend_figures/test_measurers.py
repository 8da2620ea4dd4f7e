"""What the book tells of its measurers."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.record_books import BOOK, MINIMUM, decided, head, insert
from warehouse.book import database
from warehouse.book.trend_figures.measurers import Measurers, read_measurers
from warehouse.book.trend_figures.settings import TrendSettings

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
    assert found.against_panel is not None
    assert (found.against_panel.pairs, found.against_panel.bias) == (2, 0.0)


def test_last_eighths_are_counted_by_kind_of_line_and_a_point_that_is_not_there_is_none(book: Path) -> None:
    rows = measurers(book).digits.select("measurer", "line", "measurements", "refused").rows()
    assert rows == [("M-1", "points", 3, "few-measurements"), ("M-1", "spreads", 3, "few-measurements")]


def test_too_few_entries_foretell_no_share_of_the_first_inch(book: Path) -> None:
    above = measurers(book).above
    assert (above.entries, above.tail, above.expected, above.rows.height) == (3, None, None, 0)


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
