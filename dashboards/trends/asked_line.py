"""What was asked for, as the first JSON line of every report of figures says it."""

from typing import Any

from warehouse.book.trend_figures.counting import Counted
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.eighths import text_of


def asked(settings: TrendSettings, place: str, counted: Counted) -> dict[str, Any]:
    """The settings, the place in words, and the cut. A length is text, with its whole units beside it."""
    return {
        "book": settings.book, "category": settings.category, "place": place, "district": settings.district,
        "area_code": settings.area, "weapons": settings.weapons, "first_season": settings.first_season,
        "last_season": settings.last_season, "as_of": settings.as_of, "spread": settings.spread, "day": settings.day,
        "unit": counted.unit, **length("cut", counted.cut, counted.unit),
        **length("common_minimum", counted.minimum.units, counted.unit),
    }  # fmt: skip


def length(name: str, units: int | None, unit: int) -> dict[str, Any]:
    """`name`: the length as text, and `name`_units; both null for none."""
    return {name: None if units is None else text_of(units, unit), f"{name}_units": units}
