"""Rates of small areas, drawn in and told apart, held to published maps."""

from collections.abc import Sequence

import numpy as np
import polars as pl
import pytest
from scipy.stats import nbinom, poisson

from tests.warehouse.trends.nc_sids import DATA, first_period
from warehouse.trends.small_areas import funnel, funnel_limits, gamma_poisson, marshall, winsorised_phi

# Lip cancer in the 56 districts of Scotland, observed and expected (Clayton & Kaldor 1987, Biometrics 43:671-681).
LIP_CANCER = np.array((
    (9, 1.4), (39, 8.7), (11, 3), (9, 2.5), (15, 4.3), (8, 2.4), (26, 8.1), (7, 2.3), (6, 2), (20, 6.6), (13, 4.4),
    (5, 1.8), (3, 1.1), (8, 3.3), (17, 7.8), (9, 4.6), (2, 1.1), (7, 4.2), (9, 5.5), (7, 4.4), (16, 10.5), (31, 22.7),
    (11, 8.8), (7, 5.6), (19, 15.5), (15, 12.5), (7, 6), (10, 9), (16, 14.4), (11, 10.2), (5, 4.8), (3, 2.9), (7, 7),
    (8, 8.5), (11, 12.3), (9, 10.1), (11, 12.7), (8, 9.4), (6, 7.2), (4, 5.3), (10, 18.8), (8, 15.8), (2, 4.3),
    (6, 14.6), (19, 50.7), (3, 8.2), (2, 5.6), (3, 9.3), (28, 88.7), (6, 19.6), (1, 3.4), (1, 3.6), (1, 5.7), (1, 7),
    (0, 4.2), (0, 1.8),
)).T  # fmt: skip


def areas(count: Sequence[int | None], effort: Sequence[float | None]) -> pl.DataFrame:
    return pl.DataFrame({"count": count, "effort": effort}, schema={"count": pl.Int64, "effort": pl.Float64})


# R 4.2 spdep EBest, the same by esda 2.9.0.
@pytest.mark.parametrize(
    ("county", "rate", "smoothed"),
    [("Anson", 0.0095541, 0.0048388), ("Northampton", 0.0063336, 0.0035349), ("Forsyth", 0.00084331, 0.00105702),
     ("Mecklenburg", 0.00203817, 0.00203635), ("Alleghany", 0.0, 0.00170538)],
)  # fmt: skip
def test_a_county_of_carolina_is_drawn_in_as_published(county: str, rate: float, smoothed: float) -> None:
    row = marshall(first_period()).row(by_predicate=pl.col("county") == county, named=True)
    assert row["rate"] == pytest.approx(rate, abs=6e-8)
    assert row["smoothed"] == pytest.approx(smoothed, rel=2e-5)


def test_the_counties_of_carolina_have_their_mean_and_spread() -> None:
    frame = marshall(first_period())
    assert (frame["effort"].sum(), frame["count"].sum()) == (329962, 667)
    # R spdep EBest: m .0020214449, a 7.692931e-07, told here by the weight a/(a + m/effort) of the smallest county.
    m, a = 0.0020214449, 7.692931e-07
    least = frame.sort("effort").row(0, named=True)
    assert least["weight"] == pytest.approx(a / (a + m / least["effort"]), rel=1e-6)


def test_drawing_in_changes_who_is_first() -> None:
    # R spdep EBest, the four highest in order.
    ranked = marshall(first_period()).sort("smoothed", descending=True)["county"].head(4)
    assert ranked.to_list() == ["Anson", "Halifax", "Northampton", "Robeson"]


def test_the_data_of_marshall_himself_are_drawn_in_as_by_two_programs() -> None:
    # Deaths of children under five in 167 areas of Auckland 1977-85 (Marshall 1991), from R's spData 2.2.1; figures
    # by R spdep EBest, the same by esda 2.9.0: rates per child and year of nine.
    children = pl.read_csv(DATA / "auckland.csv")
    frame = children.select(count="deaths_1977_85", effort=9.0 * pl.col("children_under_5_1981"))
    assert (frame.height, frame["count"].sum(), frame["effort"].sum()) == (167, 1403, 9 * 59196)
    smoothed = marshall(frame)["smoothed"].to_numpy() * 1000
    assert smoothed[:3] == pytest.approx([2.978034, 2.865623, 2.118165], abs=5e-7)
    assert (smoothed.min(), smoothed.max()) == pytest.approx((1.486783, 4.530620), abs=5e-7)


