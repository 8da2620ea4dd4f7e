"""What a trend is asked of: a record book and category, weapons, a place, seasons, cuts and a day."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from warehouse.book.named_query import Parameter
from warehouse.errors import NotInBook
from warehouse.trends.effort import Effort

SECOND_INCHES = 15


@dataclass(frozen=True)
class TrendSettings:
    """Entries that qualify in `book`, of `category`. None and () mean any, or what the program chooses.

    `weapons`: weapons or classes of weapons. `district`, `area` (a code, also one that others took over from): one place; both None: all that the book
    covers. `effort`: what rates are per, "none" for counts. `cut`: in units, in place of the common minimum and never
    below it. `second`: how far the second cut lies above the first, in inches. `spread`: the
    standard deviation of all bucks in inches, known from outside the book. `as_of`: only what was known when that day
    (UTC) ended. `today`: the day of asking.
    """

    book: str
    category: str
    today: date
    weapons: tuple[str, ...] = ()
    district: str | None = None
    area: str | None = None
    first_season: str | None = None
    last_season: str | None = None
    effort: Effort | Literal["none"] | None = None
    cut: int | None = None
    second: int = SECOND_INCHES
    spread: float | None = None
    as_of: date | None = None

    def __post_init__(self) -> None:
        """Raise NotInBook for a day that has not come."""
        if self.as_of is not None and self.as_of > self.today:
            raise NotInBook(f"cannot tell what will be known on {self.as_of}; expected a day up to today, {self.today}")

    @property
    def day(self) -> date:
        """The day of looking at the book."""
        return self.as_of or self.today

    def of_book(self) -> dict[str, Parameter]:
        """The parameters that say which entries are counted at all."""
        return {
            "book": self.book, "category": self.category, "first_season": self.first_season,
            "last_season": self.last_season,
        }  # fmt: skip
