"""Which effort rates are per: harvest before licences before square miles, and none where too little is known."""

import polars as pl
import pytest

from warehouse.trends.effort import ChosenEffort, Effort, choose_effort


def effort(harvest: list[float | None], licences: list[float | None], area: list[float | None]) -> pl.DataFrame:
    return pl.DataFrame(
        {"harvest": harvest, "licences": licences, "area": area},
        schema=dict.fromkeys(("harvest", "licences", "area"), pl.Float64),
    )


FULL: list[float | None] = [9.0] * 4
HALF: list[float | None] = [9.0, None, 9.0, 0.0]
LESS: list[float | None] = [9.0, None, 0.0, None]
NONE: list[float | None] = [None] * 4


@pytest.mark.parametrize(("harvest", "licences", "area", "expected"), [
    (FULL, FULL, FULL, ChosenEffort("harvest", 1.0)), (HALF, FULL, FULL, ChosenEffort("harvest", 0.5)),
    (LESS, FULL, FULL, ChosenEffort("licences", 1.0)), (NONE, LESS, FULL, ChosenEffort("area", 1.0)),
    (NONE, NONE, LESS, ChosenEffort(None, 0.0)),
])  # fmt: skip
def test_the_first_that_is_known_of_half_the_ground(
    harvest: list[float | None], licences: list[float | None], area: list[float | None], expected: ChosenEffort
) -> None:
    assert choose_effort(effort(harvest, licences, area), 4) == expected


@pytest.mark.parametrize(
    ("asked", "expected"), [("licences", ChosenEffort("licences", 0.25)), ("area", ChosenEffort(None, 0.0))]
)
def test_what_is_asked_for_is_taken_if_it_is_known_at_all(asked: Effort, expected: ChosenEffort) -> None:
    assert choose_effort(effort(FULL, LESS, NONE), 4, asked) == expected


def test_a_place_without_areas_has_no_effort() -> None:
    assert choose_effort(effort([], [], []), 0) == ChosenEffort(None, 0.0)
