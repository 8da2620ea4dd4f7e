"""The composition of what is above the cut, from the book."""

from datetime import date
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from tests.record_books import AREAS, BOOK, MINIMUM, head, insert
from warehouse.book import database
from warehouse.book.trend_figures.antlers import Antlers, read_antlers
from warehouse.book.trend_figures.settings import TrendSettings

HEADS: tuple[dict[str, Any], ...] = (
    {"points_r": 5, "points_l": 6, "age_half_years": 9, "beam": (176, 180), "spread": 144},
    {"points_r": 4, "points_l": 4, "age_half_years": 7, "beam": (160, 161), "spread": 136},
    {
        "points_r": 5,
        "points_l": 5,
        "age_half_years": None,
        "beam": (150, 150),
        "spread": 130,
        "area_code": "07003",
        "weapon": "bow",
    },
    {"points_r": 9, "points_l": 9, "age_half_years": 20, "beam": (240, 240), "spread": 200, "net": 999, "gross": 1045},
)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three heads that qualify in 2025-26, two of them in the north, and one under the minimum."""
    path = tmp_path_factory.mktemp("antlers") / "book.duckdb"
    database.create(path)
    with database.writing(path) as connection:
        insert(connection, "record_book", BOOK)
        insert(connection, "minimum", MINIMUM)
        for code, name, district in AREAS:
            connection.execute("INSERT INTO area VALUES (?, ?, 'county', 'ZZ', ?, 'High')", [code, name, district])
        for number, told in enumerate(HEADS, start=1):
            changes = {key: value for key, value in told.items() if key not in ("beam", "spread")}
            head(connection, number, **changes)
            right, left = told["beam"]
            insert(
                connection,
                "measurement",
                {"revision_id": number, "line": "beam", "right_units": right, "left_units": left},
            )
            insert(
                connection,
                "measurement",
                {"revision_id": number, "line": "inside_spread", "single_units": told["spread"]},
            )
    return path


def antlers(book: Path, **asked: Any) -> Antlers:
    return read_antlers(book, TrendSettings("State Book", "whitetail-typical", date(2026, 11, 26), **asked))


def middles(found: Antlers, district: str | None) -> dict[str, tuple[int, float]]:
    rows = (
        found.by_season.filter(pl.col("district").eq_missing(pl.lit(district)))
        .select("measure", "entries", "middle")
        .rows()
    )
    return {measure: (entries, middle) for measure, entries, middle in rows}


def test_of_two_sides_the_mean_counts_and_points_are_of_both(book: Path) -> None:
    """By hand: beams of 178, 160.5 and 150 eighths; 11, 8 and 10 points; ages 4.5 and 3.5, one not recorded."""
    assert middles(antlers(book), None) == {
        "score": (3, 1137 / 8), "beam": (3, 160.5 / 8), "spread": (3, 136 / 8), "points": (3, 10.0), "age": (2, 4.0),
    }  # fmt: skip


def test_a_district_has_its_own_and_a_place_only_its_own(book: Path) -> None:
    assert middles(antlers(book), "North")["beam"] == (2, (178 + 160.5) / 16)
    south = antlers(book, district="South")
    assert (south.place, south.kept, middles(south, None)["beam"]) == ("South", 1, (1, 150 / 8))


def test_by_weapon_and_by_age(book: Path) -> None:
    found = antlers(book)
    beams = found.by_weapon.filter(measure="beam").select("weapon_class", "entries", "middle").rows()
    assert beams == [("bow", 1, 150 / 8), ("firearm", 2, (178 + 160.5) / 16)]
    assert found.by_age.filter(measure="beam").select("age_half_years", "middle").rows() == [
        (7, 160.5 / 8),
        (9, 178 / 8),
    ]


def test_where_entries_and_seasons_are_few_nothing_is_fitted(book: Path) -> None:
    found = antlers(book)
    assert found.tail.tail is None
    assert found.tail.one_in_thousand is None
    assert [trend.refused for trend in found.quantiles] == ["few-seasons"] * 3
