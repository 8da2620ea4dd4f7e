"""The lines through the median, the upper quarter and the upper tenth of entries, in sentences."""

from dashboards.number_words import limits, share, signed
from dashboards.trends.tail_words import only_class
from warehouse.book.trend_figures.antlers import Antlers
from warehouse.trends.quantile_trend import FEWEST_BEYOND, QuantileTrend
from warehouse.trends.rank_trend import MINIMUM_SEASONS
from warehouse.trends.tails import mean_gain_of_share
from warehouse.trends.verdict import direction

NAMES = {0.5: "Median", 0.75: "Upper quarter", 0.9: "Upper tenth"}
"""What a quantile is called; above it lie half, a quarter, a tenth of the entries."""
REFUSALS = {
    "few-seasons": f"no line, for fewer than {MINIMUM_SEASONS} complete seasons have entries",
    "few-beyond": f"no line, for fewer than {FEWEST_BEYOND} entries are to be expected beyond it",
}
"""Why there is no line."""
SMALL_PART = (
    "Quantiles of entries are quantiles of the tail above the cut, and show only a small part of a change of the "
    "herd: no change here "
    "is no sign that the deer did not change."
)
AS_FITTED = (
    "Each line is fitted by itself over the complete seasons, so lines may cross; they are shown as they are. "
    "Intervals: whole seasons drawn anew."
)

DIGITS = 2  # as printed: an interval that ends on 0.00 holds none


def sentences(antlers: Antlers) -> list[str]:
    """Each line's slope or why there is none, and what the lines cannot tell."""
    return [*(line_sentence(line) for line in antlers.quantiles), SMALL_PART, *how_small(antlers), AS_FITTED]


def how_small(antlers: Antlers) -> list[str]:
    """What part of a change of the herd's mean the mean of entries shows.

    Nothing where the harvest is not known, or where it is of every weapon and the entries are of one class alone.
    """
    above = antlers.tail.above
    if only_class(antlers) is not None or antlers.effort.kind != "harvest" or above is None or above >= 1:
        return []
    return [
        f"{share(above)} of the harvested bucks are here, at or above the cut: if scores are normally distributed, of a "
        f"change of the herd’s mean the mean of such entries shows about {100 * mean_gain_of_share(above):.0f} % of it."
    ]


def line_sentence(line: QuantileTrend) -> str:
    """ "Upper tenth: +0.29 inches a year (95 % interval +0.03 to +0.47).", or why there is no line."""
    name = NAMES[line.tau]
    if line.refused is not None or line.slope is None or line.lower is None or line.upper is None:
        return f"{name}: {REFUSALS[line.refused or 'few-seasons']}."
    unclear = (
        "no clear change; " if direction(round(line.lower, DIGITS), round(line.upper, DIGITS)) == "unclear" else ""
    )
    return f"{name}: {unclear}{signed(line.slope, DIGITS)} inches a year ({limits(line.lower, line.upper, DIGITS)})."
