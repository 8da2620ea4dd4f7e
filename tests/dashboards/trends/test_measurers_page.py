import io
import zipfile
from pathlib import Path

import polars as pl

from dashboards.trends import higher_minimum_words
from dashboards.trends.measurers_download import figures_zip
from dashboards.trends.measurers_frames import frames_of
from tests.dashboards.conftest import OpenPage
from tests.dashboards.read_page import said, table
from tests.measured_region import BOOK, MEASURERS
from tests.region_trends import DAY
from warehouse.book.trend_figures.measurers import read_measurers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.trends.code_book_measurers import CODE_BOOK_MEASURERS

CAUTION = "What stands out here is a reason to have heads measured again, by others. It accuses nobody."
BY_NAME = [
    "Bryl Zephrane (M-002)",
    "Idony Vale (M-004)",
    "Keth Gantlow (M-005)",
    "Osk Harrow (M-003)",
    "Una Reed (M-001)",
]


def test_the_caution_stands_above_and_under_everything(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "measurers")
    assert [str(element.value) for element in app.info] == [CAUTION]
    assert said(app).count(f"- {CAUTION}") == 1
    assert str(app.markdown[-1].value).replace("\\", "") == f"- {CAUTION}"


def test_who_reads_high_is_told_by_name_with_the_size(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "measurers")
    assert (
        "Osk Harrow (M-003) +2.4 (+1.7 to +3.1) eighths, +3.0 from the middle. A reason to measure again, by others, "
        "nothing more." in " ".join(said(app))
    )
    rows = table(app, 0)
    assert [row["Measurer"] for row in rows] == BY_NAME
    assert [row["Bias, eighths (95 % interval)"] for row in rows][3] == "+2.4 (+1.7 to +3.1)"


def test_another_line_of_the_sheet_comes_from_the_address(open_page: OpenPage, measured: Path) -> None:
    told = " ".join(said(open_page(measured, "measurers", line="Main beam, right")))
    assert "Panel of 2026, Main beam, right: 12 heads" in told


def test_a_line_that_no_panel_measured_is_said(open_page: OpenPage, measured: Path) -> None:
    sentences = said(open_page(measured, "measurers", line="H9"))
    assert "The address asks for line “H9”, which this book does not have; it was left out." in sentences


def test_every_table_stands_in_order_of_names(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "measurers")
    assert len(app.get("vega_lite_chart")) == 4
    for place in (0, 3, 4):
        names = list(dict.fromkeys(row["Measurer"] for row in table(app, place)))
        assert names == BY_NAME, place


def test_sheets_against_panels_are_drawn_with_the_note_on_drying(open_page: OpenPage, measured: Path) -> None:
    app = open_page(measured, "measurers")
    told = " ".join(said(app))
    assert "12 entries measured by a panel" in told
    assert "Bias and shrinkage are mixed here" in told
    assert (
        sorted(str(row["Sheet less panel, eighths"]) for row in table(app, 2)) == ["+0"] * 4 + ["+2"] * 4 + ["+4"] * 4
    )


def test_an_empty_book_says_what_to_do(open_page: OpenPage, bare_book: Path) -> None:
    assert "Nothing has been received yet" in said(open_page(bare_book, "measurers"))


def test_a_book_without_panels_says_how_to_put_one_in_place(open_page: OpenPage, book: Path) -> None:
    told = " ".join(said(open_page(book, "measurers")))
    assert "The book holds no panel session" in told
    assert "How many entries to expect in the first inch cannot be said" in told


def test_the_minimum_of_a_higher_book_has_its_section(open_page: OpenPage, measured: Path, higher: Path) -> None:
    app = open_page(higher, "measurers", book=BOOK)
    assert "It opens a re-measure of heads about that minimum, by others, and accuses nobody." in " ".join(said(app))
    (row,) = table(app, -1)
    assert (row["Record book"], row["Minimum"]) == ("High Book", "137 0/8")
    assert higher_minimum_words.NONE in " ".join(said(open_page(measured, "measurers")))


def test_every_column_of_the_download_has_its_meaning(measured: Path) -> None:
    settings = TrendSettings(BOOK, "whitetail-typical", DAY)
    measurers = read_measurers(measured, settings)
    content = figures_zip(measurers, frames_of(measurers, 8), settings)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        tables = {name: pl.read_csv(archive.read(name), infer_schema=False) for name in archive.namelist()}
    code_book = tables.pop("code_book.csv")
    assert list(tables) == list(CODE_BOOK_MEASURERS)
    for name, frame in tables.items():
        assert frame.columns == code_book.filter(file=name)["column"].to_list()
    assert tables["eighths.csv"].filter(line="beams").height == 8 * len(MEASURERS)