def test_the_districts_of_scotland_are_drawn_in_as_by_two_programs() -> None:
    # R spdep EBest, the same by esda 2.9.0.
    frame = marshall(pl.DataFrame(LIP_CANCER.T, schema=["count", "effort"]))
    ends = frame["smoothed"].to_numpy()[[0, 1, 54, 55]]
    assert ends == pytest.approx([3.872811, 4.046609, 0.228612, 0.408779], abs=5e-7)
    m, a = 0.9996270, 0.8027001
    assert frame["weight"][0] == pytest.approx(a / (a + m / 1.4), abs=1e-6)


def test_the_districts_of_scotland_have_their_gamma() -> None:
    # R 4.2 optim on the likelihood of Clayton & Kaldor.
    nu, alpha, smoothed = gamma_poisson(*LIP_CANCER)
    assert (nu, alpha) == pytest.approx((1.8795, 1.3217), abs=5e-5)
    assert smoothed[[0, 1, 54, 55]] == pytest.approx([3.9974, 4.0791, 0.3404, 0.6021], abs=5e-5)


def test_no_other_gamma_is_likelier() -> None:
    count, expected = LIP_CANCER
    nu, alpha, _ = gamma_poisson(count, expected)

    def likelihood(nu: float, alpha: float) -> float:
        return float(nbinom.logpmf(count, nu, alpha / (alpha + expected)).sum())

    for by in (0.99, 1.01):
        assert likelihood(nu, alpha) > max(likelihood(nu * by, alpha), likelihood(nu, alpha * by))


def test_areas_that_differ_no_more_than_chance_are_all_drawn_in() -> None:
    assert gamma_poisson([11, 18, 31], [10, 20, 30])[2] == pytest.approx([1, 1, 1], abs=1e-3)
    assert gamma_poisson([0, 0, 0], [10, 20, 30])[2] == pytest.approx([0, 0, 0], abs=1e-6)


@pytest.mark.parametrize(("count", "expected"), [([1, 2], [1, 0]), ([1, -2], [1, 1])])
def test_a_gamma_needs_counts_and_expected_counts(count: list[int], expected: list[int]) -> None:
    with pytest.raises(ValueError, match=r"^counts must be 0 or more, and expected counts above 0$"):
        gamma_poisson(count, expected)


@pytest.mark.parametrize("count", [[5, 6, 5, 4], [5, 5, 5, 5]])
def test_a_spread_less_than_chance_draws_all_in_to_the_mean(count: list[int]) -> None:
    # Closed form: the variance between areas comes out below 0 and is taken as 0, so that no weight leaves 0 to 1.
    effort = [100, 110, 90, 100] if count[0] != count[1] else [100] * 4
    frame = marshall(areas(count, effort))
    assert frame["smoothed"].to_list() == pytest.approx([0.05] * 4)
    assert frame["weight"].to_list() == [0] * 4


@pytest.mark.parametrize("seed", range(20))
def test_weights_are_from_0_to_1_and_grow_with_effort(seed: int) -> None:
    random = np.random.default_rng(seed)
    effort = 10 ** random.uniform(0, 4, 40)
    frame = marshall(pl.DataFrame({"count": random.poisson(effort * random.gamma(0.5 + seed, 0.01)), "effort": effort}))
    assert frame["weight"].is_between(0, 1).all()
    assert frame.sort("effort")["weight"].is_sorted()
    between = (frame["smoothed"] - frame["rate"]) * (frame["count"].sum() / effort.sum() - frame["rate"])
    assert (between >= -1e-18).all()


def test_an_area_of_unknown_effort_or_count_has_no_rate_and_moves_no_other() -> None:
    known = areas([5, 9, 1], [100, 110, 90])
    more = marshall(pl.concat([known, areas([3, None, 2, 4], [0, 50, None, float("nan")])]))
    assert more.head(3).equals(marshall(known))
    assert more.tail(4).select("rate", "weight", "smoothed").null_count().row(0) == (4, 4, 4)


