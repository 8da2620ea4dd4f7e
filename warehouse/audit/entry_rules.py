"""What is asked of an entry beside its measures: dates, season, drying, area, weapon, category, measurer.

The frame: "id"; `entry_no`, `category`, `area_code`, `district`, `weapon`, `measurer_no` (String, null: not
resolved), `taken_on`, `measured_on` (Date), `season` (of the date), `season_stated`; `text.<field>` as received;
`<field>.serial` (Boolean, date from a bare spreadsheet number); `weapon.unclear`, `age.unread`, `area.repaired`,
`number.fractional` (Boolean); `area.hint` (String, close names). Where the book knows changes of area codes:
`area.ended_code` (String, the code as resolved, where it had ended by the date taken), `area.ended_on` (Date).
"""

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import polars as pl

from warehouse.audit.rules import Rule
from warehouse.categories import all_categories

DRYING_DAYS = 60  # common practice, no source: measured on or after the date taken plus 60 days
AGES = "years in halves from 0.5 to 20, like 4.5"
DATE_WORDS = {"taken_on": "date taken", "measured_on": "date measured"}


@dataclass(frozen=True)
class EntryContext:
    """What the entries are held to: today's date, the columns their file has, the reference tables there are."""

    today: date
    present: frozenset[str]
    knows_areas: bool
    knows_measurers: bool
    knows_area_changes: bool = False


@lru_cache(maxsize=64)
def entry_rules(context: EntryContext) -> tuple[Rule, ...]:
    """The rules that the file's columns and the book's reference tables allow to be tried."""
    rules = [*_dates(context), *_season(), *_words(context), *_area(context)]
    return tuple(rule for rule in rules if set(rule.cells) & context.present)


def _given(field: str) -> pl.Expr:
    return pl.col(f"text.{field}").str.strip_chars() != ""


def _iso(column: str) -> pl.Expr:
    return pl.col(column).dt.to_string("%Y-%m-%d")


def _dates(context: EntryContext) -> list[Rule]:
    rules = []
    for field, words in DATE_WORDS.items():
        text = pl.col(f"text.{field}")
        rules += [
            Rule("date-missing", (field,), ~_given(field).fill_null(False),
                 pl.lit(f"The {words} is not on the sheet.")),
            Rule("date-unreadable", (field,), _given(field) & pl.col(field).is_null(),
                 pl.format(f"The {words} {{}} cannot be read; write it as year-month-day.", text),
                 stated=text, expected=pl.lit("a date like 2025-11-08")),
            Rule("date-serial", (field,), pl.col(f"{field}.serial"),
                 pl.format(f"The {words} is the bare spreadsheet number {{}}, which would be {{}}; is that the date?", text, _iso(field)),
                 stated=text, expected=_iso(field)),
            Rule("date-in-future", (field,), pl.col(field) > context.today,
                 pl.format(f"The {words} {{}} is after today, {context.today.isoformat()}.", _iso(field)),
                 stated=_iso(field), expected=pl.lit(f"not after {context.today.isoformat()}")),
        ]  # fmt: skip
    return rules + _drying()


def _drying() -> list[Rule]:
    days = (pl.col("measured_on") - pl.col("taken_on")).dt.total_days()
    both = ("taken_on", "measured_on")
    earliest = pl.col("taken_on") + pl.duration(days=DRYING_DAYS)
    return [
        Rule("measured-before-taken", both, days < 0,
             pl.format("Measured on {}, before it was taken on {}.", _iso("measured_on"), _iso("taken_on")),
             stated=_iso("measured_on"), expected=pl.format("{} or later", earliest.dt.to_string("%Y-%m-%d"))),
        Rule("dried-short", both, days.is_between(0, DRYING_DAYS - 1),
             pl.format(f"Dried {{}} days, from {{}} to {{}}; official measuring waits {DRYING_DAYS} days.",
                       days, _iso("taken_on"), _iso("measured_on")),
             stated=pl.format("{} days", days), expected=pl.format("{} or later", earliest.dt.to_string("%Y-%m-%d"))),
    ]  # fmt: skip


def _season() -> list[Rule]:
    text, stated, computed = pl.col("text.season"), pl.col("season_stated"), pl.col("season")
    return [
        Rule("season-mismatch", ("season", "taken_on"), _given("season") & computed.is_not_null() & stated.ne_missing(computed),
             pl.format("A head taken on {} belongs to the season {}; the sheet says {}.", _iso("taken_on"), computed, text),
             stated=text, expected=computed),
    ]  # fmt: skip


