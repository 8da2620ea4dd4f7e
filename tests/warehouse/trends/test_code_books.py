"""Every column that is handed out has its unit and meaning, and stands once in its file."""

import pytest

from warehouse.trends.code_book import Column
from warehouse.trends.code_book_antlers import CODE_BOOK_ANTLERS
from warehouse.trends.code_book_measurers import CODE_BOOK_MEASURERS

FILES = [*CODE_BOOK_ANTLERS.items(), *CODE_BOOK_MEASURERS.items()]


@pytest.mark.parametrize(("file", "columns"), FILES, ids=[f"{place}-{file}" for place, (file, _) in enumerate(FILES)])
def test_every_column_has_a_unit_and_a_meaning(file: str, columns: dict[str, Column]) -> None:
    assert file.endswith(".csv")
    assert all(column.unit and column.meaning and not column.meaning.endswith(".") for column in columns.values())
