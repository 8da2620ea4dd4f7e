"""Many p-values on one page, and slopes of counties combined."""

import dataclasses
import math

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import false_discovery_control
from scipy.stats import t as student

from warehouse.trends.many_series import Combined, adjusted, combine, shrunk

# Benjamini & Hochberg 1995, JRSS B 57:289-300, the 15 p-values of the example (from memory).
P_VALUES = (
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0,
)  # fmt: skip
# Vaccinated cases, others, control cases, others of the 13 BCG trials (Colditz et al. 1994, JAMA 271:698-702).
BCG = (
    (4, 119, 11, 128), (6, 300, 29, 274), (3, 228, 11, 209), (62, 13536, 248, 12619), (33, 5036, 47, 5761),
    (180, 1361, 372, 1079), (8, 2537, 10, 619), (505, 87886, 499, 87892), (29, 7470, 45, 7232), (17, 1699, 65, 1600),
    (186, 50448, 141, 27197), (5, 2493, 3, 2338), (27, 16886, 29, 17825),
)  # fmt: skip


def log_risk_ratios() -> pl.DataFrame:
    a, b, c, d = np.array(BCG, dtype=float).T
    slope = np.log(a / (a + b)) - np.log(c / (c + d))
    return pl.DataFrame({"slope": slope, "se": np.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d))})


def combined(slopes: list[float | None], errors: list[float | None]) -> Combined:
    found = combine(pl.DataFrame({"slope": slopes, "se": errors}, schema=dict.fromkeys(("slope", "se"), pl.Float64)))
    assert found is not None
    return found


def test_four_of_the_fifteen_stand_where_bonferroni_leaves_three() -> None:
    p = pl.Series("p", P_VALUES)
    assert (adjusted(p) <= 0.05).sum() == 4
    assert (p * len(p) <= 0.05).sum() == 3


@settings(deadline=None)
@given(st.lists(st.one_of(st.none(), st.floats(0, 1)), max_size=30))
def test_adjusted_p_keep_order_and_nulls_and_are_never_smaller(values: list[float | None]) -> None:
    p = pl.Series("p", values, dtype=pl.Float64)
    found = adjusted(p)
    assert found.name == "p"
    assert found.is_null().equals(p.is_null().alias("p"))
    pairs = sorted((a, b) for a, b in zip(values, found, strict=True) if a is not None)
    assert all(a <= b <= 1 for a, b in pairs)
    assert [b for _, b in pairs] == sorted(b for _, b in pairs)


def test_adjusted_p_are_those_of_another_program() -> None:
    p = np.random.default_rng(4).random(200) ** 3
    assert adjusted(pl.Series(p)).to_numpy() == pytest.approx(false_discovery_control(p))


def test_the_bcg_trials_combine_as_published() -> None:
    # DerSimonian & Laird 1986; figures by statsmodels 0.15, the same as published (from memory).
    found = combine(log_risk_ratios())
    assert found is not None
    assert (found.members, found.left_out, found.df) == (13, 0, 12)
    assert (found.fixed, found.slope, found.se) == pytest.approx((-0.430285, -0.714117, 0.178742), abs=5e-7)
    assert found.q == pytest.approx(152.2330, abs=5e-5)
    assert (found.tau2, found.i2) == pytest.approx((0.308760, 92.117), rel=5e-6)
    assert found.q_p < 1e-20


def test_the_interval_is_hartung_and_knapps() -> None:
    # Closed form from the definition: their variance is the weighted scatter of the slopes over k - 1.
    frame, found = log_risk_ratios(), combine(log_risk_ratios())
    assert found is not None
    weight = 1 / (frame["se"].to_numpy() ** 2 + found.tau2)
    own = math.sqrt((weight * (frame["slope"].to_numpy() - found.slope) ** 2).sum() / weight.sum() / 12)
    assert found.upper - found.slope == pytest.approx(student.ppf(0.975, 12) * own)
    assert found.p == pytest.approx(2 * student.sf(abs(found.slope) / own, 12))


def test_slopes_that_lie_close_have_no_narrower_interval_than_their_errors_give() -> None:
    found = combined([0.02, 0.021, 0.02, 0.019], [0.01] * 4)
    # Closed form: four slopes of error 0.01 have a mean of error 0.005, and nothing between them.
    assert (found.tau2, found.i2, found.slope, found.se) == pytest.approx((0, 0, 0.02, 0.005))
    assert (found.lower, found.upper) == pytest.approx((0.02 - 1.959964 * 0.005, 0.02 + 1.959964 * 0.005))
    assert found.p == pytest.approx(6.334248e-05)  # normal tables: z = 4
    assert found.slope == found.fixed


def test_slopes_all_the_same_combine_to_themselves() -> None:
    found = combined([0.5, 0.5], [0.1, 0.2])
    assert (found.slope, found.q, found.tau2, found.q_p) == pytest.approx((0.5, 0, 0, 1), abs=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_p_and_interval_agree(seed: int) -> None:
    random = np.random.default_rng(seed)
    for _ in range(40):
        size = int(random.integers(2, 9))
        found = combined(list(random.normal(0.3, 0.5, size)), list(random.uniform(0.05, 0.8, size)))
        assert (found.p < 0.05) == (found.lower > 0 or found.upper < 0)
        assert found.lower <= found.slope - 1.95996 * found.se
        assert 0 <= found.i2 <= 100


def test_a_county_without_a_slope_is_left_out_and_counted() -> None:
    slopes = [0.1, None, 0.2, 0.3, 0.4, math.nan]
    errors: list[float | None] = [0.1, 0.1, 0.2, 0.0, math.inf, 0.1]
    found = combined(slopes, errors)
    assert (found.members, found.left_out) == (2, 4)
    assert dataclasses.replace(found, left_out=0) == combined([0.1, 0.2], [0.1, 0.2])
    drawn = shrunk(pl.DataFrame({"slope": slopes, "se": errors}), found)
    assert drawn.is_null().to_list() == [False, True, False, True, True, True]


def test_one_county_or_none_is_no_district() -> None:
    unknown = pl.DataFrame({"slope": [None, None], "se": [None, None]})
    assert combine(unknown) is combine(pl.DataFrame({"slope": [0.1, None], "se": [0.1, None]})) is None


def test_a_slope_is_shrunk_between_itself_and_the_district() -> None:
    frame, found = log_risk_ratios(), combine(log_risk_ratios())
    assert found is not None
    drawn = frame.with_columns(shrunk(frame, found))
    share = (drawn["shrunk"] - found.slope) / (drawn["slope"] - found.slope)
    # Closed form: the share of its own that a slope keeps is tau2/(tau2 + variance).
    assert share.to_numpy() == pytest.approx((found.tau2 / (found.tau2 + frame["se"] ** 2)).to_numpy())


def test_where_nothing_differs_every_county_has_the_districts_slope() -> None:
    frame = pl.DataFrame({"slope": [0.02, 0.021, 0.019], "se": [0.1, 0.1, 0.1]})
    found = combine(frame)
    assert found is not None
    assert shrunk(frame, found).to_list() == pytest.approx([0.02] * 3)
