"""Rate and share are read together: a rate that moves alone may be zeal."""

import pytest

from warehouse.trends.verdict import Direction, adjusted_direction, direction, verdict


@pytest.mark.parametrize(("lower", "upper", "said"), [(0.01, 0.04, "up"), (-0.04, -0.01, "down"), (-0.01, 0.01, "unclear"),
                                                       (0.0, 0.04, "unclear"), (None, None, "unknown")])  # fmt: skip
def test_a_slope_goes_where_its_whole_interval_lies(lower: float | None, upper: float | None, said: str) -> None:
    assert direction(lower, upper) == said


@pytest.mark.parametrize(("rate", "share", "said"), [
    ("up", "up", "both-up"), ("down", "down", "both-down"), ("up", "unclear", "rate-up-alone"), ("up", "unknown", "rate-up-alone"),
    ("down", "unclear", "rate-down-alone"), ("unclear", "up", "share-up-alone"), ("unclear", "down", "share-down-alone"),
    ("up", "down", "opposed"), ("down", "up", "opposed"), ("unclear", "unclear", "neither"), ("unclear", "unknown", "neither"),
    ("unknown", "up", "unknown"), ("unknown", "unknown", "unknown"),
])  # fmt: skip
def test_what_both_say_together(rate: Direction, share: Direction, said: str) -> None:
    assert verdict(rate, share) == said


@pytest.mark.parametrize(
    ("slope", "p", "said"),
    [
        (0.02, 0.04, "up"),
        (-0.02, 0.04, "down"),
        (0.02, 0.051, "unclear"),
        (None, None, "unknown"),
        (0.02, None, "unknown"),
    ],
)
def test_among_many_places_a_slope_goes_where_its_adjusted_p_lets_it(
    slope: float | None, p: float | None, said: str
) -> None:
    assert adjusted_direction(slope, p) == said
