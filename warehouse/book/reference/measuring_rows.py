"""Rows about when and by whom heads are measured: certificates and seasons."""

from pydantic import model_validator

from warehouse.book.reference.cells import Day, SeasonLabel, TableRow, Text


def check_period(first_season: str, last_season: str | None) -> None:
    """Raise ValueError for a period that ends before it began."""
    if last_season is not None and last_season < first_season:
        raise ValueError(f"last_season {last_season} is before first_season {first_season}")


class MeasurerRow(TableRow):
    """One certificate of a measurer; an open one has no end. `certificate` is its kind."""

    measurer_no: Text
    name: Text
    certified_from: Day
    certified_to: Day | None = None
    certificate: Text = "official"

    @model_validator(mode="after")
    def _ends_after_it_began(self) -> "MeasurerRow":
        if self.certified_to is not None and self.certified_to < self.certified_from:
            raise ValueError(f"certified_to {self.certified_to} is before certified_from {self.certified_from}")
        return self


class SeasonRow(TableRow):
    """A season's label and its first and last day."""

    season: SeasonLabel
    starts_on: Day
    ends_on: Day

    @model_validator(mode="after")
    def _ends_after_it_began(self) -> "SeasonRow":
        if self.ends_on <= self.starts_on:
            raise ValueError(f"ends_on {self.ends_on} is not after starts_on {self.starts_on}")
        return self
