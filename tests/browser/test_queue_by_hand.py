"""The audit queue as a person works it: choose, open, go on, go back, and send the address to someone."""

from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Visit, served


def parameters(page: Page) -> dict[str, list[str]]:
    return parse_qs(urlsplit(page.url).query)


def test_a_chosen_filter_goes_into_the_address_and_comes_back_with_it(visit: Visit) -> None:
    page = visit("/audit-queue", 1280)
    page.get_by_label("Season").click()
    page.get_by_role("option", name="2022-23").click()
    expect(page.get_by_text("1 held sheet of 4, errors before questions.")).to_be_visible()
    assert parameters(page) == {"season": ["2022-23"]}
    again = visit("/audit-queue?" + urlsplit(page.url).query, 390)
    expect(again.get_by_text("1 held sheet of 4, errors before questions.")).to_be_visible()


def test_a_ticked_row_opens_its_sheet_and_back_returns(visit: Visit) -> None:
    page = visit("/audit-queue?season=2022-23", 1280)
    box = page.get_by_test_id("stDataFrame").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + 16, box["y"] + 54)
    expect(page.get_by_role("heading", name="Sheet 2023-008 – held")).to_be_visible()
    assert parameters(page) == {"season": ["2022-23"], "entry": ["8"]}
    page.get_by_role("button", name="Back to the queue").click()
    expect(page.get_by_text("1 held sheet of 4, errors before questions.")).to_be_visible()
    assert parameters(page) == {"season": ["2022-23"]}


def test_the_browsers_own_back_returns_to_the_queue(visit: Visit) -> None:
    page = visit("/audit-queue", 1280)
    page.get_by_label("Open a sheet").click()
    page.get_by_role("option").filter(has_text="2023-008").click()
    expect(page.get_by_role("heading", name="Sheet 2023-008 – held")).to_be_visible()
    page.go_back()
    expect(page.get_by_text("4 held sheets of 4, errors before questions.")).to_be_visible()


def test_a_bad_parameter_is_a_sentence_that_stays(visit: Visit) -> None:
    page = visit("/audit-queue?season=2099-00", 390)
    sentence = "The address asks for season “2099-00”, which this book does not have; it was left out."
    expect(page.get_by_text(sentence)).to_be_visible()


def test_the_first_visitor_of_a_fresh_server_may_come_by_a_link(browser: Browser, book: Path) -> None:
    with served(book) as address:
        page = browser.new_page()
        page.goto(f"{address}/audit-queue?entry=7")
        expect(page.get_by_role("heading", name="Sheet 2023-007 – held")).to_be_visible(timeout=60_000)
        assert page.get_by_text("Page not found").count() == 0
        page.close()
