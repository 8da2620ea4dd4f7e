"""Trends of rates and shares, many series at once, held to a general program one series at a time."""

import math
from typing import Any

import numpy as np
import polars as pl
import pytest
from scipy.stats import t as student
from statsmodels.genmod.families import Binomial, Poisson
from statsmodels.genmod.generalized_linear_model import GLM

from warehouse.trends.rate_models import fit_rates
from warehouse.trends.rate_trend import fitted_band, rate_trends, share_band, share_trends


def ragged(seed: int, series: int = 50, seasons: int = 24) -> pl.DataFrame:
    """Series from none to hundreds of entries a season, a third of the seasons lacking, effort over a hundredfold."""
    random = np.random.default_rng(seed)
    key, year = np.repeat(np.arange(series), seasons), np.tile(np.arange(1999, 1999 + seasons), series)
    effort = 10 ** random.uniform(0, 2, len(key))
    rate = np.repeat(10 ** random.uniform(-3.5, 0.5, series), seasons) * random.gamma(3, 1 / 3, len(key))
    slope = np.repeat(random.normal(0, 0.05, series), seasons)
    count = random.poisson(effort * rate * np.exp(slope * (year - 2010)))
    frame = pl.DataFrame({"series": key, "year": year, "count": count, "effort": effort})
    return frame.filter(random.random(len(key)) < 0.67)


def ragged_shares(seed: int) -> pl.DataFrame:
    random = np.random.default_rng(seed)
    frame = ragged(seed).rename({"count": "out_of"})
    chance = random.beta(0.5, 1, 50)[frame["series"].to_numpy()]
    return frame.with_columns(pl.Series("count", random.binomial(frame["out_of"].to_numpy(), chance)))


def one_series(counts: list[int], effort: list[float] | None = None, first: int = 2001) -> pl.DataFrame:
    years = list(range(first, first + len(counts)))
    return pl.DataFrame({"series": "Elm", "year": years, "count": counts, "effort": effort or [1.0] * len(counts)})


def one_share(counts: list[int], out_of: list[int]) -> pl.DataFrame:
    return one_series(counts).with_columns(pl.Series("out_of", out_of)).drop("effort")


def general(seasons: pl.DataFrame, middle: float, share: bool) -> dict[str, float]:
    """What statsmodels' GLM, a program of its own, makes of one series."""
    time_ = seasons["year"].to_numpy() - middle
    count, design = seasons["count"].to_numpy(), np.column_stack([np.ones_like(time_), time_])
    if share:
        away = seasons["out_of"].to_numpy() - count
        model = GLM(np.column_stack([count, away]), design, family=Binomial())
    else:
        model = GLM(count, design, family=Poisson(), offset=np.log(seasons["effort"].to_numpy()))
    begun = model.fit(tol=1e-14, maxiter=200)
    found = model.fit(start_params=begun.params, tol=1e-14)  # its errors are those of the step before the last
    df = len(seasons) - 2
    phi = found.pearson_chi2 / df
    covariance = found.cov_params() * max(phi, 1.0)
    se = math.sqrt(covariance[1, 1])
    half = student.ppf(0.975, df) * se
    return {
        "slope": found.params[1], "se": se, "lower": found.params[1] - half, "upper": found.params[1] + half,
        "p": 2 * student.sf(abs(found.params[1]) / se, df), "phi": phi, "intercept": found.params[0],
        "var_intercept": covariance[0, 0], "cov_intercept_slope": covariance[0, 1],
    }  # fmt: skip


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("share", [False, True])
def test_many_series_at_once_are_as_each_by_itself(seed: int, share: bool) -> None:
    frame = ragged_shares(seed).filter(pl.col("out_of") > 0) if share else ragged(seed)
    trends = share_trends(frame) if share else rate_trends(frame)
    told = trends.filter(pl.col("refused").is_null())
    assert told.height > 15
    for row in told.iter_rows(named=True):
        expected = general(frame.filter(series=row["series"]), row["middle"], share)
        assert {name: row[name] for name in expected} == pytest.approx(expected, rel=1e-8, abs=1e-8)


def test_a_rate_that_grows_by_a_tenth_is_found_exactly() -> None:
    # Closed form: counts of 10^7 * 1.1^k, whole numbers to k = 7, times an effort of 2^k that is to be taken out.
    grown = [10 ** (7 - k) * 11**k * 2**k for k in range(8)]
    wide = one_series(grown, [2.0**k for k in range(8)])
    row = rate_trends(wide).row(0, named=True)
    assert (row["percent"], row["percent_lower"], row["percent_upper"]) == pytest.approx((10, 10, 10), abs=0.01)
    assert row["slope"] == pytest.approx(math.log(1.1), abs=1e-9)


