"""What the digits behind a decimal mark can mean, for a unit of eighths or sixteenths.

Two habits write the same thing: the decimal (8.5 is 8 4/8) and the tenths place that counts eighths (8.5 is
8 5/8). True fractions are also rounded to one, two or three places (.125 -> .1, .13). Every digit string that any
habit can write is listed here once, with what each habit means by it.
"""

from functools import cache

import polars as pl

PLACES = 4


def _roundings(n: int, unit: int, places: int) -> set[str]:
    """The ways n/unit is written with so many places: exact, or rounded half up or half to even."""
    scaled, rest = divmod(n * 10**places, unit)
    twice = 2 * rest
    if twice < unit:
        kept = {scaled}
    elif twice > unit:
        kept = {scaled + 1}
    else:
        kept = {scaled + 1, scaled + scaled % 2}
    return {f"{value:0{places}d}" for value in kept if value < 10**places}


def _decimal_readings(unit: int) -> dict[str, int]:
    """Digit string -> n where some rounding of n/unit writes it, and no other n does."""
    meant: dict[str, set[int]] = {}
    for places in range(1, PLACES + 1):
        for n in range(unit):
            for digits in _roundings(n, unit, places):
                meant.setdefault(digits, set()).add(n)
    return {digits: next(iter(ns)) for digits, ns in meant.items() if len(ns) == 1}


def _is_exact(digits: str, n: int, unit: int) -> bool:
    return int(digits) * unit == n * int(10 ** len(digits))


@cache
def digit_readings(unit: int) -> pl.DataFrame:
    """Table of `digits`, `in_units` (the digits count units), `as_decimal` and `sure` (only one meaning).

    `in_units` and `as_decimal` are Int32 parts of an inch, null where the habit cannot write these digits.
    One meaning is sure when both habits agree, or when the decimal has two places or more; a lone `.8` can only be
    a rounded 6/8, but eighths do not go that far, so it stays open.
    """
    decimal = _decimal_readings(unit)
    counted = {str(n): n for n in range(unit)}
    rows: list[tuple[str, int | None, int | None, bool]] = []
    for digits in sorted(decimal.keys() | counted.keys()):
        as_units = counted.get(digits)
        as_decimal = decimal.get(digits)
        agreed = as_units == as_decimal or as_decimal is None
        written_out = (
            as_units is None and as_decimal is not None and (len(digits) > 1 or _is_exact(digits, as_decimal, unit))
        )
        rows.append((digits, as_units, as_decimal, agreed or written_out))
    return pl.DataFrame(
        rows,
        schema={"digits": pl.String, "in_units": pl.Int32, "as_decimal": pl.Int32, "sure": pl.Boolean},
        orient="row",
    )
