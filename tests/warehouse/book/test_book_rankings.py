"""Places, ties and what competes."""

from typing import Any

import duckdb
import numpy as np
import pytest

from tests.record_books import BOOK, MINIMUM, book_of, decided, head, insert
from warehouse.book import rankings
from warehouse.book.rankings import RankSettings

HEADS: tuple[dict[str, Any], ...] = (
    {"net": 1137, "gross": 1183},
    {"net": 1135, "gross": 1180, "weapon": "bow", "area_code": "07003", "taken_on": "2025-11-08"},
    {"net": 1135, "gross": 1183, "weapon": "bow", "area_code": "07005", "taken_on": "2025-11-07"},
    {"net": 1133, "gross": 1179, "weapon": "bow", "area_code": "07005", "taken_on": "2024-11-07", "season": "2024-25",
     "measured_on": "2025-02-01"},
)  # fmt: skip
BOOKS: tuple[dict[str, Any], ...] = (
    {}, {"book": "Gross first", "tie_rule": "gross"}, {"book": "Earlier first", "tie_rule": "taken"},
    {"book": "By gross", "score": "gross"}, {"book": "Bows", "weapons": ["bow"]},
)  # fmt: skip


def whole_book(connection: duckdb.DuckDBPyConnection) -> None:
    for book in BOOKS:
        insert(connection, "record_book", BOOK | book)
        minimum = {"book": book.get("book", "State Book"), "minimum_units": 1000 if book else 1134}
        insert(connection, "minimum", MINIMUM | minimum)
    for number, changes in enumerate(HEADS, start=1):
        head(connection, number, **{"deductions": changes["gross"] - changes["net"], **changes})


def ranked(connection: duckdb.DuckDBPyConnection, settings: RankSettings) -> list[tuple[Any, ...]]:
    return rankings.rank(connection, settings).select("place", "tied", "entry_id").rows()


@pytest.mark.parametrize(
    ("settings", "expected"),
    [
        (RankSettings(), [(1, False, 1), (2, True, 2), (2, True, 3), (4, False, 4)]),
        (RankSettings(book="State Book"), [(1, False, 1), (2, True, 2), (2, True, 3)]),
        (RankSettings(book="Gross first"), [(1, False, 1), (2, False, 3), (3, False, 2), (4, False, 4)]),
        (RankSettings(book="Earlier first"), [(1, False, 1), (2, False, 3), (3, False, 2), (4, False, 4)]),
        (RankSettings(book="By gross"), [(1, True, 1), (1, True, 3), (3, False, 2), (4, False, 4)]),
        (RankSettings(book="Bows"), [(1, True, 2), (1, True, 3), (3, False, 4)]),
        (RankSettings(weapons=("firearm",)), [(1, False, 1)]),
        (RankSettings(weapons=("bow",), places=1), [(1, True, 2), (1, True, 3)]),
        (RankSettings(first_season="2024-25", last_season="2024-25"), [(1, False, 4)]),
        (RankSettings(categories=("elk-typical",)), []),
        (RankSettings(score="gross"), [(1, True, 1), (1, True, 3), (3, False, 2), (4, False, 4)]),
        (RankSettings(list_by="area"), [(1, False, 1), (1, False, 2), (1, False, 3), (2, False, 4)]),
        (RankSettings(list_by="district"), [(1, False, 1), (1, True, 2), (1, True, 3), (3, False, 4)]),
        (RankSettings(areas=("07005",)), [(1, False, 3), (2, False, 4)]),
        (RankSettings(districts=("South",), places=1), [(1, True, 2), (1, True, 3)]),
    ],
)
def test_what_competes_and_at_which_place(settings: RankSettings, expected: list[tuple[Any, ...]]) -> None:
    with book_of() as connection:
        whole_book(connection)
        assert ranked(connection, settings) == expected


@pytest.mark.parametrize(("season", "expected"), [(None, [(1, False, 1), (2, False, 2)]), ("2025-26", [(1, False, 1), (2, False, 2)]),
                                                 ("2019-20", [(1, False, 2)])])  # fmt: skip
def test_a_list_over_several_rules_is_ranked_by_the_newest(season: str | None, expected: list[tuple[Any, ...]]) -> None:
    """Entry 1 has the higher gross and the lower net; its season's rule is gross, that of entry 2 was net."""
    rules = [
        BOOK | {"last_season": "2019-20"},
        BOOK | {"first_season": "2020-21", "score": "gross", "tie_rule": "taken"},
    ]
    with book_of(*(("record_book", rule) for rule in rules), ("minimum", MINIMUM)) as connection:
        head(connection, 1, net=1100, gross=1183, deductions=83)
        head(
            connection,
            2,
            net=1150,
            gross=1151,
            deductions=1,
            season="2019-20",
            taken_on="2019-11-08",
            measured_on="2020-02-01",
        )
        settings = RankSettings(book="State Book", first_season=season, last_season=season)
        ranked_by = rankings.rank(connection, settings)["ranked_by"].unique().to_list()
        found = ranked(connection, settings)
    if season == "2025-26":
        expected = [(1, False, 1)]
    assert (found, ranked_by) == (expected, ["net" if season == "2019-20" else "gross"])


def test_ranks_are_those_of_pandas() -> None:
    """Source: pandas.Series.rank(method="min"), competition ranking."""
    nets = np.random.default_rng(11).integers(1000, 1020, 60)
    with book_of() as connection:
        for number, net in enumerate(nets.tolist(), start=1):
            head(connection, number, net=net, gross=net, deductions=0)
        frame = rankings.rank(connection, RankSettings()).to_pandas()
    assert len(frame) == 60
    assert frame["place"].tolist() == frame["score"].rank(method="min", ascending=False).astype(int).tolist()
    assert frame["tied"].tolist() == frame["score"].duplicated(keep=False).tolist()


def test_heads_of_an_area_that_was_merged_stand_in_one_list() -> None:
    merged = {"old_code": "07005", "new_code": "07003", "changed_on": "2026-06-01", "kind": "merged"}
    with book_of(("area_change", merged)) as connection:
        whole_book(connection)
        found = rankings.rank(connection, RankSettings(areas=("07003",)))
    assert found.select("entry_id", "area", "area_code").rows() == [
        (2, "Brackwater", "07003"), (3, "Corrow", "07003"), (4, "Corrow", "07003"),
    ]  # fmt: skip


@pytest.mark.parametrize("book", [None, "State Book"])
def test_only_accepted_heads_compete_and_a_panels_score_counts(book: str | None) -> None:
    with book_of() as connection:
        whole_book(connection)
        decided(connection, "refuse", 1)
        decided(connection, "merge", 2, other_entry_id=3)
        decided(connection, "panel-result", 4, net=1200, gross=1208)
        found = rankings.rank(connection, RankSettings(book=book))
    assert found.select("place", "entry_id", "net", "gross", "score").rows() == [
        (1, 4, 1200, 1208, 1200), (2, 3, 1135, 1183, 1135),
    ]  # fmt: skip


def test_every_district_that_was_is_known() -> None:
    moved = {"area_code": "07001", "district": "West", "region": "Low", "first_season": "2025-26", "last_season": None}
    with book_of(("area_district", moved)) as connection:
        assert rankings.districts(connection) == ["North", "South", "West"]
