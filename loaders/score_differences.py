"""What the ledger holds of some revisions against what their cells give: the first difference, and how many there are."""

from dataclasses import dataclass

import polars as pl

from loaders.rescored import Expected
from warehouse.eighths import text_of
from warehouse.scoring import TOTALS

FIELDS = (
    "category", "unit", "entry_no", "hunter", "tag_no", "area_written", "taken_on", "weapon", "measured_on", "antler_state",
    "age_half_years", "points_r", "points_l", *(f"stated_{total}" for total in TOTALS), *TOTALS, "measure_key",
)  # fmt: skip
LENGTHS = frozenset((*TOTALS, *(f"stated_{total}" for total in TOTALS)))
SIDES = {
    "right_units": "{}_r", "left_units": "{}_l", "single_units": "{}", "stated_difference": "{}_diff",
}  # fmt: skip


@dataclass(frozen=True)
class Difference:
    """One figure of one revision: `place` of the revision among those compared, and both values in words."""

    place: int
    field: str
    stored: str
    found: str


def first_difference(stored: pl.DataFrame, lines: pl.DataFrame, expected: Expected) -> Difference | None:
    """The first difference, by revision; within one its fields before its lines. None where there is none.

    `stored`: as `Stored.revisions`, one row for each of `expected.revisions`, in the same order; `lines`: as
    `Stored.lines`, of these revisions (of others too).
    """
    of_fields = _fields(stored, expected.revisions)
    of_lines = _lines(stored, lines, expected)
    told = [one for one in (of_fields, of_lines) if one is not None]
    return min(told, key=lambda one: one.place, default=None)


def _fields(stored: pl.DataFrame, found: pl.DataFrame) -> Difference | None:
    flags = pl.DataFrame([stored[field].ne_missing(found[field]).alias(field) for field in FIELDS])
    flags = flags.with_columns(flags["entry_no"] & stored["tells_number"])
    differing = flags.select(pl.any_horizontal(pl.all())).to_series().arg_true()
    if not len(differing):
        return None
    place = int(differing[0])
    field = next(name for name, differs in zip(FIELDS, flags.row(place), strict=True) if differs)
    unit = found["unit"][place]
    values = (_words(frame[field][place], unit if field in LENGTHS else None) for frame in (stored, found))
    return Difference(place, field, *values)


def _lines(stored: pl.DataFrame, lines: pl.DataFrame, expected: Expected) -> Difference | None:
    """Lines are compared one by one of the category's, so that no more than one is joined at a time."""
    places = stored.select("revision_id", pl.int_range(pl.len(), dtype=pl.UInt32).alias("revision"))
    held = lines.join(places, on="revision_id").drop("revision_id").select(expected.lines.columns)
    held_of, found_of = (frame.partition_by("line", as_dict=True) for frame in (held, expected.lines))
    nothing = expected.lines.clear()
    first: Difference | None = None
    for key in sorted(held_of.keys() | found_of.keys()):
        pair = held_of.get(key, nothing), found_of.get(key, nothing)
        one = _line(str(key[0]), *pair, expected.revisions["unit"])
        if one is not None and (first is None or one.place < first.place):
            first = one
    return first


def _line(line: str, held: pl.DataFrame, found: pl.DataFrame, units: pl.Series) -> Difference | None:
    held, found = held.sort("revision"), found.sort("revision")
    if held.equals(found, null_equal=True):
        return None
    # a line that stands twice is told from itself by its `nth`
    sides = [frame.with_columns(nth=pl.int_range(pl.len()).over("revision")).drop("line") for frame in (held, found)]
    both = (
        sides[0]
        .with_columns(there=True)
        .join(sides[1].with_columns(there=True), on=["revision", "nth"], how="full", coalesce=True, suffix="_found")
    )
    differs = [pl.col(name).ne_missing(pl.col(f"{name}_found")) for name in (*SIDES, "there")]
    row = both.filter(pl.any_horizontal(differs)).sort("revision", "nth").head(1).to_dicts()[0]
    name = next((name for name in SIDES if row[name] != row[f"{name}_found"]), "single_units")
    unit = units[int(row["revision"])]
    words = [
        _words(row[f"{name}{suffix}"], unit) if row[f"there{suffix}"] else "no such line" for suffix in ("", "_found")
    ]
    return Difference(int(row["revision"]), SIDES[name].format(line), *words)


def _words(value: object, unit: int | None) -> str:
    """A value for a sentence; lengths (those with a unit) as on a sheet."""
    if value is None:
        return "nothing"
    return text_of(value, unit) if isinstance(value, int) and unit else f"'{value}'"
