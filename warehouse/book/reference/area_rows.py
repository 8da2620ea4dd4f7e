"""Rows about areas: what they are called, where they lie, what became of their codes, how much is hunted there."""

from typing import Literal

from pydantic import model_validator

from warehouse.book.reference.cells import AreaCode, Count, Day, SeasonLabel, SquareMiles, State, TableRow, Text
from warehouse.book.reference.measuring_rows import check_period


class AreaRow(TableRow):
    """A county or parish: five-digit code in INCITS 31 form, name, state; kind, district and region may be blank."""

    area_code: AreaCode
    name: Text
    kind: str = "county"
    state: State
    district: str = ""
    region: str = ""


class AliasRow(TableRow):
    """Another spelling of an area's name."""

    alias: Text
    area_code: AreaCode


class DistrictRow(TableRow):
    """The district (and region) of an area from season to season, where it is not that of the area table for good."""

    area_code: AreaCode
    district: Text
    region: str = ""
    first_season: SeasonLabel
    last_season: SeasonLabel | None = None

    @model_validator(mode="after")
    def _ends_after_it_began(self) -> "DistrictRow":
        check_period(self.first_season, self.last_season)
        return self


class ChangeRow(TableRow):
    """A code that ended, and one that took over from it on its first day; a split has one row for each new code."""

    old_code: AreaCode
    new_code: AreaCode
    changed_on: Day
    kind: Literal["renamed", "merged", "split"]


class EffortRow(TableRow):
    """An area in one season: its square miles, the licences sold and the antlered deer taken there; blanks allowed."""

    area_code: AreaCode
    season: SeasonLabel
    square_miles: SquareMiles | None = None
    licences_sold: Count | None = None
    antlered_harvest: Count | None = None
