"""The filters of rates alone, in the address: what they are per, the second cut, the spread of all bucks."""

from dataclasses import replace
from typing import Literal, cast

from dashboards import filters
from warehouse.book.trend_figures.settings import SECOND_INCHES, TrendSettings
from warehouse.trends.effort import Effort

EFFORTS = {
    "harvest": "Antlered deer harvested", "licences": "Licences sold", "area": "Square miles (a density)",
    "none": "None: only counts",
}  # fmt: skip
SECONDS = {str(inches): f"{inches} inches above it" for inches in (5, 10, SECOND_INCHES, 20, 25, 30)}
SPREADS = {str(inches): f"{inches} inches (SD), from elsewhere" for inches in range(10, 23)}
OPTIONS = {"effort": EFFORTS, "second": SECONDS, "spread": SPREADS}
"""Address key -> options."""


def with_rates(settings: TrendSettings) -> TrendSettings:
    """Draw the filters and add what they ask for."""
    effort = filters.maybe_one("Rates are per", "effort", EFFORTS, "What is known enough")
    second = filters.one("Second cut", "second", SECONDS, str(SECOND_INCHES))
    spread = filters.maybe_one("Spread of all bucks", "spread", SPREADS, "Not known")
    return replace(
        settings, effort=cast(Effort | Literal["none"] | None, effort), second=int(second),
        spread=float(spread) if spread else None,
    )  # fmt: skip
