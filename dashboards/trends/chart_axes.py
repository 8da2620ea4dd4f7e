"""Axes and layers of the charts: seasons by their years, so that a missing one leaves a gap; lengths in fractions."""

import math
from collections.abc import Sequence

import altair as alt

SEASON_TITLE = "Season"
_SEASON = "toString(datum.value) + '-' + slice(toString(datum.value + 1), 2)"
_STEPS = (1 / 8, 1 / 4, 1 / 2, 1, 2, 5, 10, 20)
_HALF_STEPS = (1 / 2, 1, 2, 5, 10, 20)
_TICKS = 6


def seasons_axis(first: int, last: int) -> alt.X:
    """The seasons that begin in the years `first` to `last`."""
    axis = alt.Axis(
        values=list(range(first, last + 1)),
        labelExpr=_SEASON,
        labelAngle=-90,
        grid=False,
        labelOverlap=True,
        tickMinStep=1,
    )
    scale = alt.Scale(domain=[first - 0.7, last + 0.7], nice=False, zero=False)
    return alt.X("year:Q", title=SEASON_TITLE, axis=axis, scale=scale)


def amounts_axis(least: float, most: float, *, length: bool) -> alt.Axis:
    """An axis of amounts between `least` and `most`, few enough ticks; lengths in eighths, else halves."""
    step = next((step for step in (_STEPS if length else _HALF_STEPS) if (most - least) / step <= _TICKS), 50)
    ticks = [step * place for place in range(math.ceil(least / step), math.floor(most / step) + 1)]
    if not length or step >= 1:
        return alt.Axis(
            values=ticks, labelExpr="toString(datum.value)"
        )  # a format would round halves to the ticks' step
    fraction = "floor(datum.value) + ' ' + round((datum.value - floor(datum.value)) * 8) + '/8'"
    return alt.Axis(values=ticks, labelExpr=fraction)


def layered(layers: Sequence[alt.Chart], height: int | alt.Step) -> alt.LayerChart:
    """The layers as one chart, the first undermost."""
    chart: alt.LayerChart = alt.LayerChart(layer=list(layers)).properties(height=height)
    return chart