def test_the_level_widens_the_interval_and_nothing_else() -> None:
    narrow, wide = (rate_trends(ragged(1), level).drop_nulls("slope") for level in (0.5, 0.99))
    assert (wide["lower"] < narrow["lower"]).all()
    assert (wide["percent_upper"] > narrow["percent_upper"]).all()
    assert narrow.select("slope", "se", "p").equals(wide.select("slope", "se", "p"))


def test_p_is_under_a_twentieth_where_the_interval_leaves_out_0() -> None:
    told = rate_trends(ragged(2, series=200)).drop_nulls("slope")
    assert (((told["lower"] > 0) | (told["upper"] < 0)) == (told["p"] < 0.05)).all()
    assert 0 < (told["p"] < 0.05).sum() < told.height


def test_effort_in_another_unit_moves_the_level_alone() -> None:
    frame = ragged(3)
    one, other = rate_trends(frame), rate_trends(frame.with_columns(pl.col("effort") * 1000))
    assert one["slope"].to_numpy() == pytest.approx(other["slope"].to_numpy(), rel=1e-8, abs=1e-10, nan_ok=True)
    away = (one["intercept"] - other["intercept"]).drop_nulls().to_numpy()
    assert away == pytest.approx(np.full(len(away), math.log(1000)))


def test_dispersion_under_1_is_told_but_not_used() -> None:
    steady = rate_trends(one_series([10] * 12)).row(0, named=True)
    assert steady["phi"] == pytest.approx(0, abs=1e-12)
    # Closed form: the variance of the slope is 1/(mean * sum of squared years from the middle).
    assert steady["se"] == pytest.approx(1 / math.sqrt(10 * 143))


def test_quasi_errors_are_those_of_the_model_of_one_series() -> None:
    seasons = one_series([3, 9, 1, 14, 2, 30, 8, 21, 5], [2.0, 3, 1, 4, 1, 6, 3, 5, 2])
    time_ = seasons["year"].to_numpy() - 2005.0
    one = fit_rates(seasons["count"], np.column_stack([np.ones(9), time_]), seasons["effort"])
    row = rate_trends(seasons).row(0, named=True)
    assert one.phi > 1
    assert (row["slope"], row["se"], row["phi"]) == pytest.approx((one.params[1], one.se_quasi[1], one.phi))


REFUSED: tuple[tuple[list[int], str | None], ...] = (
    ([4] * 7, "few-seasons"), ([0] * 7, "few-seasons"), ([4] * 8, None), ([0] * 8, "no-entries"),
    ([3, 0, 0, 0, 0, 0, 0, 0], "no-entries"), ([0, 0, 0, 0, 0, 0, 0, 9], "no-entries"),
    ([0, 3, 0, 0, 0, 0, 0, 0], None), ([3, 0, 0, 0, 0, 0, 0, 1], None),
)  # fmt: skip


@pytest.mark.parametrize(("counts", "refused"), REFUSED)
def test_a_series_is_refused_for_what_it_lacks(counts: list[int], refused: str | None) -> None:
    row = rate_trends(one_series(counts)).row(0, named=True)
    assert row["refused"] == refused
    assert (row["slope"] is None) == (row["p"] is None) == (row["middle"] is None) == (refused is not None)
    assert (row["seasons"], row["entries"]) == (len(counts), sum(counts))


def test_a_series_whose_steps_overshoot_comes_to_rest() -> None:
    effort = [0.01, 4000, 14, 7, 1300, 1, 12, 0.01, 67, 0.2, 0.01, 0.5, 0.1, 0.01, 1.3, 0.5, 0.4, 0.01, 4.2, 0.01]
    row = rate_trends(one_series([0] * 18 + [1, 0], effort)).row(0, named=True)
    fitted = np.array(effort) * fitted_band(row, range(2001, 2021))["rate"].to_numpy()
    # The likelihood equations: as many entries are fitted as there are, and in the same year on average.
    assert (fitted.sum(), (fitted * np.arange(2001, 2021)).sum()) == pytest.approx((1, 2019))


PARTED: tuple[tuple[list[int], str | None], ...] = (
    ([2] * 8, "no-entries"), ([0] * 8, "no-entries"), ([0, 0, 0, 0, 2, 2, 2, 2], "no-entries"),
    ([2, 2, 2, 1, 0, 0, 0, 0], "no-entries"), ([0, 0, 0, 2, 0, 2, 2, 2], None), ([0, 0, 0, 1, 1, 2, 2, 2], None),
)  # fmt: skip


