"""Ticks of amounts: few, within the range, and each label the amount that it stands at."""

import pytest

from dashboards.trends.chart_axes import amounts_axis


@pytest.mark.parametrize(
    ("least", "most", "length", "ticks"),
    [
        (4.4, 4.9, True, [4.5, 4.625, 4.75, 4.875]), (137.0, 149.0, True, [138, 140, 142, 144, 146, 148]), (110.0, 150.0, True, [110, 120, 130, 140, 150]),
        (3.5, 6.5, False, [3.5, 4, 4.5, 5, 5.5, 6, 6.5]), (10.0, 13.0, False, [10, 10.5, 11, 11.5, 12, 12.5, 13]),
    ],
)  # fmt: skip
def test_ticks_stand_within_the_range(least: float, most: float, length: bool, ticks: list[float]) -> None:
    assert amounts_axis(least, most, length=length).to_dict()["values"] == pytest.approx(ticks)


def test_halves_are_not_rounded_by_a_format() -> None:
    axis = amounts_axis(3.5, 6.5, length=False).to_dict()
    assert "format" not in axis
    assert axis["labelExpr"] == "toString(datum.value)"
