"""What was asked for, as the rows (setting, value, meaning) that go with the figures of every page."""

from warehouse.book.trend_figures.counting import Counted
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.eighths import text_of

Row = tuple[str, object, str]


def asked_rows(settings: TrendSettings, place: str) -> list[Row]:
    """Which entries."""
    return [
        ("book", settings.book, "record book in which the entries qualify"),
        ("category", settings.category, "category of the entries"),
        ("weapons", ", ".join(settings.weapons), "weapons or classes of weapons; empty: any"),
        ("place", place, "district or area, or all that the record book covers"),
        ("first_season", settings.first_season, "asked for; empty: the first with an entry"),
        ("last_season", settings.last_season, "asked for; empty: the last with an entry"),
    ]


def day_rows(settings: TrendSettings) -> list[Row]:
    """As known when."""
    return [
        ("as_of", settings.as_of, "the book as it was known when this day (UTC) ended; empty: as it is now"),
        ("day", settings.day, "day (UTC) of looking at the book, on which completeness is told"),
    ]


def length_rows(counted: Counted) -> list[Row]:
    """The unit of lengths, and the minimum that all the seasons share."""
    least = None if counted.minimum.units is None else text_of(counted.minimum.units, counted.unit)
    return [
        ("unit", counted.unit, "lengths in units are whole parts of 1/so many inch"),
        ("common_minimum", least, "inches: the highest minimum in force in these seasons"),
    ]
