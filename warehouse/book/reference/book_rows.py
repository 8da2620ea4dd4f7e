"""Rows about record books: their rules and their minimums, both from season to season."""

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, model_validator

from warehouse.book.reference.cells import AreaCodes, Count, SeasonLabel, States, TableRow, Text, Texts, YesNo
from warehouse.book.reference.measuring_rows import check_period
from warehouse.categories import all_categories
from warehouse.eighths import units_of

WEAPONS = {
    "rifle": "firearm", "shotgun": "firearm", "handgun": "firearm", "muzzleloader": "muzzleloader", "bow": "bow",
    "crossbow": "crossbow", "found": "found",
}  # fmt: skip
"""Weapon -> its class, as in the book's table of weapons."""
WEAPON_CLASSES = ("any", *dict.fromkeys(WEAPONS.values()))
DRYING_DAYS = 60  # common practice, no source


def _weapons(named: list[str]) -> list[str]:
    """Weapons in the order of `WEAPONS`; a class stands for its weapons, "any" for all, which is an empty list."""
    words = {name.lower() for name in named}
    unknown = sorted(words - {*WEAPONS, *WEAPON_CLASSES})
    if unknown:
        known = ", ".join(dict.fromkeys((*WEAPON_CLASSES, *WEAPONS)))
        raise ValueError(f"{', '.join(map(repr, unknown))} is no weapon; expected any of: {known}")
    return [weapon for weapon, kind in WEAPONS.items() if words & {weapon, kind}] if "any" not in words else []


class RecordBookRow(TableRow):
    """A record book's rules from season to season. A blank list means all; blank days mean no cut-off."""

    book: Text
    first_season: SeasonLabel
    last_season: SeasonLabel | None = None
    score: Literal["net", "gross"] = "net"
    tie_rule: Literal["shared", "gross", "taken"] = "shared"
    weapons: Annotated[Texts, AfterValidator(_weapons)] = Field(default_factory=list)
    takes_found: YesNo = True
    drying_days: Count = DRYING_DAYS
    certificates: Texts = Field(default_factory=list)
    states: States = Field(default_factory=list)
    districts: Texts = Field(default_factory=list)
    areas: AreaCodes = Field(default_factory=list)
    measured_within_days: Count | None = None
    received_within_days: Count | None = None

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> "RecordBookRow":
        check_period(self.first_season, self.last_season)
        if "found" in self.weapons and not self.takes_found:
            raise ValueError("weapons lists found, but takes_found says no; say one of the two")
        return self


class MinimumRow(TableRow):
    """A book's minimum ("125 0/8") for a category, weapon class ("any" for all) and state of antlers, season to season."""

    book: Text
    category: Text
    weapon_class: Text
    antler_state: Literal["any", "hard", "velvet"] = "any"
    minimum: Text
    first_season: SeasonLabel
    last_season: SeasonLabel | None = None

    @model_validator(mode="after")
    def _is_in_units(self) -> "MinimumRow":
        if self.category not in all_categories():
            raise ValueError(f"category {self.category!r} is not known; expected one of: {', '.join(all_categories())}")
        if self.weapon_class not in WEAPON_CLASSES:
            raise ValueError(
                f"weapon_class {self.weapon_class!r} is not known; expected one of: {', '.join(WEAPON_CLASSES)}"
            )
        check_period(self.first_season, self.last_season)
        self.units()
        return self

    def units(self) -> int:
        """The minimum in whole units of its category; a number alone is whole inches."""
        unit = all_categories()[self.category].unit
        return units_of(f"{self.minimum} 0/{unit}" if self.minimum.isdigit() else self.minimum, unit)

    def stored(self) -> dict[str, Any]:
        """Column -> value; the minimum is kept in units."""
        values = self.model_dump(exclude={"minimum"})
        return values | {"minimum_units": self.units()}
