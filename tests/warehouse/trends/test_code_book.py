"""Every column that is handed out has its unit and meaning, and means the same wherever it stands."""

import pytest

from warehouse.trends.code_book import CODE_BOOK, Column
from warehouse.trends.code_book_antlers import CODE_BOOK_ANTLERS
from warehouse.trends.code_book_measurers import CODE_BOOK_MEASURERS

FILES = [*CODE_BOOK.items(), *CODE_BOOK_ANTLERS.items(), *CODE_BOOK_MEASURERS.items()]


@pytest.mark.parametrize(("file", "columns"), FILES, ids=[f"{place}-{file}" for place, (file, _) in enumerate(FILES)])
def test_every_column_has_a_unit_and_a_meaning_of_one_line(file: str, columns: dict[str, Column]) -> None:
    assert file.endswith(".csv")
    assert [name for name, column in columns.items() if not column.unit.strip() or not column.meaning.strip()] == []
    assert [name for name, column in columns.items() if "\n" in column.unit + column.meaning] == []


def test_a_column_means_the_same_in_every_file() -> None:
    shared = CODE_BOOK["districts.csv"].keys() & CODE_BOOK["areas.csv"].keys()
    assert len(shared) > 30
    assert [name for name in shared if CODE_BOOK["districts.csv"][name] != CODE_BOOK["areas.csv"][name]] == []
