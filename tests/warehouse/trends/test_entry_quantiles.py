"""Quantiles of weighted scores. Expected: numpy's own quantile of the entries written out (type 7 of Hyndman & Fan 1996)."""

import numpy as np
import polars as pl
import pytest

from warehouse.trends.entry_quantiles import ENTRY_QUANTILES, entry_quantiles


@pytest.mark.parametrize("tau", [0.1, 0.5, 0.75, 0.9])
def test_quantiles_of_counts_are_those_of_the_entries_one_by_one(tau: float) -> None:
    scores = pl.DataFrame({"season": ["a"] * 4, "value": [135.0, 137.5, 140.125, 160.0], "entries": [7, 3, 5, 1]})
    found = entry_quantiles(scores, [tau])
    one_by_one = np.repeat(scores["value"].to_numpy(), scores["entries"].to_numpy())
    assert found.rows() == [("a", tau, 16, pytest.approx(np.quantile(one_by_one, tau)))]


def test_each_season_has_its_own_in_order() -> None:
    scores = pl.DataFrame({"season": ["b", "a", "a"], "value": [9.0, 1.0, 3.0], "entries": [2, 1, 1]})
    assert entry_quantiles(scores, [0.5, 0.75]).rows() == [
        ("a", 0.5, 2, 2.0), ("a", 0.75, 2, 2.5), ("b", 0.5, 2, 9.0), ("b", 0.75, 2, 9.0),
    ]  # fmt: skip


def test_no_entries_have_no_quantiles() -> None:
    none = pl.DataFrame(schema={"season": pl.String, "value": pl.Float64, "entries": pl.Int64})
    assert entry_quantiles(none).schema == ENTRY_QUANTILES
    assert entry_quantiles(none).is_empty()
