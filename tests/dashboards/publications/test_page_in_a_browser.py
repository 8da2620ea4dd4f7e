"""The printed page in a real browser: no sideways scrolling, no request, nothing run, black on white on paper."""

from pathlib import Path

import polars as pl
import pytest
from playwright.sync_api import Browser, Page

from dashboards.publications.rankings_html import rankings
from tests.dashboards.publications.hand_edition import LINES, hand_edition
from warehouse.book.editions import Edition

LONG = "Quernlock" * 30


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The edition by hand, one of its hunters with a name of 270 letters without a blank."""
    long = LINES.with_columns(hunter=pl.when(pl.col("place") == 3).then(pl.lit(LONG)).otherwise("hunter"))
    edition = hand_edition()
    changes = edition.changes.with_columns(hunter=pl.lit(LONG), what=pl.lit(f"{LONG}."))
    path = tmp_path_factory.mktemp("page") / "rankings.html"
    path.write_bytes(rankings(Edition(**{**vars(edition), "lines": long, "changes": changes})))
    return path


def opened(browser: Browser, file: Path, width: int) -> tuple[Page, list[str]]:
    page = browser.new_page(viewport={"width": width, "height": 844})
    told: list[str] = []
    page.on("request", lambda request: told.append(request.url))
    page.on("console", lambda message: told.append(message.text))
    page.on("dialog", lambda dialog: told.append(dialog.message))
    page.goto(file.as_uri())
    return page, told


@pytest.mark.parametrize("width", [390, 1280])
def test_the_page_does_not_scroll_sideways(browser: Browser, file: Path, width: int) -> None:
    page, told = opened(browser, file, width)
    assert page.evaluate("document.documentElement.scrollWidth") == width
    assert page.evaluate("document.querySelector('#b2-c1-all').closest('.box').clientWidth") < width
    assert told == [file.as_uri()]
    page.close()


def test_on_paper_it_is_black_on_white_and_heads_repeat(browser: Browser, file: Path) -> None:
    page, _ = opened(browser, file, 700)
    page.emulate_media(media="print")
    looks = """(wanted) => [...document.querySelectorAll('body, body *')].map(one => getComputedStyle(one)[wanted])"""
    assert set(page.evaluate(looks, "color")) == {"rgb(0, 0, 0)"}
    assert set(page.evaluate(looks, "backgroundColor")) == {"rgba(0, 0, 0, 0)", "rgb(255, 255, 255)"}
    assert set(page.evaluate(looks, "backgroundImage")) == {"none"}
    thead = "getComputedStyle(document.querySelector('thead')).display"
    assert page.evaluate(thead) == "table-header-group"
    row = "getComputedStyle(document.querySelector('tbody tr')).breakInside"
    assert page.evaluate(row) == "avoid"
    page.close()
