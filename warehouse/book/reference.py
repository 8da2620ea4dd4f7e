"""The book's reference tables: areas, aliases, measurers, seasons, minimums, saved heading mappings."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import duckdb
import polars as pl
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, model_validator

from warehouse.categories import all_categories
from warehouse.eighths import units_of
from warehouse.errors import ReferenceRefused
from warehouse.plain_text import shown

Optional = BeforeValidator(lambda value: None if value in ("", None) else value)
AreaCode = Annotated[str, Field(pattern=r"^\d{5}$")]
SeasonLabel = Annotated[str, Field(pattern=r"^\d{4}-\d{2}$")]
Text = Annotated[str, Field(min_length=1)]
WEAPON_CLASSES = ("any", "firearm", "muzzleloader", "bow", "crossbow", "found")  # "any", and those of the weapon table


class _Row(BaseModel):
    model_config = ConfigDict(extra="forbid", str_strip_whitespace=True)


class AreaRow(_Row):
    """A county or parish: five-digit code in INCITS 31 form, name, state; kind, district and region may be blank."""

    area_code: AreaCode
    name: Text
    kind: str = "county"
    state: Annotated[str, Field(pattern=r"^[A-Z]{2}$")]
    district: str = ""
    region: str = ""


class AliasRow(_Row):
    """Another spelling of an area's name."""

    alias: Text
    area_code: AreaCode


class MeasurerRow(_Row):
    """One certificate of a measurer; an open one has no end."""

    measurer_no: Text
    name: Text
    certified_from: date
    certified_to: Annotated[date | None, Optional] = None

    @model_validator(mode="after")
    def _ends_after_it_began(self) -> "MeasurerRow":
        if self.certified_to is not None and self.certified_to < self.certified_from:
            raise ValueError(f"certified_to {self.certified_to} is before certified_from {self.certified_from}")
        return self


class SeasonRow(_Row):
    """A season's label and its first and last day."""

    season: SeasonLabel
    starts_on: date
    ends_on: date

    @model_validator(mode="after")
    def _ends_after_it_began(self) -> "SeasonRow":
        if self.ends_on <= self.starts_on:
            raise ValueError(f"ends_on {self.ends_on} is not after starts_on {self.starts_on}")
        return self


class MinimumRow(_Row):
    """A book's minimum ("125 0/8") for a category and weapon class ("any" for all), from season to season."""

    book: Text
    category: Text
    weapon_class: Text
    minimum: Text
    first_season: SeasonLabel
    last_season: Annotated[SeasonLabel | None, Optional] = None

    @model_validator(mode="after")
    def _is_in_units(self) -> "MinimumRow":
        if self.category not in all_categories():
            raise ValueError(f"category {self.category!r} is not known; expected one of: {', '.join(all_categories())}")
        if self.weapon_class not in WEAPON_CLASSES:
            raise ValueError(
                f"weapon_class {self.weapon_class!r} is not known; expected one of: {', '.join(WEAPON_CLASSES)}"
            )
        if self.last_season is not None and self.last_season < self.first_season:
            raise ValueError(f"last_season {self.last_season} is before first_season {self.first_season}")
        self.units()
        return self

    def units(self) -> int:
        """The minimum in whole units of its category."""
        return units_of(self.minimum, all_categories()[self.category].unit)


@dataclass(frozen=True)
class Table:
    """A reference table: its row model and the column that must not come twice."""

    model: type[_Row]
    unique: str | None = None


TABLES: dict[str, Table] = {
    "area": Table(AreaRow, "area_code"),
    "area_alias": Table(AliasRow),
    "measurer": Table(MeasurerRow),
    "season": Table(SeasonRow, "season"),
    "minimum": Table(MinimumRow),
}


