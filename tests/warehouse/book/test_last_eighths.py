"""Shares of last eighths, counted by hand."""

import polars as pl

from warehouse.book.trend_figures.eighths import with_shares

COUNTS = pl.DataFrame(
    [("A", "beams", 0, 30), ("A", "beams", 4, 10), ("B", "beams", 0, 5), ("B", "beams", 1, 15), ("A", "spreads", 2, 7)],
    schema=["measurer", "line", "eighth", "count"], orient="row",
)  # fmt: skip


def test_an_eighth_that_never_ends_a_measure_has_a_row_too() -> None:
    rows = with_shares(COUNTS).filter(measurer="A", line="beams")
    assert rows["eighth"].to_list() == list(range(8))
    assert rows["share"].to_list() == [0.75, 0, 0, 0, 0.25, 0, 0, 0]


def test_the_others_are_all_but_the_measurer() -> None:
    rows = with_shares(COUNTS)
    assert rows.filter(measurer="A", line="beams")["others"].to_list() == [0.25, 0.75, 0, 0, 0, 0, 0, 0]
    assert rows.filter(line="spreads")["others"].is_null().all()