@pytest.mark.parametrize(("counts", "refused"), PARTED)
def test_a_share_that_a_date_parts_has_no_slope(counts: list[int], refused: str | None) -> None:
    row = share_trends(one_share(counts, [2] * 8)).row(0, named=True)
    assert (row["refused"], row["share"], row["out_of"]) == (refused, sum(counts) / 16, 16)


def test_seasons_of_nothing_or_of_unknown_effort_are_no_seasons() -> None:
    whole = one_series([5, 3, 8, 6, 4, 9, 7, 8], [2.0, 1, 3, 2, 1, 4, 2, 2])
    more = pl.DataFrame({"series": ["Elm"] * 4, "year": [2011, 2012, 2013, 2014], "count": [4, None, 4, 9],
                         "effort": [None, 2.0, 0.0, float("nan")]})  # fmt: skip
    assert rate_trends(pl.concat([whole, more])).equals(rate_trends(whole))
    shares = one_share([1, 0, 3, 2, 2, 4, 1, 3, 0], [5, 3, 8, 6, 4, 9, 7, 8, 0])
    assert share_trends(shares).equals(share_trends(shares.head(8)))


def test_series_come_in_order_of_first_appearance_whatever_their_key() -> None:
    keys: list[Any] = [{"area": "B", "kind": 1}, {"area": "A", "kind": 2}, None]
    frames = [one_series([2, 1, 0, 4, 2, 2, 3, k]).with_columns(pl.lit(k).alias("series")) for k in (2, 1, 0)]
    named = pl.concat(frames).with_columns(pl.Series("series", [keys[k // 8] for k in range(24)]))
    assert rate_trends(named)["series"].to_list() == keys
    assert rate_trends(named).drop("series").equals(rate_trends(pl.concat(frames)).drop("series"))


def test_a_series_of_no_season_at_all_is_refused_and_no_series_is_an_empty_frame() -> None:
    unknown = one_series([1, 2]).with_columns(effort=pl.lit(None, dtype=pl.Float64))
    assert rate_trends(unknown).select("series", "seasons", "entries", "refused").row(0) == ("Elm", 0, 0, "few-seasons")
    assert rate_trends(unknown.head(0)).schema == rate_trends(unknown).schema


def test_the_band_is_the_rate_that_was_fitted() -> None:
    row = rate_trends(ragged(4)).drop_nulls("slope").row(0, named=True)
    band = fitted_band(row, [row["middle"], row["middle"] + 1])
    assert band["rate"][1] / band["rate"][0] == pytest.approx(1 + row["percent"] / 100)
    # Closed form: at the middle the interval is that of the intercept alone.
    half = student.ppf(0.975, row["seasons"] - 2) * math.sqrt(row["var_intercept"])
    assert band["upper"][0] == pytest.approx(math.exp(row["intercept"] + half))


@pytest.mark.parametrize("share", [False, True])
def test_the_band_is_that_of_a_general_program(share: bool) -> None:
    frame = ragged_shares(5) if share else ragged(5)
    frame = frame.filter(pl.col("out_of") > 0) if share else frame
    row = (share_trends(frame) if share else rate_trends(frame)).drop_nulls("slope").row(3, named=True)
    expected = general(frame.filter(series=row["series"]), 2030.0, share)  # the intercept moved to the year told
    half = student.ppf(0.95, row["seasons"] - 2) * math.sqrt(expected["var_intercept"])
    band = (share_band if share else fitted_band)(row, [2030.0], 0.9).row(0)
    logs = [math.log(v / (1 - v)) if share else math.log(v) for v in band[1:]]
    assert logs == pytest.approx([expected["intercept"] + k * half for k in (0, -1, 1)], rel=1e-6)


def test_a_refused_series_has_no_band() -> None:
    row = rate_trends(one_series([1, 2])).row(0, named=True)
    assert fitted_band(row, [2001, 2002]).shape == share_band(row, [2001]).shape == (0, 4)


MISTAKES = (
    (pl.col("year").replace(2003, 2002), "series 'Elm' has the season 2002 twice"),
    (pl.col("count").replace(3, -3), "a count cannot be negative: -3"),
)


@pytest.mark.parametrize(("change", "message"), MISTAKES)
def test_what_cannot_be_a_series_is_refused(change: pl.Expr, message: str) -> None:
    with pytest.raises(ValueError, match=f"^{message}$"):
        rate_trends(one_series([1, 2, 3]).with_columns(change))


def test_a_share_cannot_be_more_than_the_whole() -> None:
    with pytest.raises(ValueError, match=r"^4 cannot be a share of 3$"):
        share_trends(one_share([1, 4], [2, 3]))
