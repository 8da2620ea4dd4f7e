"""A hunter called like a script, and a hunter called like a link, are only oddly named hunters."""

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Visit
from tests.dashboards.small_book import HOSTILE_IMAGE, HOSTILE_LINK

PATHS = ("/audit-queue", "/audit-queue?entry=9", "/audit-queue?entry=10", "/top-entries")


def hostile_elements(page: Page) -> int:
    return page.locator("img[src='x'], img[src*='hostile'], a[href*='hostile'], [onerror]").count()


@pytest.mark.parametrize("path", PATHS)
def test_no_element_is_made_of_a_name(visit: Visit, path: str) -> None:
    page = visit(path, 1280)
    assert hostile_elements(page) == 0
    assert page.title() == "Beamledger"


def test_the_names_are_printed_letter_for_letter(visit: Visit) -> None:
    text = visit("/audit-queue?entry=10", 1280).inner_text("body").replace("\u2060", "")
    assert HOSTILE_LINK in text
    assert HOSTILE_IMAGE in text
    assert f"Area {HOSTILE_LINK} :red[x] `y` is not known." in text


def test_names_in_the_choices_are_text_too(visit: Visit) -> None:
    page = visit("/audit-queue", 1280)
    page.get_by_label("Open a sheet").click()
    option = page.get_by_role("option").filter(has_text="2023-009")
    assert option.inner_text() == f"2023-009, {HOSTILE_IMAGE}: A point blank on one side only"
    assert hostile_elements(page) == 0


def test_a_hostile_address_is_only_quoted(visit: Visit) -> None:
    page = visit(
        "/audit-queue?entry=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E&season=%5Ba%5D(https%3A%2F%2Fhostile.invalid)",
        1280,
    )
    assert hostile_elements(page) == 0
    text = page.inner_text("body").replace("\u2060", "")
    assert "The address asks for entry “<img src=x onerror=alert(1)>”, which this book does not have." in text
