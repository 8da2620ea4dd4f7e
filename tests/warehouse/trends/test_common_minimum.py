"""The highest minimum of a window is what every entry of it must reach; each change of rule is named."""

from typing import Any

import polars as pl
import pytest

from warehouse.trends.common_minimum import CommonMinimum, ShorterWindow, common_minimum, shorter_windows

SCHEMA = {
    "season": pl.String(),
    "weapon": pl.String(),
    "antler_state": pl.String(),
    "minimum_units": pl.Int32(),
    "score": pl.String(),
}
RAISED = [("2010-11", 1000), ("2011-12", 1000), ("2012-13", 1040), ("2013-14", 1080), ("2014-15", 1080)]


def found(*rows: tuple[Any, ...]) -> CommonMinimum:
    """Of rows of season and units and, where they matter, weapon and score."""
    usual = ("rifle", "net")
    full = [(season, (*given, *usual[len(given) :])) for season, units, *given in rows]
    units = [row[1] for row in rows]
    told = [(season, weapon, "hard", unit, score) for (season, (weapon, score)), unit in zip(full, units, strict=True)]
    return common_minimum(pl.DataFrame(told, schema=SCHEMA, orient="row"))


def test_the_cut_is_the_highest_minimum_of_any_season() -> None:
    assert found(*RAISED).units == 1080


def test_the_cut_is_the_highest_of_the_weapons_that_are_compared() -> None:
    assert found(("2010-11", 1000, "rifle"), ("2010-11", 880, "bow")).units == 1000


@pytest.mark.parametrize("rows", [(), (("2010-11", None),)], ids=["no season", "no minimum"])
def test_without_a_minimum_there_is_no_cut(rows: tuple[tuple[str, None], ...]) -> None:
    nothing = found(*rows)
    assert nothing.units is None
    assert nothing.by_season.is_empty()
    assert shorter_windows(nothing) == ()


def test_every_raise_is_marked_in_the_season_it_begins() -> None:
    assert found(*RAISED).changes.rows() == [("2012-13", 1000, 1040), ("2013-14", 1040, 1080)]


def test_a_minimum_that_is_lowered_is_a_change_too() -> None:
    assert found(("2010-11", 1040), ("2011-12", 1000)).changes.rows() == [("2011-12", 1040, 1000)]


def test_a_change_of_one_weapon_is_told_although_the_highest_stays() -> None:
    rows = [("2010-11", 1000, "rifle"), ("2011-12", 1000, "rifle"), ("2010-11", 880, "bow"), ("2011-12", 920, "bow")]
    told = found(*rows)
    assert told.changes.rows() == [("2011-12", 880, 920)]
    assert told.by_season["highest"].to_list() == [1000, 1000]


def test_a_season_without_a_minimum_is_no_change() -> None:
    assert found(("2010-11", 1000), ("2011-12", None), ("2012-13", 1000)).changes.is_empty()


def test_seasons_ranked_by_net_and_by_gross_are_mixed() -> None:
    assert not found(*RAISED).mixed_scores
    assert found(("2010-11", 1000, "rifle", "net"), ("2011-12", 1000, "rifle", "gross")).mixed_scores


def test_shorter_windows_are_the_runs_under_the_common_minimum() -> None:
    expected = (ShorterWindow("2010-11", "2011-12", 1000), ShorterWindow("2012-13", "2012-13", 1040))
    assert shorter_windows(found(*RAISED)) == expected
