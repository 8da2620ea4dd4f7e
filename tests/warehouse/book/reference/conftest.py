"""An empty book for the tests of its reference tables."""

from pathlib import Path

import pytest

from tests.book_builder import new_book


@pytest.fixture
def empty_book(tmp_path: Path) -> Path:
    return new_book(tmp_path)