def _words(context: EntryContext) -> list[Rule]:
    rules = [
        Rule("category-unknown", ("category",), pl.col("category").is_null(),
             pl.format("The category {} is not known; nothing can be scored without it.", _quoted("category")),
             stated=pl.col("text.category"), expected=pl.lit(", ".join(all_categories()))),
        Rule("weapon-unknown", ("weapon",), pl.col("weapon").is_null() & ~pl.col("weapon.unclear"),
             pl.format("The weapon {} is not known.", _quoted("weapon")),
             stated=pl.col("text.weapon"), expected=pl.lit("rifle, shotgun, handgun, muzzleloader, bow, crossbow or found")),
        Rule("weapon-unclear", ("weapon",), pl.col("weapon.unclear"),
             pl.format("The weapon {} may be a rifle, a shotgun or a handgun; which was it?", _quoted("weapon")),
             stated=pl.col("text.weapon"), expected=pl.lit("rifle, shotgun or handgun")),
        Rule("antler-state-unknown", ("antler_state",), _given("antler_state") & pl.col("antler_state").is_null(),
             pl.format("The antlers are called {}; are they hard or in velvet?", _quoted("antler_state")),
             stated=pl.col("text.antler_state"), expected=pl.lit("hard or velvet")),
        Rule("age-unread", ("age",), pl.col("age.unread"),
             pl.format(f"The age {{}} is not kept; expected {AGES}.", _quoted("age")),
             stated=pl.col("text.age"), expected=pl.lit(AGES)),
        Rule("number-not-whole", ("entry_no",), pl.col("number.fractional"),
             pl.format("The entry number {} is no whole number; a spreadsheet may have changed it.", _quoted("entry_no")),
             stated=pl.col("text.entry_no"), expected=pl.lit("a whole number or a text")),
    ]  # fmt: skip
    if context.knows_measurers:
        rules.append(
            Rule("measurer-unknown", ("measurer",), pl.col("measurer_no").is_null(),
                 pl.format("The measurer {} is not in the book's table of measurers; only certified measurers count.", _quoted("measurer")),
                 stated=pl.col("text.measurer"), expected=pl.lit("a measurer's number or name"))
        )  # fmt: skip
    return rules


def _quoted(field: str) -> pl.Expr:
    given = pl.col(f"text.{field}").fill_null("").str.strip_chars()
    return pl.when(given == "").then(pl.lit("(blank)")).otherwise(pl.format("'{}'", given))


def _area(context: EntryContext) -> list[Rule]:
    if not context.knows_areas:
        return []
    hint = (
        pl.when(pl.col("area.hint") != "")
        .then(pl.format(" Did you mean {}?", pl.col("area.hint")))
        .otherwise(pl.lit(""))
    )
    text = pl.col("text.area")
    unknown = pl.format("The county or parish {} is not in the book's table of areas.", _quoted("area"))
    read_as = pl.col("area_code")
    if context.knows_area_changes:
        ended, day = pl.col("area.ended_code"), _iso("area.ended_on")
        split = pl.format("The county or parish {} was split on {} (code {}).", _quoted("area"), day, ended)
        unknown = pl.when(ended.is_not_null()).then(split).otherwise(unknown)
        read_as = pl.coalesce(ended, read_as)
    same_district = (
        pl.col("text.district").str.strip_chars().str.to_lowercase() == pl.col("district").str.to_lowercase()
    )
    return [
        Rule("area-unknown", ("area",), pl.col("area_code").is_null(), pl.concat_str(unknown, hint),
             stated=text, expected=pl.when(pl.col("area.hint") != "").then(pl.col("area.hint"))),
        Rule("area-code-repaired", ("area",), pl.col("area.repaired"),
             pl.format("The area code {} had lost its leading zero; read as {}.", text, read_as),
             stated=text, expected=read_as),
        *(_followed() if context.knows_area_changes else []),
        Rule("district-mismatch", ("district",), _given("district") & ~same_district,
             pl.format("{} lies in the district {}; the sheet says {}.", pl.col("area_name"), pl.col("district"), pl.col("text.district")),
             stated=pl.col("text.district"), expected=pl.col("district")),
    ]  # fmt: skip


def _followed() -> list[Rule]:
    ended, now = pl.col("area.ended_code"), pl.col("area_code")
    return [
        Rule("area-code-followed", ("area",), ended.is_not_null() & now.is_not_null(),
             pl.format("The area code {} ended on {}; a head taken on {} lies in {} ({}).",
                       ended, _iso("area.ended_on"), _iso("taken_on"), now, pl.col("area_name")),
             stated=pl.col("text.area"), expected=now),
    ]  # fmt: skip
