from collections.abc import Iterator

import pytest

from tests.faults.children import Nursery, nursery


@pytest.fixture(scope="session")
def children(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Nursery]:
    """One nursery for every test: starting it takes longer than most of them."""
    with nursery(tmp_path_factory.mktemp("nursery")) as one:
        yield one
