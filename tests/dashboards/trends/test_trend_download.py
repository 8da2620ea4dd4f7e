import csv
import io
import zipfile
from dataclasses import replace

import polars as pl
import pytest

from dashboards.trends.trend_download import figures_zip, tables
from dashboards.trends.trend_figures_table import figures_table
from dashboards.trends.zip_of_tables import code_book
from tests.dashboards.trends.trend_book import book_of_tests, settings, trend_of
from warehouse.book.trend_figures.trend import read_trend
from warehouse.trends.code_book import CODE_BOOK

FILES = ["trend.csv", "seasons.csv", "districts.csv", "areas.csv", "settings.csv", "code_book.csv"]


def unpacked() -> dict[str, list[dict[str, str]]]:
    with zipfile.ZipFile(io.BytesIO(figures_zip(trend_of(), settings()))) as archive:
        return {
            name: list(csv.DictReader(io.StringIO(archive.read(name).decode(), newline="")))
            for name in archive.namelist()
        }


def test_the_zip_holds_the_figures_what_was_asked_and_what_columns_mean() -> None:
    files = unpacked()
    assert list(files) == FILES
    assert [len(rows) for rows in files.values()][1:4] == [10, 2, 2]
    assert {row["setting"]: row["value"] for row in files["settings.csv"]}["second_cut"] == "145 0/8"


@pytest.mark.parametrize(
    "asked", [{}, {"area": "07003"}, {"effort": "none"}, {"cut": 1300}, {"first_season": "2023-24"}]
)
def test_every_column_stands_in_the_code_book_and_none_is_left_over(asked: dict[str, str]) -> None:
    handed_out = tables(trend_of(**asked), settings(**asked))
    assert {name: frame.columns for name, frame in handed_out.items()} == {
        name: list(columns) for name, columns in CODE_BOOK.items()
    }


def test_the_code_book_has_a_row_for_each_column_of_each_file() -> None:
    rows = unpacked()["code_book.csv"]
    assert [(row["file"], row["column"]) for row in rows] == [
        (file, name) for file, columns in CODE_BOOK.items() for name in columns
    ]
    assert code_book(CODE_BOOK).filter((pl.col("unit") == "") | (pl.col("meaning") == "")).is_empty()


def test_the_same_figures_give_the_same_bytes() -> None:
    again = read_trend(book_of_tests(), settings())
    assert figures_zip(again, settings()) == figures_zip(trend_of(), settings())
    with zipfile.ZipFile(io.BytesIO(figures_zip(trend_of(), settings()))) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_a_name_that_would_run_as_a_formula_is_disarmed() -> None:
    hostile = trend_of().areas.with_columns(area=pl.lit("=1+1"))
    with zipfile.ZipFile(io.BytesIO(figures_zip(replace(trend_of(), areas=hostile), settings()))) as archive:
        assert "North,'=1+1,07001," in archive.read("areas.csv").decode()


def test_the_figures_of_the_whole_place_are_a_file_of_their_own() -> None:
    told = {row["figure"]: row for row in figures_table(trend_of(spread=15.0)).iter_rows(named=True)}
    rate, median = told["rate"], told["median entry"]
    assert (rate["estimate"], rate["lower"], rate["p"]) == (
        trend_of().rate["percent"],
        trend_of().rate["percent_lower"],
        trend_of().rate["p"],
    )
    assert (median["unit"], median["estimate"]) == ("inches a year", 1.0)
    assert [name for name in told if name.startswith("mean of all bucks")] == [
        f"mean of all bucks, spread {sd}" for sd in ("13.5", "15", "16.5")
    ]
    assert "odds of the share" not in told  # refused


def test_what_has_no_trend_has_no_figure() -> None:
    assert figures_table(trend_of(first_season="2023-24")).is_empty()