def check_rows(
    table: str,
    file: str,
    rows: Iterable[tuple[int, Mapping[str, str | None]]],
    areas: Collection[str] | None = None,
) -> list[Any]:
    """Check the rows (file row number, column -> text) of one table; every problem is named, not only the first.

    `areas`: the codes that an alias may stand for, None where they are not known. Raises ReferenceRefused naming
    file, row and field.
    """
    kind = TABLES[table]
    good: list[Any] = []
    problems: list[str] = []
    first_seen: dict[str, int] = {}
    for number, row in rows:
        try:
            checked = kind.model.model_validate({key: value or "" for key, value in row.items() if key})
        except ValidationError as refusal:
            problems += [_problem(file, number, error, row) for error in refusal.errors()]
            continue
        key = getattr(checked, kind.unique) if kind.unique else None
        if key is not None and key in first_seen:
            problems.append(
                f"{shown(file)}, row {number}, {kind.unique}: {key!r} stands in row {first_seen[key]} already"
            )
        elif key is not None:
            first_seen[key] = number
        if areas is not None and isinstance(checked, AliasRow) and checked.area_code not in areas:
            problems.append(
                f"{shown(file)}, row {number}, area_code: found {checked.area_code!r}; expected the code of an area"
            )
        good.append(checked)
    if problems:
        more = f"\n... and {len(problems) - 20} more" if len(problems) > 20 else ""
        raise ReferenceRefused("\n".join(problems[:20]) + more)
    return good


_SEASON, _DATE = "a season like 2024-25", "a date like 2024-07-01"
_EXPECTED = {
    "area_code": "five digits like 07001", "state": "two capital letters like QM",
    "season": _SEASON, "first_season": _SEASON, "last_season": _SEASON,
    "starts_on": _DATE, "ends_on": _DATE, "certified_from": _DATE, "certified_to": _DATE,
}  # fmt: skip


def _problem(file: str, number: int, error: Any, row: Mapping[str, str | None]) -> str:
    name = str(error["loc"][0]) if error["loc"] else "row"
    where = f"{shown(file)}, row {number}, {name}"
    if error["type"] == "value_error":  # a rule of ours, which says it all
        return f"{where}: {shown(error['msg'].removeprefix('Value error, '))}"
    return f"{where}: found {shown(row.get(name) or '', 40)!r}; expected {_EXPECTED.get(name, 'a text')}"


def write_rows(connection: duckdb.DuckDBPyConnection, table: str, rows: Sequence[Any]) -> None:
    """Put checked rows into an empty reference table."""
    values = [row.model_dump() for row in rows]
    if table == "minimum":
        values = [{**value, "minimum_units": row.units()} for value, row in zip(values, rows, strict=True)]
        values = [{key: item for key, item in value.items() if key != "minimum"} for value in values]
    for value in values:
        marks = ", ".join("?" for _ in value)
        connection.execute(f"INSERT INTO {table} ({', '.join(value)}) VALUES ({marks})", list(value.values()))


def read_names(connection: duckdb.DuckDBPyConnection) -> tuple[list[Any], list[Any], list[Any], pl.DataFrame]:
    """Areas (code, name, state, district), aliases (alias, code), measurers (number, name), and the seasons."""
    areas = connection.execute("SELECT area_code, name, state, district FROM area ORDER BY area_code").fetchall()
    aliases = connection.execute("SELECT alias, area_code FROM area_alias ORDER BY ALL").fetchall()
    measurers = connection.execute("SELECT DISTINCT measurer_no, name FROM measurer ORDER BY ALL").fetchall()
    seasons = connection.sql("SELECT season, starts_on, ends_on FROM season ORDER BY starts_on").pl()
    return areas, aliases, measurers, seasons


def save_mapping(connection: duckdb.DuckDBPyConnection, name: str, mapping: Mapping[str, str]) -> None:
    """Keep a heading mapping under a name, in place of an older one of that name."""
    connection.execute("DELETE FROM heading_mapping WHERE name = ?", [name])
    for heading, target in mapping.items():
        connection.execute("INSERT INTO heading_mapping VALUES (?, ?, ?)", [name, heading, target])


def read_mapping(connection: duckdb.DuckDBPyConnection, name: str) -> dict[str, str]:
    """A saved mapping, heading -> field; empty where there is none of that name."""
    rows = connection.execute(
        "SELECT heading, field FROM heading_mapping WHERE name = ? ORDER BY heading", [name]
    ).fetchall()
    return dict(rows)
