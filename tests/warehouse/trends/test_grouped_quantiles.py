"""Quantiles of counted values are those of the entries one by one."""

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from warehouse.trends.grouped_quantiles import grouped_quantiles

TAUS = {"lower": 0.25, "middle": 0.5, "upper": 0.9}
CELLS = st.lists(st.tuples(st.integers(0, 30), st.integers(1, 6)), min_size=1, max_size=20)


@given(CELLS)
def test_as_numpy_has_them_of_single_entries(cells: list[tuple[int, int]]) -> None:
    """numpy.quantile, method "linear"."""
    frame = pl.DataFrame(
        {"place": "a", "value": [value for value, _ in cells], "entries": [entries for _, entries in cells]}
    )
    one_by_one = np.repeat(frame["value"].to_numpy(), frame["entries"].to_numpy())
    found = grouped_quantiles(frame, ["place"], TAUS).row(0, named=True)
    assert found["entries"] == len(one_by_one)
    assert [found[name] for name in TAUS] == pytest.approx(np.quantile(one_by_one, list(TAUS.values())).tolist())


def test_every_group_has_its_own_and_one_without_a_name_is_a_group() -> None:
    frame = pl.DataFrame({"place": ["b", "a", "a", None], "value": [9, 1, 3, 5], "entries": [1, 1, 1, 2]})
    assert grouped_quantiles(frame, ["place"], {"middle": 0.5}).rows() == [(None, 2, 5.0), ("a", 2, 2.0), ("b", 1, 9.0)]


def test_nothing_has_no_quantile() -> None:
    frame = pl.DataFrame(schema={"place": pl.String, "value": pl.Int64, "entries": pl.Int64})
    assert grouped_quantiles(frame, ["place"], TAUS).is_empty()