def test_areas_without_a_single_entry_have_the_rate_0() -> None:
    assert marshall(areas([0, 0], [10, 20])).select("rate", "weight", "smoothed").rows() == [(0, 0, 0)] * 2


# Spiegelhalter 2005, Stat. Med. 24:1185-1202 (the formula from memory), worked with scipy 1.17.
@pytest.mark.parametrize(
    ("mean", "limits"),
    [(1, (0, 0, 2.9019, 4.8676)), (5, (0, 0.5421, 9.3766, 12.7714)), (10, (1.2205, 3.7752, 16.1600, 20.6620)),
     (50, (29.1228, 36.1217, 63.8305, 72.7514))],
)  # fmt: skip
def test_the_funnel_has_its_limits(mean: float, limits: tuple[float, ...]) -> None:
    assert funnel_limits([mean])[0] == pytest.approx(limits, abs=5e-5)


def test_a_limit_lies_between_the_counts_that_are_just_inside_and_just_outside() -> None:
    means = np.linspace(20, 400, 381)
    limits = funnel_limits(means, (0.025, 0.975))
    assert (np.diff(limits, axis=0) > 0).all()
    assert (poisson.cdf(np.floor(limits), means[:, None]) <= [0.025, 0.975]).all()
    assert (poisson.cdf(np.ceil(limits), means[:, None]) >= [0.025, 0.975]).all()


def test_the_counties_of_carolina_stand_in_the_funnel_as_counted() -> None:
    # R 4.2 and scipy 1.17: four counties outside 99.8 %, 15 outside 95 %; chi-square 225.572 on 99; phi 1.2746.
    frame = funnel(first_period(), widen=False)
    assert set(frame.filter(flag="above")["county"]) == {"Northampton", "Halifax", "Anson", "Robeson"}
    assert frame.filter(flag="below").is_empty()
    outside = (pl.col("count") > pl.col("upper_95")) | (pl.col("count") < pl.col("lower_95"))
    assert frame.filter(outside).height == 15
    assert (frame["z"] ** 2).sum() == pytest.approx(225.572, abs=5e-4)
    assert (frame["z"] ** 2).mean() == pytest.approx(2.2557, abs=5e-5)
    assert frame["phi"][0] == pytest.approx(1.2746, abs=5e-5)


def test_a_funnel_is_widened_by_the_root_of_phi() -> None:
    plain, wide = funnel(first_period(), widen=False), funnel(first_period())
    away = [(f["upper_998"] - f["expected"]).to_numpy() for f in (wide, plain)]
    assert away[0] / away[1] == pytest.approx(np.full(100, 1.2746**0.5), abs=5e-5)
    assert set(wide.filter(flag="above")["county"]) < set(plain.filter(flag="above")["county"])


def test_areas_that_differ_less_than_chance_do_not_narrow_the_funnel() -> None:
    frame = funnel(areas([50] * 20, [1.0] * 20))
    assert frame["phi"][0] == pytest.approx(0)
    assert frame["upper_998"][0] == pytest.approx(72.7514, abs=5e-5)


def test_an_area_is_flagged_below_as_well_as_above() -> None:
    frame = funnel(areas([50] * 20 + [25, 80, 36], [1.0] * 23))
    assert frame["flag"].to_list() == [""] * 20 + ["below", "above", ""]


def test_an_area_that_is_not_known_stands_in_no_funnel() -> None:
    known = areas([5, 9, 1], [100, 110, 90])
    more = funnel(pl.concat([known, areas([3, None, 2], [0, 50, None])]))
    assert more.head(3).equals(funnel(known))
    assert more.tail(3).select("expected", "z", "lower_998", "upper_95", "flag").rows() == [(None,) * 4 + ("",)] * 3


def test_without_a_single_entry_the_funnel_is_shut() -> None:
    frame = funnel(areas([0, 0], [10, 20]))
    assert frame.select("z", "phi", "upper_998", "flag").rows() == [(None, None, 0, "")] * 2


def test_one_outsize_area_hardly_moves_phi() -> None:
    z = np.append(np.linspace(-2, 2, 40), 50.0)
    assert winsorised_phi(z) < 1.5 < np.mean(z**2)
    assert np.isnan(winsorised_phi([]))
