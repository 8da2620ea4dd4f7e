import io
import zipfile
from pathlib import Path

import polars as pl
import pytest

from dashboards import open_book
from dashboards.trends.antlers_download import figures_zip
from dashboards.trends.antlers_frames import frames_of
from dashboards.trends.antlers_words import AGED, NEVER_OF_THE_HERD, OTHER_HUNTERS
from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import figures, said, table
from tests.measured_region import BOOK
from tests.region_trends import DAY
from warehouse.book.trend_figures.antlers import Antlers, read_antlers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.trends.code_book_antlers import CODE_BOOK_ANTLERS


def read(book: Path) -> tuple[Antlers, TrendSettings]:
    settings = TrendSettings(BOOK, "whitetail-typical", DAY)
    return read_antlers(book, settings), settings


def test_the_cut_and_the_counts_are_always_in_sight(open_page: OpenPage, measured: Path) -> None:
    antlers, _ = read(measured)
    shown = figures(open_page(measured, "antlers"))
    assert shown["Common minimum, inches"] == "135 0/8"
    assert shown["Entries kept (n)"] == f"{antlers.kept:,}"
    assert int(shown["Of complete seasons"].replace(",", "")) <= antlers.kept
    assert int(shown["With a recorded age"]) == antlers.by_age.filter(measure="score")["entries"].sum()


def test_every_chart_has_its_reading(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "antlers")
    told = " ".join(said(app))
    for sentence in (
        NEVER_OF_THE_HERD.format(cut="135 0/8"),
        OTHER_HUNTERS,
        AGED,
        "Age structure is a rival explanation",
    ):
        assert sentence in told
    readings = [
        caption
        for caption in said(app)
        if caption.startswith(("Score, ", "Main beam, ", "H1, ", "Inside spread, ", "Age, "))
    ]
    assert len(readings) == 5 + 5 + 4  # by season, by weapon, by age; no points on these sheets
    assert len(app.get("vega_lite_chart")) == len(readings) + 1  # and the quantiles


def test_a_district_and_seasons_come_from_the_address(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "antlers", **{"place": "District District 1", "from": "2010-11", "to": "2015-16"})
    told = " ".join(said(app))
    assert "entries of District 1 at or above net 130 0/8" in told
    assert "Median: no line, for fewer than 8 complete seasons have entries." in told
    assert {row["District"] for row in table(app, -1)} == {"District 1"}


def test_medians_stand_by_district_and_season_with_their_counts(open_page: OpenPage, measured: Path) -> None:
    rows = table(open_page(measured, "antlers"), -1)
    assert list(rows[0]) == [
        "District",
        "Season",
        "State",
        "Score (n)",
        "Main beam (n)",
        "H1 (n)",
        "Inside spread (n)",
        "Points (n)",
        "Age (n)",
    ]
    assert list(dict.fromkeys(row["District"] for row in rows)) == [
        "All together",
        *(f"District {place}" for place in range(5)),
    ]
    assert {row["Points (n)"] for row in rows} == {"-"}


@pytest.mark.parametrize("day", ["soon", "2026-02-30", "9999-01-01", "1776-07-04"])
def test_a_day_of_the_address_that_is_none_is_said(open_page: OpenPage, measured: Path, day: str) -> None:
    sentences = said(open_page(measured, "antlers", **{"as-of": day}))
    assert (
        f"The address asks for as-of “{day}”, which is no day like 2026-03-14 up to today; it was left out."
        in sentences
    )


def test_a_day_before_the_book_is_refused_in_words(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "antlers", **{"as-of": "2001-01-01"})
    assert [error for error in said(app) if "cannot tell what was known on 2001-01-01" in error]


def test_an_empty_book_says_what_to_do(open_page: OpenPage, bare_book: Path) -> None:
    assert "Nothing has been received yet" in said(open_page(bare_book, "antlers"))


def test_a_book_of_few_heads_is_told_without_lines(open_page: OpenPage, book: Path) -> None:
    told = " ".join(said(open_page(book, "antlers", book="Quillmark Record")))
    assert "Upper tenth: no line" in told
    assert "How large one head in 1,000 is cannot be said" in told


def test_every_column_of_the_download_has_its_meaning(measured: Path) -> None:
    antlers, settings = read(measured)
    content = figures_zip(antlers, frames_of(antlers), settings)
    assert content == figures_zip(antlers, frames_of(antlers), settings)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        tables = {name: pl.read_csv(archive.read(name), infer_schema=False) for name in archive.namelist()}
    code_book = tables.pop("code_book.csv")
    assert list(tables) == list(CODE_BOOK_ANTLERS)
    for name, frame in tables.items():
        assert frame.columns == code_book.filter(file=name)["column"].to_list()
    assert dict(tables["settings.csv"].select("setting", "value").rows())["cut"] == "135 0/8"


def test_answers_are_kept_until_the_book_changes(measured: Path, open_page: OpenPage) -> None:
    open_page(measured, "antlers")
    settings = TrendSettings(BOOK, "whitetail-typical", DAY)
    assert open_book.antlers(settings).kept == read(measured)[0].kept
