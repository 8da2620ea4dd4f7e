import shutil
from pathlib import Path

import pytest

from tests.dashboards.run_command import run
from tests.measured_region import measured_book
from tests.record_books import BOOK as RECORD_BOOK
from tests.record_books import MINIMUM, insert
from warehouse.book import database
from warehouse.eighths import text_of

HIGHER_BOOK, HIGHER_UNITS = "High Book", 1096  # 137 0/8
PANEL_ON = {
    f"S{number:06}": (4, 2, 0)[number % 3] for number in range(1, 13)
}  # entry -> eighths by which the sheet lies above the panel


@pytest.fixture(scope="session")
def measured(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small region's book with a panel session, and twelve entries that a panel measured."""
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


@pytest.fixture(scope="session")
def higher(measured: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same book, beside whose record book stands a higher one."""
    book = tmp_path_factory.mktemp("higher") / "region.duckdb"
    for file in measured.parent.glob("region.duckdb*"):
        shutil.copy(file, book.parent / file.name)
    with database.writing(book) as connection:
        insert(connection, "record_book", RECORD_BOOK | {"book": HIGHER_BOOK, "first_season": "2006-07"})
        insert(
            connection,
            "minimum",
            MINIMUM | {"book": HIGHER_BOOK, "minimum_units": HIGHER_UNITS, "first_season": "2006-07"},
        )
    return book
