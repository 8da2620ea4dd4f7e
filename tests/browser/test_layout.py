"""Nothing is cut off, nothing is too faint, and no page asks anything of another machine (the `visit` fixture)."""

import pytest

from tests.browser.conftest import Visit
from tests.browser.contrast import too_faint

PATHS = (
    "/",
    "/audit-queue",
    "/audit-queue?entry=7",
    "/rankings",
    "/standing",
    "/duplicates",
    "/minimums",
    "/trends",
    "/antlers",
    "/measurers",
)
WIDTHS = (1280, 390)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("path", PATHS)
def test_no_page_scrolls_sideways_and_no_text_is_faint(visit: Visit, path: str, width: int) -> None:
    page = visit(path, width)
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert (
        page.evaluate("(main => main.scrollWidth - main.clientWidth)(document.querySelector('[data-testid=stMain]'))")
        <= 0
    )
    assert too_faint(page) == []


@pytest.mark.parametrize(("width", "rows"), [(1280, 1), (390, 3)])
def test_the_overview_shows_its_figures_and_charts(visit: Visit, width: int, rows: int) -> None:
    page = visit("/", width)
    metrics = page.get_by_test_id("stMetric").all()
    assert [metric.inner_text().split() for metric in metrics] == [
        ["Entries", "10"], ["Accepted", "6"], ["Held", "4"], ["Errors", "5"], ["Questions", "2"], ["Notes", "1"],
        ["Rows", "received", "10"],
    ]  # fmt: skip
    boxes = [metric.bounding_box() for metric in metrics]
    assert len({round(box["y"]) for box in boxes if box is not None}) == rows
    charts = page.get_by_test_id("stVegaLiteChart")
    assert charts.count() == 3
    assert all((chart.bounding_box() or {"height": 0})["height"] > 80 for chart in charts.all())
