"""Areas as of the date taken: codes that ended by a rename or merger are followed forward, never through a split.

Also the district that an area lay in then, where that changed from season to season. Source of such changes: the US
Census Bureau's notes on substantial changes to counties (codes in INCITS 31 form).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

import polars as pl

SPLIT = "split"
_ROUTES = pl.Schema({
    "area_code": pl.String(), "since": pl.Date(), "then.code": pl.String(), "then.name": pl.String(),
    "then.district": pl.String(), "then.hint": pl.String(), "area.ended_on": pl.Date(),
})  # fmt: skip
_DISTRICTS = pl.Schema(
    {"area_code": pl.String(), "then.first": pl.Int32(), "then.last": pl.Int32(), "then.district": pl.String()}
)


class Named(NamedTuple):
    """What an area's code is called, and its district."""

    name: str
    district: str


class End(NamedTuple):
    """The first day on which a code counts no longer, how it ended (see `area_change.kind`), and what took over."""

    day: date
    kind: str
    codes: tuple[str, ...]


@dataclass(frozen=True)
class AreaHistory:
    """`routes`: for each code that ended, what it is since each day; `districts`: for each area, since each season."""

    routes: pl.DataFrame
    districts: pl.DataFrame


def make_history(
    areas: Mapping[str, Named],
    changes: Iterable[tuple[str, str, date, str]],
    districts: Iterable[tuple[str, str, str, str | None]] = (),
) -> AreaHistory | None:
    """From rows (old code, new code, day, kind) and (code, district, first season, last season); None for no rows."""
    ends: dict[str, End] = {}
    for old, new, day, kind in changes:
        known = ends.get(old)
        ends[old] = End(day, kind, (*(known.codes if known else ()), new))
    routes = pl.DataFrame([row for code in ends for row in _route(code, ends, areas)], schema=_ROUTES, orient="row")
    periods = [(code, int(first[:4]), int(last[:4]) if last else 9999, name) for code, name, first, last in districts]
    if not (routes.height or periods):
        return None
    lying = pl.DataFrame(periods, schema=_DISTRICTS, orient="row").sort("then.first")
    latest = routes.unique(["area_code", "since"], keep="last", maintain_order=True)  # a code that lasted no day
    return AreaHistory(latest.sort("since"), lying)


def _route(code: str, ends: Mapping[str, End], areas: Mapping[str, Named]) -> Iterable[tuple[object, ...]]:
    """The rows of one code that ended, in the order of their days."""
    now, since, passed = code, date.min, {code}
    while now in ends:
        end = ends[now]
        since = max(since, end.day)
        if end.kind == SPLIT:
            hint = " or ".join(areas[new].name if new in areas else new for new in end.codes)
            yield code, since, None, None, None, hint, since
            return
        now = end.codes[0]
        named = areas.get(now, Named(now, ""))
        yield code, since, now, named.name, named.district, "", ends[code].day
        if now in passed:
            return
        passed.add(now)


def as_of_date_taken(history: AreaHistory, entries: pl.DataFrame) -> pl.DataFrame:
    """The resolved entries with each area as it was when the head was taken.

    Changes `area_code`, `area_name`, `district` and `area.hint`; adds `area.ended_code` (String: the code as resolved,
    where it had ended) and `area.ended_on` (Date). After a split the area is not known, and the hint names the new ones.
    A head without a date keeps the area as written.
    """
    return _in_its_district(history.districts, _followed(history.routes, entries))


def _followed(routes: pl.DataFrame, entries: pl.DataFrame) -> pl.DataFrame:
    ended = entries.select("id", "area_code", "taken_on").join(
        routes.select("area_code").unique(), on="area_code", how="semi"
    )
    found = (
        ended.drop_nulls("taken_on")
        .sort("taken_on")
        .join_asof(routes, left_on="taken_on", right_on="since", by="area_code", check_sortedness=False)
        .drop_nulls("since")
        .select("id", "^then\\..*$", "area.ended_on", pl.col("area_code").alias("area.ended_code"))
    )
    joined = entries.join(found, on="id", how="left", maintain_order="left")
    has_ended = pl.col("area.ended_code").is_not_null()
    columns = {"area_code": "code", "area_name": "name", "district": "district", "area.hint": "hint"}
    return joined.with_columns(
        pl.when(has_ended).then(f"then.{now}").otherwise(was).alias(was) for was, now in columns.items()
    ).drop("^then\\..*$")


def _in_its_district(districts: pl.DataFrame, entries: pl.DataFrame) -> pl.DataFrame:
    if not districts.height:
        return entries
    season = pl.coalesce("season", "season_stated").str.head(4).cast(pl.Int32)
    of_season = entries.select("id", "area_code", season.alias("year")).drop_nulls().sort("year")
    found = (
        of_season.join_asof(districts, left_on="year", right_on="then.first", by="area_code", check_sortedness=False)
        .filter(pl.col("year") <= pl.col("then.last"))
        .select("id", "then.district")
    )
    joined = entries.join(found, on="id", how="left", maintain_order="left")
    return joined.with_columns(pl.coalesce("then.district", "district").alias("district")).drop("then.district")
