"""What a place will have in the end, held to the model of the whole region and to simulation."""

import numpy as np
import pytest

from tests.warehouse.trends.poisson_glm import fitted
from tests.warehouse.trends.published_triangles import TAYLOR_ASHE
from tests.warehouse.trends.test_completeness import filling
from warehouse.trends.completeness import Nowcast, chain_ladder, nowcast, over_dispersed_poisson


@pytest.mark.parametrize("season", range(1, 10))
def test_for_the_whole_region_it_is_the_fit_of_the_region(season: int) -> None:
    rows, model = chain_ladder(TAYLOR_ASHE), over_dispersed_poisson(TAYLOR_ASHE)
    age = rows.ages[season]
    found = nowcast(int(rows.latest[season]), rows.completeness[age], model.phi, model.var_growth_by_age[age])
    assert found.total == pytest.approx(rows.ultimate[season])
    assert found.error == pytest.approx(fitted(TAYLOR_ASHE).prediction_error[season], rel=1e-6)


def test_the_limits_are_lognormal_about_the_outstanding_and_whole() -> None:
    """Closed form: 60 seen of 100, variance 40 + 60 * (2/3)^2 = 66.67, sqrt(log(1 + 66.67 / 1600)) = .2020."""
    found = nowcast(60, 0.6, 1.0, 0.0)
    assert (found.lower, found.upper) == (86, 120)
    assert (found.total, found.error) == pytest.approx((100, 8.164966))


def test_where_nothing_is_seen_a_few_may_still_come() -> None:
    """Garwood 1936, Biometrika 28:437-442: the upper limit of a count of 0 is 3.689; here 3.689 * .75 / .25 = 11.07,
    and twice that.
    """
    assert nowcast(0, 0.25, 1.0, 0.1) == Nowcast(0.0, 0.0, 12.0, 0.0)
    assert nowcast(0, 0.25, 2.0, 0.1) == Nowcast(0.0, 0.0, 23.0, 0.0)


def test_a_complete_season_is_what_is_seen() -> None:
    assert nowcast(17, 1.0, 2.0, 0.1) == Nowcast(17.0, 17.0, 17.0, 0.0)


def test_a_completeness_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^a season of completeness 0\.0 tells nothing of what is to come$"):
        nowcast(5, 0.0, 1.0, 0.0)


@pytest.mark.parametrize(("mean", "completeness"), [(10, 0.3), (10, 0.9), (25, 0.6), (100, 0.3), (400, 0.9)])
def test_the_interval_of_a_place_holds_what_comes(mean: int, completeness: float) -> None:
    """Simulated, 2,000 places whose region's completeness is known."""
    source = np.random.default_rng(7)
    seen, rest = (source.poisson(mean * share, 2_000) for share in (completeness, 1 - completeness))
    casts = [nowcast(int(count), completeness, 1.0, 0.0) for count in seen]
    within = [cast.lower <= count <= cast.upper for cast, count in zip(casts, seen + rest, strict=True)]
    assert 0.94 <= np.mean(within) <= (0.975 if mean > 25 else 1)


def test_the_interval_of_a_place_holds_what_comes_where_completeness_is_estimated() -> None:
    """Simulated, 300 regions of nine seasons, where entries come three by three, each with a place of 90."""
    within = []
    for seed in range(300):
        model, source = over_dispersed_poisson(filling(seed)), np.random.default_rng([seed, 1])
        seen, rest = (3 * source.poisson(30 * share) for share in (0.6, 0.4))
        cast = nowcast(seen, model.completeness_by_age[1], model.phi, model.var_growth_by_age[1])
        within.append(cast.lower <= seen + rest <= cast.upper)
    assert np.mean(within) == pytest.approx(0.95, abs=0.03)
