"""The kinds of cells that the reference tables have, each with what is expected of it in words."""

import re
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from warehouse.book.reference.season_labels import label_of, year_of

MOST = 2**31 - 1  # an INTEGER of the book


class TableRow(BaseModel):
    """A row of a reference table; `stored` gives the columns of the book's table."""

    model_config = ConfigDict(extra="forbid", str_strip_whitespace=True)

    def stored(self) -> dict[str, Any]:
        """Column -> value, as the book keeps it."""
        return self.model_dump()


def _season(label: str) -> str:
    if not re.fullmatch(r"\d{4}-\d{2}", label) or label != label_of(year_of(label)):
        raise ValueError(f"found {label!r}; expected a season like 2024-25")
    return label


def _listed(value: Any) -> Any:
    """A CSV cell lists its items separated by ";", TOML as a list."""
    if isinstance(value, str):
        value = [item for item in map(str.strip, value.split(";")) if item]
    return value


def _yes_or_no(value: Any) -> Any:
    return {"yes": True, "no": False}.get(value.strip().lower(), value) if isinstance(value, str) else value


AreaCode = Annotated[str, Field(pattern=r"^\d{5}$")]
SeasonLabel = Annotated[str, AfterValidator(_season)]
State = Annotated[str, Field(pattern=r"^[A-Z]{2}$")]
Text = Annotated[str, Field(min_length=1)]
Count = Annotated[int, Field(ge=0, le=MOST)]
SquareMiles = Annotated[Decimal, Field(ge=0, max_digits=12, decimal_places=2)]
YesNo = Annotated[bool, BeforeValidator(_yes_or_no)]
Texts = Annotated[list[Text], BeforeValidator(_listed)]
States = Annotated[list[State], BeforeValidator(_listed)]
AreaCodes = Annotated[list[AreaCode], BeforeValidator(_listed)]
Day = date

_DATE, _COUNT = "a date like 2024-07-01", "a whole number, 0 or more"
EXPECTED = {
    "area_code": "five digits like 07001", "old_code": "five digits like 07001", "new_code": "five digits like 07001",
    "state": "two capital letters like QM", "starts_on": _DATE, "ends_on": _DATE, "certified_from": _DATE,
    "certified_to": _DATE, "changed_on": _DATE, "score": "net or gross", "tie_rule": "shared, gross or taken",
    "takes_found": "yes or no", "drying_days": _COUNT, "measured_within_days": _COUNT, "received_within_days": _COUNT,
    "licences_sold": _COUNT, "antlered_harvest": _COUNT, "square_miles": "square miles like 612 or 612.5",
    "kind": "renamed, merged or split", "antler_state": "any, hard or velvet",
    "states": "states of two capital letters, separated by ;", "areas": "area codes of five digits, separated by ;",
    "weapons": "weapons or weapon classes, separated by ;", "districts": "districts, separated by ;",
    "certificates": "kinds of certificates, separated by ;", "measured_on": _DATE,
    "line": "net, gross or a measure of a sheet, with its side where it has two: beam_r, g1_l, inside_spread",
    "length": "inches and eighths like 21 0/8 or 3/8, never negative",
}  # fmt: skip
"""Field -> what stands in it; any other holds a text."""
