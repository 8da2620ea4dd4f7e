from pathlib import Path

import pytest

from tests.dashboards.run_command import run
from tests.measured_region import measured_book
from warehouse.eighths import text_of

PANEL_ON = {"S000001": 4, "S000002": 2, "S000003": 0}  # entry -> eighths by which the sheet lies above the panel


@pytest.fixture(scope="session")
def measured(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small region's book with a panel session, and three entries that a panel measured."""
    book = measured_book(tmp_path_factory.mktemp("measured"))
    entries = {line["entry_no"]: line for line in run("entries", "--book", book, "--json").lines()}
    for number, above in PANEL_ON.items():
        net, gross = (text_of(entries[number][name] - above) for name in ("net", "gross"))
        ran = run(
            "decide",
            "--book",
            book,
            number,
            "panel",
            "--net",
            net,
            "--gross",
            gross,
            "--by",
            "Una Reed",
            "--why",
            "panel of the year",
        )
        assert ran.code == 0, ran.err
    return book
