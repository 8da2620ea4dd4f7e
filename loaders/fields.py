"""The fields of a wide row (one sheet a row), under the names that scripts rely on."""

from functools import cache

from warehouse import checks
from warehouse.categories import all_categories
from warehouse.scoring import TOTALS

IDENTITY = ("entry_no", "category", "hunter", "tag_no")
PLACE = ("area", "state", "district")
TAKING = ("taken_on", "season", "weapon", "antler_state", "age")
MEASURING = ("measured_on", "measurer")
# a file without such a column lacks nothing: antlers are hard unless told, and few jaws are aged
SELDOM_STATED = ("antler_state", "age")
ENTRY = IDENTITY + PLACE + TAKING + MEASURING
COUNTS = ("points_r", "points_l")
ABNORMAL = checks.ABNORMAL


@cache
def measure_fields() -> tuple[str, ...]:
    """Every measure of any category, each once, in sheet order (abnormal points apart)."""
    return tuple(dict.fromkeys(name for category in all_categories().values() for name in category.measures))


@cache
def difference_fields() -> tuple[str, ...]:
    """The stated side-to-side difference of every paired line of any category."""
    return tuple(dict.fromkeys(line.difference for category in all_categories().values() for line in category.pairs))


@cache
def stated_fields() -> tuple[str, ...]:
    """Every figure a sheet may state: the differences and the totals."""
    return difference_fields() + TOTALS


@cache
def all_fields() -> tuple[str, ...]:
    """Every field, in the order a wide row is usually written."""
    return ENTRY + COUNTS + measure_fields() + ABNORMAL + stated_fields()
