"""Exact limits of shares."""

import numpy as np
import pytest
from scipy.stats import binomtest

from warehouse.trends.shares import clopper_pearson


def test_38_of_55() -> None:
    lower, upper = clopper_pearson([38], [55])
    assert (lower[0], upper[0]) == pytest.approx((0.55187, 0.80855), abs=5e-6)  # scipy 1.17.1 binomtest(38, 55), exact


@pytest.mark.parametrize(("count", "out_of"), [(0, 10), (10, 10), (1, 3), (250, 4000)])
def test_as_the_binomial_test_has_them(count: int, out_of: int) -> None:
    expected = binomtest(count, out_of).proportion_ci(method="exact")
    lower, upper = clopper_pearson([count], [out_of])
    assert (lower[0], upper[0]) == pytest.approx((expected.low, expected.high), abs=1e-9)


def test_out_of_nothing_nothing_is_known() -> None:
    lower, upper = clopper_pearson(np.array([0]), np.array([0]))
    assert (lower[0], upper[0]) == (0.0, 1.0)
